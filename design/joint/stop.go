package joint

import (
	"math"

	"plansheaf/design/layout"
	"plansheaf/design/memo"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
)

const (
	// ahead (mm) is how far beyond the tip, or the thread, obstacles are looked for:
	// no screw that would serve is longer.
	ahead = 40.0
	// rim is the share of the screw's radius at which rays are laid, so that one that
	// runs in a hole of just its own width does not graze the wall.
	rim = 0.95
	// spokes is how many rays are laid around the axis, near the rim and at a third of
	// it; none on the axis itself, where the tips of cones are.
	spokes = 8
	core   = 0.3
	// skew (radians) turns the spokes off the directions along which edges run.
	skew = 0.137
	// touching (mm) is how near two faces count as one.
	touching = 0.01
	// mostHeld bounds how many instances of an assembly are looked at for one joint.
	mostHeld = 64
)

// A course is a screw's way in one instance of its assembly, with what lies near it.
type course struct {
	seat, dir solid.Vec
	Near      []passed
	held      *reckon.Held
	bodies    []*body // of Near
}

// A passed is a body that a screw's way leads past or through, and along which stretches
// it is meant to.
type passed struct {
	Body *solid.Solid
	at   solid.Placement
	free [][2]float64
}

// A struck is where a screw meets a body, by their places among its courses.
type struck struct {
	At           float64
	Course, Body int
}

// A meeting is what a screw meets first: in its thread or behind it, and before it.
type meeting struct{ Stop, Struck *struck }

// A drill is the round that a screw takes up, along its way.
type drill struct {
	from, to float64
	thread   float64 // where the screw's thread begins
	r        float64
}

// stops finds what stands in the way of a screw, over all instances of its assembly:
// rays along the axis and around it through everything nearby.
func (m *Machine) stops(s *Stack) {
	d := drill{from: math.Min(0, s.Head), to: math.Max(s.Tip(), s.To) + ahead, thread: s.From, r: s.Thread.Major / 2}
	if s.Screw.Fastener != nil && s.Screw.Fastener.Length > 0 && s.Head > 0 {
		d.from = s.Head
	}
	courses := m.courses(s, d)
	key := make([]course, len(courses))
	for i, c := range courses {
		key[i] = course{seat: c.seat, dir: c.dir, Near: c.Near}
	}
	found := memo.Sure(m.Kept, "what a screw meets", func() meeting { return d.meets(courses) }, d, key)
	s.Stop, s.Struck = s.stopAt(courses, found.Stop), s.stopAt(courses, found.Struck)
}

// courses are a screw's ways in the instances of its assembly.
func (m *Machine) courses(s *Stack, d drill) []course {
	if m.tree == nil {
		m.tree = grow(m.bodies())
	}
	var out []course
	for i, h := range m.held[s.Joint] {
		at, placed := m.l.Placement(h.In)
		if !placed || i >= mostHeld {
			continue
		}
		c := course{seat: at.Point(s.Seat), dir: at.Direction(s.Dir), held: h}
		frame := solid.FrameAlong(c.seat, c.dir)
		box := solid.EmptyBox().Add(frame.Point(0, 0, d.from)).Add(frame.Point(0, 0, d.to)).Grow(d.r)
		m.tree.near(box, func(b *body) {
			if b.joint == s.Joint && b.in == h.In && b.place == s.Place {
				return
			}
			c.Near = append(c.Near, passed{b.solid, b.at, s.within(b, h)})
			c.bodies = append(c.bodies, b)
		})
		out = append(out, c)
	}
	return out
}

// meets finds what a screw meets first on its courses.
func (d drill) meets(courses []course) (found meeting) {
	for n, c := range courses {
		frame := solid.FrameAlong(c.seat, c.dir)
		for k, b := range c.Near {
			inverse := b.at.Inverse()
			way := inverse.Direction(c.dir)
			for i := 0; i < 2*spokes; i++ {
				sin, cos := math.Sincos(skew + float64(i)*2*math.Pi/spokes)
				out := d.r * rim
				if i >= spokes {
					out = d.r * core
				}
				x, y := out*cos, out*sin
				for _, at := range stretches(b.Body, inverse.Point(frame.Point(x, y, d.from)), way, d.from, d.to, b.free) {
					d.strike(&found, struck{at, n, k})
				}
			}
		}
	}
	return found
}

// strike notes that a screw meets a body.
func (d drill) strike(found *meeting, at struck) {
	into := &found.Stop
	if at.At < d.thread-touching {
		into = &found.Struck
	}
	if *into == nil || at.At < (*into).At-touching {
		*into = &at
	}
}

// within are the stretches of the screw along which it is meant to lie in a body: the
// layers of the joint that the body is.
func (s *Stack) within(b *body, h *reckon.Held) [][2]float64 {
	if b.joint != nil {
		return nil
	}
	var out [][2]float64
	for i := range s.Crossings {
		c := &s.Crossings[i]
		if inMachine(h, c) == b.in.Path {
			out = append(out, meant(c))
		}
	}
	return out
}

// inMachine is the path from the machine of the part that a layer is.
func inMachine(h *reckon.Held, c *layout.Crossing) string {
	if h.In.Path == "" {
		return c.Spot.Path
	}
	return h.In.Path + "." + c.Spot.Path
}

// Paths are the paths from the machine of the parts that a place goes through, for
// every instance of its assembly.
func (m *Machine) Paths(s *Stack) []string {
	var out []string
	for _, h := range m.held[s.Joint] {
		for i := range s.Crossings {
			out = append(out, inMachine(h, &s.Crossings[i]))
		}
	}
	return out
}

// meant is where a screw may lie in a layer: of a slot down to its floor.
func meant(c *layout.Crossing) [2]float64 {
	if c.Feature.Kind == solid.SlotFeature {
		return [2]float64{c.Enter, c.Enter + c.Feature.Depth}
	}
	return [2]float64{c.Enter, c.Leave}
}

// stretches are where the material along a ray begins, less the stretches that are
// free; none for a ray that runs too near an edge to be sure.
func stretches(body *solid.Solid, origin, way solid.Vec, from, to float64, free [][2]float64) []float64 {
	hits := body.Ray(origin, way)
	var out []float64
	inside := len(hits) > 0 && !hits[0].Enters
	start := from
	for _, h := range hits {
		if h.Unsure {
			return nil
		}
		at := from + h.T
		if h.Enters {
			start, inside = at, true
			continue
		}
		if inside && start < to {
			if begin, left := less(start, at, free); left && begin < to {
				out = append(out, begin)
			}
		}
		inside = false
	}
	return out
}

// less is where a stretch begins once the free ones are taken out of it; left is
// false where nothing of it remains. Free stretches are looked at in order.
func less(from, to float64, free [][2]float64) (begin float64, left bool) {
	for range free {
		for _, f := range free {
			if f[0] <= from+touching && f[1] > from { // what begins with it is taken away
				from = f[1]
			}
		}
	}
	return from, from < to-touching
}

// stopAt tells of what a screw meets.
func (s *Stack) stopAt(courses []course, at *struck) *Stop {
	if at == nil {
		return nil
	}
	h, b := courses[at.Course].held, courses[at.Course].bodies[at.Body]
	stop := Stop{At: at.At, Own: b.joint == nil && b.in.Path == inMachine(h, s.Last()), Say: b.says(), Where: h.In.Path}
	if b.joint != nil {
		stop.Owner, stop.Joint, stop.Place = b.in.Assembly, b.joint, b.place
	}
	return &stop
}
