package layout

import (
	"math"

	"plansheaf/design/solid"
)

// A wheel is a pulley seen along the belt's axis, mm. The belt's pitch line runs at
// R; Back tells that the wheel presses on the belt from outside of the loop.
type wheel struct {
	At   solid.Vec2
	R    float64
	Back bool
}

// A loop is the pitch line of a belt around wheels, anticlockwise: at wheel i it
// runs an arc from In[i] to Out[i], then straight to In of the next.
type loop struct {
	wheels  []wheel
	In, Out []solid.Vec2
	Wrap    []float64 // radians
	Length  float64   // mm
}

// around lays a loop around wheels that follow each other anticlockwise. bad is
// -1; or the first wheel whose straight run to the next does not exist, since the two
// lie within each other (nested), or the wheel that the belt does not touch.
func around(wheels []wheel) (l loop, bad int, nested bool) {
	n := len(wheels)
	l = loop{wheels: wheels, In: make([]solid.Vec2, n), Out: make([]solid.Vec2, n), Wrap: make([]float64, n)}
	ways := make([]solid.Vec2, n)
	for i, w := range wheels {
		j := (i + 1) % n
		way, run, ok := tangent(w, wheels[j])
		if !ok {
			return l, i, true
		}
		ways[i] = way
		l.Out[i], l.In[j] = w.touch(way), wheels[j].touch(way)
		l.Length += run
	}
	total := 0.0
	for i, w := range wheels {
		from, to := ways[(i+n-1)%n], ways[i]
		angle := w.sense() * math.Atan2(from.X*to.Y-from.Y*to.X, from.X*to.X+from.Y*to.Y)
		if angle < -sameWay {
			angle += 2 * math.Pi
		}
		l.Wrap[i] = math.Max(0, angle)
		total += w.sense() * l.Wrap[i]
		l.Length += w.R * l.Wrap[i]
	}
	// A closed line that does not cross itself turns round once. More says that at
	// some wheel it would have to run on beyond the place where it leaves.
	if math.Abs(total-2*math.Pi) > 1e-6 {
		bad = 0
		for i := range l.Wrap {
			if l.Wrap[i] > l.Wrap[bad] {
				bad = i
			}
		}
		return l, bad, false
	}
	return l, -1, false
}

// sameWay (radians) is how far two directions may differ by rounding.
const sameWay = 1e-9

// sense is 1 for a wheel that the belt runs round anticlockwise, -1 for one on its
// back.
func (w wheel) sense() float64 {
	if w.Back {
		return -1
	}
	return 1
}

// touch is where a straight run in the direction way touches the wheel.
func (w wheel) touch(way solid.Vec2) solid.Vec2 {
	k := w.sense() * w.R
	return solid.Vec2{X: w.At.X + k*way.Y, Y: w.At.Y - k*way.X}
}

// tangent is the straight run from one wheel to the next: its direction, of length
// one, and its length. ok is false where one lies within the other.
func tangent(v, w wheel) (way solid.Vec2, run float64, ok bool) {
	dx, dy := w.At.X-v.At.X, w.At.Y-v.At.Y
	k := w.sense()*w.R - v.sense()*v.R
	square := dx*dx + dy*dy
	if !(square > k*k) || square < solid.MinSize*solid.MinSize {
		return way, 0, false
	}
	run = math.Sqrt(square - k*k)
	// The way between the middles, turned by the angle whose tangent is k / run.
	return solid.Vec2{X: (dx*run + dy*k) / square, Y: (dy*run - dx*k) / square}, run, true
}

// pull is the direction in which a wheel must move for the loop to become longer,
// and by how much it does for each mm.
func (l loop) pull(i int) (way solid.Vec2, gain float64) {
	n := len(l.wheels)
	before, _, okBefore := tangent(l.wheels[(i+n-1)%n], l.wheels[i])
	after, _, okAfter := tangent(l.wheels[i], l.wheels[(i+1)%n])
	if !okBefore || !okAfter {
		return way, 0
	}
	way = solid.Vec2{X: before.X - after.X, Y: before.Y - after.Y}
	gain = math.Hypot(way.X, way.Y)
	if gain > 0 {
		way.X, way.Y = way.X/gain, way.Y/gain
	}
	return way, gain
}

// move is how far wheel i must go for the loop to have a length, along pull; ok is
// false where it cannot.
func (l loop) move(i int, length float64) (by float64, way solid.Vec2, ok bool) {
	way, gain := l.pull(i)
	if gain < 1e-6 {
		return 0, way, false
	}
	wheels := append([]wheel(nil), l.wheels...)
	now := l
	for step := 0; step < 50; step++ {
		miss := length - now.Length
		if math.Abs(miss) < 1e-6 {
			return by, way, true
		}
		_, gain = now.pull(i)
		if gain < 1e-6 {
			return by, way, false
		}
		by += miss / gain
		wheels[i].At = solid.Vec2{X: l.wheels[i].At.X + by*way.X, Y: l.wheels[i].At.Y + by*way.Y}
		var bad int
		if now, bad, _ = around(wheels); bad >= 0 {
			return by, way, false
		}
	}
	return by, way, false
}

// outline is the loop moved to the outside by d: of a belt's back with a positive d,
// of its inside with a negative one. Wheels that the belt only touches have no arc.
// ok is false where an arc would vanish.
func (l loop) outline(d float64) (o solid.Outline, low solid.Vec2, ok bool) {
	n := len(l.wheels)
	low = solid.Vec2{X: math.Inf(1), Y: math.Inf(1)}
	in, out := make([]solid.Vec2, n), make([]solid.Vec2, n)
	for i, w := range l.wheels {
		r := w.R + w.sense()*d
		if r < solid.MinSize {
			return nil, low, false
		}
		at := func(p solid.Vec2) solid.Vec2 {
			return solid.Vec2{X: w.At.X + (p.X-w.At.X)*r/w.R, Y: w.At.Y + (p.Y-w.At.Y)*r/w.R}
		}
		in[i], out[i] = at(l.In[i]), at(l.Out[i])
	}
	for i, w := range l.wheels {
		if l.Wrap[i]*w.R > solid.MinSize {
			o = append(o, solid.Span{From: in[i], To: out[i], Arc: true, Centre: w.At, Clockwise: w.Back})
		} else {
			out[i] = in[i] // too short for an arc: the runs meet in one point
		}
		o = append(o, solid.Span{From: out[i], To: in[(i+1)%n]})
		r := math.Hypot(in[i].X-w.At.X, in[i].Y-w.At.Y)
		low.X, low.Y = math.Min(low.X, in[i].X), math.Min(low.Y, in[i].Y)
		low.X, low.Y = math.Min(low.X, out[i].X), math.Min(low.Y, out[i].Y)
		// The arc may bulge further left or down than its ends.
		if l.passes(i, solid.Vec2{X: -1}) {
			low.X = math.Min(low.X, w.At.X-r)
		}
		if l.passes(i, solid.Vec2{Y: -1}) {
			low.Y = math.Min(low.Y, w.At.Y-r)
		}
	}
	return o, low, true
}

// passes tells whether the arc at wheel i passes the point that lies in a direction
// from the wheel's middle.
func (l loop) passes(i int, dir solid.Vec2) bool {
	w := l.wheels[i]
	from := math.Atan2(l.In[i].Y-w.At.Y, l.In[i].X-w.At.X)
	angle := w.sense() * (math.Atan2(dir.Y, dir.X) - from)
	angle = math.Mod(angle+4*math.Pi, 2*math.Pi)
	return angle <= l.Wrap[i]
}
