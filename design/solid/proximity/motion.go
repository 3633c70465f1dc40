package proximity

import (
	"math"

	"plansheaf/design/solid"
)

// Motion is a stretch of a way: a straight slide together with a turn, both at an
// even rate. Either may be nothing.
type Motion struct {
	// Slide is the whole slide, mm, in the world.
	Slide solid.Vec
	// At and About are the line in the world, as the stretch begins, about which
	// the body turns by Angle radians, right-handed. The line slides along.
	At, About solid.Vec
	Angle     float64
}

// Place returns the placement at share t of the stretch, 0 to 1, of a body that
// begins it at from.
func (m Motion) Place(from solid.Placement, t float64) solid.Placement {
	if m.Angle != 0 && m.About.Len() > 0 {
		from = from.Then(solid.TurnedAt(m.At, m.About, m.Angle*t))
	}
	return from.Then(solid.Moved(m.Slide.Mul(t)))
}

// turns tells whether the stretch has a turn.
func (m Motion) turns() bool { return m.Angle != 0 && m.About.Len() > 0 }

// Hit is where a body runs into another on its way.
type Hit struct {
	// Motion is the index of the stretch, T the share of it, 0 to 1, up to which
	// the way is free.
	Motion int
	T      float64
	// At is where they meet, in the world.
	At solid.Vec
	// Unsure tells that the search was given up here: the body creeps along the
	// other too closely for a way this long.
	Unsure bool
}

// leastDepth (mm) bounds the depth of overlap that a sweep tells from touching.
const leastDepth = 0.01

// How a depth is shared out: the moving body is made smaller by a third of it, or
// more at corners, and triangles may stray from faces by a twelfth on either side.
// A place of the other body deeper than the depth in the moving one is thus still
// in the smaller one; where the bodies only touch, a sixth remains between.
const (
	shrinkShare = 1.0 / 3
	cornerShare = 0.8
	strayShare  = 1.0 / 12
	meetShare   = 1.0 / 100 // nearer than this counts as met
)

// mostSteps is after how many steps along one stretch a sweep gives up.
const mostSteps = 50_000

// Sweep moves a body along a way, each stretch from where the one before ends,
// and returns where it first runs into another body, which stands still.
//
// It never misses an overlap in which a place of the one lies deeper than depth
// (mm) in the other, for however short a time; and it does not find bodies that
// touch, slide along each other or overlap by less than a tenth of that. In
// between it may find them or not. Depth is held to 0.01 mm at least; where
// rounds are so large that their triangles cannot follow them to a twelfth of it,
// to twelve times what they stray. A wall of the moving body thinner than depth
// may be found where it only touches.
//
// From each place it steps as far as no pair of triangles can meet: their
// distance over the rate at which they approach (conservative advancement, as in
// Mirtich, Impulse-based Dynamic Simulation of Rigid Body Systems, 1996).
func Sweep(a *Body, from solid.Placement, way []Motion, b *Body, pb solid.Placement, depth float64) (Hit, bool) {
	w, ok := newSweep(a, b, pb, depth)
	if !ok {
		return Hit{}, false
	}
	if p, in := w.nested(from); in {
		return Hit{At: p}, true
	}
	return w.through(from, way)
}

// through goes along all stretches of a way.
func (w *sweep) through(from solid.Placement, way []Motion) (Hit, bool) {
	for i, m := range way {
		if t, p, state := w.along(m, from, 1); state != free {
			return Hit{Motion: i, T: t, At: p, Unsure: state == unsure}, true
		}
		from = m.Place(from, 1)
	}
	return Hit{}, false
}

// newSweep prepares a sweep; ok is false where one of the bodies is nothing.
func newSweep(a, b *Body, pb solid.Placement, depth float64) (w *sweep, ok bool) {
	if len(a.nodes) == 0 || len(b.nodes) == 0 {
		return nil, false
	}
	depth = max(depth, leastDepth)
	fine := depth * strayShare
	other := b.finer(fine)
	depth = max(depth, max(a.finer(fine).stray, other.stray)/strayShare)
	small := a.smaller(fine, depth*shrinkShare, depth*cornerShare)
	near := depth * meetShare
	return &sweep{a: small, b: other, pb: pb, near: near, keep: near / 2}, true
}

// sweep is the state of a sweep.
type sweep struct {
	a, b *tree
	pb   solid.Placement
	near float64 // triangles no further apart than this have met
	keep float64 // steps end where they may come as near as this, less than near
}

type state int

const (
	free state = iota
	met
	unsure
)

// along goes along a stretch up to a share of it and returns up to which share it is free.
func (w *sweep) along(m Motion, from solid.Placement, upTo float64) (float64, solid.Vec, state) {
	// The line of the turn in the body's own axes: there it stays.
	back := from.Inverse()
	r := rates{}
	if m.turns() {
		r.at, r.turn = back.Point(m.At), back.Direction(m.About).Unit().Mul(m.Angle)
	}
	r.prepare(w.a)
	t := 0.0
	for range mostSteps {
		place := m.Place(from, t)
		undo := place.Inverse()
		s := newSearch(w.a, w.b, w.pb.Then(undo))
		step, p, touch := s.free(undo.Direction(m.Slide), &r, upTo-t, w.near, w.keep)
		if touch {
			return t, place.Point(p), met
		}
		if t += step; t >= upTo {
			return upTo, solid.Vec{}, free
		}
	}
	return t, m.Place(from, t).Point(w.a.triangles[0][0]), unsure
}

