package clash

import (
	"math"
	"slices"

	"plansheaf/design/memo"
	"plansheaf/design/solid"
	"plansheaf/design/solid/proximity"
)

// A course is how a body moves over a motion's range: displacements in the machine's
// axes from where it stands at rest, by share of the range, counted from rest.
type course struct {
	still bool
	even  bool // slides and turns evenly, as motion says of the whole range
	motion
	shares []float64         // of one that is not even
	moved  []solid.Placement // at these shares

	key   memo.Key
	keyed bool
}

// MemoKey stands for all of a course that does not change any more.
func (c *course) MemoKey() memo.Key {
	if !c.keyed {
		c.key, _ = memo.KeyOf(c.still, c.even, c.motion, c.shares, c.moved) // numbers alone
		c.keyed = true
	}
	return c.key
}

// motion is a turn about a line that slides, both by unit of share.
type motion struct {
	at, axis solid.Vec
	angle    float64
	slide    solid.Vec
}

const (
	// tiny is the share of a range in which no body turns by half a turn: 2000 turns
	// over the whole.
	tiny = 1.0 / 4096
	// fitting (mm) is how near an even motion must come to all samples.
	fitting = 1e-4
	// golden spreads samples so that they fall on all angles of a screw with many turns.
	golden = 0.6180339887498949
	// evenSamples is how many places beside the ends an even motion is tried at.
	evenSamples = 4
	// pieces is into how many pieces a range is cut for what does not move evenly.
	pieces = 48
)

// courseOf finds out how a body moves from its displacements at some shares, the first
// of them tiny or its negative; far are corners of a box around what moves.
func courseOf(shares []float64, moved []solid.Placement, far []solid.Vec) course {
	still := true
	for _, d := range moved {
		still = still && off(d, solid.Stay, far) < fitting
	}
	if still {
		return course{still: true, even: true}
	}
	if m, ok := evenly(shares, moved); ok {
		fits := true
		for i, u := range shares {
			fits = fits && off(m.over(u), moved[i], far) < fitting
		}
		if fits {
			return course{even: true, motion: m}
		}
	}
	return course{shares: shares, moved: moved}
}

// off is how far two displacements take some points apart at most.
func off(a, b solid.Placement, far []solid.Vec) float64 {
	most := 0.0
	for _, p := range far {
		most = math.Max(most, a.Point(p).Dist(b.Point(p)))
	}
	return most
}

// evenly is the even motion through displacements at some shares.
func evenly(shares []float64, moved []solid.Placement) (m motion, ok bool) {
	axis, angle := turnOf(moved[0])
	m.axis, m.angle = axis, angle/shares[0]
	last := len(shares) - 1
	if math.Abs(angle) < 1e-9 {
		m.axis, m.angle = solid.Vec{}, 0
		m.slide = moved[last].Move.Mul(1 / shares[last])
		return m, true
	}
	// Across the axis a displacement is (1 - e^(i u angle)) at + u slide, in complex
	// numbers: two shares give both.
	frame := solid.FrameAlong(solid.Vec{}, axis)
	across := func(i int) complex128 {
		return complex(moved[i].Move.Dot(frame.X), moved[i].Move.Dot(frame.Y))
	}
	turn := func(i int) complex128 {
		sin, cos := math.Sincos(shares[i] * m.angle)
		return 1 - complex(cos, sin)
	}
	best := 0.0
	var at, slide complex128
	for i := range shares {
		for k := range i {
			det := turn(i)*complex(shares[k], 0) - turn(k)*complex(shares[i], 0)
			if size := real(det)*real(det) + imag(det)*imag(det); size > best {
				best = size
				at = (across(i)*complex(shares[k], 0) - across(k)*complex(shares[i], 0)) / det
				slide = (turn(i)*across(k) - turn(k)*across(i)) / det
			}
		}
	}
	if best == 0 {
		return m, false
	}
	m.at = frame.X.Mul(real(at)).Add(frame.Y.Mul(imag(at)))
	m.slide = frame.X.Mul(real(slide)).Add(frame.Y.Mul(imag(slide))).Add(axis.Mul(moved[last].Move.Dot(axis) / shares[last]))
	return m, true
}

// turnOf is the axis and the angle, from 0 to half a turn, of a displacement.
func turnOf(p solid.Placement) (axis solid.Vec, angle float64) {
	x, y, z := p.Turn[0], p.Turn[1], p.Turn[2]
	v := solid.Vec{X: y.Z - z.Y, Y: z.X - x.Z, Z: x.Y - y.X} // twice the sine along the axis
	sin, cos := v.Len()/2, (x.X+y.Y+z.Z-1)/2
	angle = math.Atan2(sin, cos)
	if sin > 1e-12 && cos > -0.999999 {
		return v.Unit(), angle
	}
	if cos > 0 {
		return solid.Vec{Z: 1}, 0
	}
	// Half a turn: the longest image of an axis plus the axis.
	best := solid.Vec{}
	for k, e := range [3]solid.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
		if w := p.Turn[k].Add(e); w.Len() > best.Len() {
			best = w
		}
	}
	axis = best.Unit()
	if v.Dot(axis) < 0 {
		axis = axis.Mul(-1)
	}
	return axis, angle
}

// over is the displacement after a share.
func (m motion) over(u float64) solid.Placement {
	p := solid.Stay
	if m.angle != 0 {
		p = solid.TurnedAt(m.at, m.axis, m.angle*u)
	}
	return p.Then(solid.Moved(m.slide.Mul(u)))
}

// screwed is the motion through one displacement, by less than half a turn.
func screwed(d solid.Placement) proximity.Motion {
	axis, angle := turnOf(d)
	if angle < 1e-9 {
		return proximity.Motion{Slide: d.Move}
	}
	frame := solid.FrameAlong(solid.Vec{}, axis)
	sin, cos := math.Sincos(angle)
	at := complex(d.Move.Dot(frame.X), d.Move.Dot(frame.Y)) / (1 - complex(cos, sin))
	return proximity.Motion{
		At: frame.X.Mul(real(at)).Add(frame.Y.Mul(imag(at))), About: axis, Angle: angle, Slide: axis.Mul(d.Move.Dot(axis)),
	}
}

// over is the displacement at a share; of one that is not even between its samples as
// if it went on from the last one on one screw.
func (c *course) over(u float64) solid.Placement {
	switch {
	case c.still:
		return solid.Stay
	case c.even:
		return c.motion.over(u)
	}
	before, after := -1, -1
	for i, s := range c.shares {
		if s <= u && (before < 0 || s > c.shares[before]) {
			before = i
		}
		if s >= u && (after < 0 || s < c.shares[after]) {
			after = i
		}
	}
	switch {
	case before < 0:
		return c.moved[after]
	case after < 0 || c.shares[after] == c.shares[before]:
		return c.moved[before]
	}
	t := (u - c.shares[before]) / (c.shares[after] - c.shares[before])
	m := screwed(c.moved[before].Inverse().Then(c.moved[after]))
	return m.Place(c.moved[before], t)
}

// inOrder are the shares at which one that is not even was sampled, in order.
func (c *course) inOrder() []float64 {
	out := slices.Clone(c.shares)
	slices.Sort(out)
	return out
}

// seenFrom is the course as it is after a further displacement of all that moves on it.
func (c *course) seenFrom(d solid.Placement) *course {
	if c.still || d == solid.Stay {
		return c
	}
	out := &course{even: c.even, shares: c.shares}
	if c.even {
		out.motion = motion{at: d.Point(c.at), axis: d.Direction(c.axis), angle: c.angle, slide: d.Direction(c.slide)}
		return out
	}
	back := d.Inverse()
	for _, m := range c.moved {
		out.moved = append(out.moved, back.Then(m).Then(d))
	}
	return out
}

// speed bounds how fast what lies in a box moves on a course, mm over the whole range.
func (c *course) speed(box solid.Box) float64 {
	far := box.Corners()
	switch {
	case c.still:
		return 0
	case c.even:
		r := 0.0
		for _, p := range far {
			d := p.Sub(c.at)
			r = math.Max(r, d.Sub(c.axis.Mul(d.Dot(c.axis))).Len())
		}
		return c.slide.Len() + math.Abs(c.angle)*r
	}
	// Between samples places go round by little more than the straight way.
	most := 0.0
	shares := c.inOrder()
	for i := 1; i < len(shares); i++ {
		if long := shares[i] - shares[i-1]; long > 0 {
			most = math.Max(most, off(c.over(shares[i-1]), c.over(shares[i]), far[:])*roundabout/long)
		}
	}
	return most
}

// roundabout is by how much the arc of a turn of mostTurn and more is longer than its
// chord.
const roundabout = 1.02

// slides reports whether all that a course does is to slide evenly, or nothing.
func (c *course) slides() bool { return c.still || c.even && c.angle == 0 }

// A way is how one body moves past another that stands still, from one share of the
// range, counted from rest, to another.
type way struct {
	start     float64
	stretches []proximity.Motion
	shares    []float64 // at which the stretches end
}

// most turn in a stretch of a way that is put together from pieces.
const mostTurn = math.Pi / 18

// past is how a body on one course moves past another on the other one, between shares.
func past(a, b *course, from, to float64) way {
	if a.even && b.slides() {
		slide := a.slide.Sub(b.slide)
		return way{from, []proximity.Motion{{Slide: slide.Mul(to - from), At: a.at.Add(slide.Mul(from)), About: a.axis, Angle: a.angle * (to - from)}}, []float64{to}}
	}
	n := pieces
	if a.even && b.even {
		n = int(math.Min(1000, 1+(math.Abs(a.angle)+math.Abs(b.angle))*math.Abs(to-from)/mostTurn))
	}
	w := way{start: from}
	displaced := func(u float64) solid.Placement { return a.over(u).Then(b.over(u).Inverse()) }
	at := displaced(from)
	for k := 1; k <= n; k++ {
		u := from + (to-from)*float64(k)/float64(n)
		next := displaced(u)
		w.stretches = append(w.stretches, screwed(at.Inverse().Then(next)))
		w.shares = append(w.shares, u)
		at = next
	}
	return w
}

// share is the share of the range at part t of a stretch.
func (w *way) share(stretch int, t float64) float64 {
	from := w.start
	if stretch > 0 {
		from = w.shares[stretch-1]
	}
	return from + t*(w.shares[stretch]-from)
}