// rates are how fast places of the moving body go round, in its own axes.
type rates struct {
	at   solid.Vec // on the line of the turn
	turn solid.Vec // along it, as long as the angle in radians
	// nodes and triangles are pulled towards the line at most so much, mm over the
	// square of the stretch.
	nodes, triangles []float64
}

func (r *rates) prepare(t *tree) {
	r.nodes, r.triangles = make([]float64, len(t.nodes)), make([]float64, len(t.triangles))
	angle := r.turn.Len()
	for i, c := range t.triangles {
		for _, p := range c {
			r.triangles[i] = max(r.triangles[i], r.round(p).Len()*angle)
		}
	}
	for i := len(t.nodes) - 1; i >= 0; i-- { // children come after their parents
		n := &t.nodes[i]
		if n.other != 0 {
			r.nodes[i] = max(r.nodes[i+1], r.nodes[n.other])
			continue
		}
		for k := n.first; k < n.first+n.count; k++ {
			r.nodes[i] = max(r.nodes[i], r.triangles[k])
		}
	}
}

// round is how a place goes round, mm over the stretch.
func (r *rates) round(p solid.Vec) solid.Vec { return r.turn.Cross(p.Sub(r.at)) }

// free returns the share of the stretch, up to most, for which no triangles can
// meet, with the body sliding by slide (in its own axes) over the whole of it; or
// the place where two are no further apart than near. Up to there none come nearer than
// keep.
//
// Two triangles are apart along the line between their nearest points, two boxes
// along an axis. The slide brings them together along it at a rate that does not
// change; the turn, at the rate of the corner that goes that way fastest, which
// itself changes no faster than the corner is pulled towards the line of the turn.
func (s *search) free(slide solid.Vec, r *rates, most, near, keep float64) (step float64, at solid.Vec, touch bool) {
	step = most
	bound := func(i, j int) float64 {
		n := &s.a.nodes[i]
		gap, way := s.gaps(n, &s.b.nodes[j])
		goes := slide.Add(r.round(n.centre))
		// How much faster than the centre a corner of the box may go, by axis.
		t, h := r.turn, n.half
		more := solid.Vec{
			X: math.Abs(t.Y)*h.Z + math.Abs(t.Z)*h.Y,
			Y: math.Abs(t.Z)*h.X + math.Abs(t.X)*h.Z,
			Z: math.Abs(t.X)*h.Y + math.Abs(t.Y)*h.X,
		}
		least := 0.0
		for _, k := range [3][4]float64{{gap.X, way.X, goes.X, more.X}, {gap.Y, way.Y, goes.Y, more.Y}, {gap.Z, way.Z, goes.Z, more.Z}} {
			// Boxes that overlap along the axis say nothing.
			if k[0] > near {
				least = max(least, until(k[0]-near, math.Copysign(1, k[1])*k[2]+k[3], r.nodes[i]))
			}
		}
		return least
	}
	limit := func() float64 {
		if touch {
			return -1
		}
		return step
	}
	s.walk(bound, limit, func(m, n *node) {
		for j := n.first; j < n.first+n.count && !touch; j++ {
			u, normal := s.b.triangles[j].placed(s.rel), s.rel.Direction(s.b.normals[j])
			for i := m.first; i < m.first+m.count; i++ {
				t := &s.a.triangles[i]
				lasts := func(gap float64, way solid.Vec) float64 {
					rate := math.Inf(-1)
					for _, c := range t {
						rate = max(rate, r.round(c).Dot(way))
					}
					return until(gap, slide.Dot(way)+rate, r.triangles[i])
				}
				// Planes between the two may do to see that they meet no sooner.
				x, y := aside(t[0], s.a.normals[i], &u), aside(u[0], normal, t)
				if math.Abs(x) > near && lasts(math.Abs(x)-near, s.a.normals[i].Mul(math.Copysign(1, x))) >= step ||
					math.Abs(y) > near && lasts(math.Abs(y)-near, normal.Mul(math.Copysign(1, -y))) >= step {
					continue
				}
				d, p, q := apart(t, &u)
				if d <= near {
					at, touch = p, true
					return
				}
				step = min(step, lasts(d-keep, q.Sub(p).Mul(1/d)))
			}
		}
	})
	return step, at, touch
}

// until returns the least share of a stretch in which a gap may close that closes
// at a rate, mm over the stretch, which itself grows at no more than pull.
func until(gap, rate, pull float64) float64 {
	if pull > 0 {
		root := math.Sqrt(rate*rate + 2*pull*gap)
		if rate > 0 {
			return 2 * gap / (rate + root) // no difference of near equal numbers
		}
		return (root - rate) / pull
	}
	if rate <= 0 {
		return math.Inf(1)
	}
	return gap / rate
}

// nested tells whether one body lies within the other where the way begins.
func (w *sweep) nested(from solid.Placement) (solid.Vec, bool) {
	rel := w.pb.Then(from.Inverse())
	back := rel.Inverse()
	for _, p := range w.b.shells() {
		if q := rel.Point(p); w.a.encloses(q) {
			return from.Point(q), true
		}
	}
	for _, p := range w.a.shells() {
		if w.b.encloses(back.Point(p)) {
			return from.Point(p), true
		}
	}
	return solid.Vec{}, false
}
