package clash

import (
	"math"

	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
)

// A Guided is a place of a joint at which one part runs on or slides in another, and what
// the motions make of it.
type Guided struct {
	Held      reckon.Held
	Instances int // of its assembly
	Mating    layout.Mating
	// Inner is the shorter of the two, as the nut on its screw or the bush on its rod,
	// Outer the other one; their lengths along the axis, mm.
	Inner, Outer         layout.Mate
	InnerLong, OuterLong float64
	// Off is by how much the inner one hangs over an end of the outer one where it does so
	// most, mm; 0 where it never does. Stands is where the motions then stand, by id; empty
	// at rest.
	Off    float64
	Stands map[string]quantity.Value
	Turns  []Turned
}

// A Turned is a motion that turns a running thread and moves its nut along by other than
// the lead.
type Turned struct {
	Motion *plan.Motion
	To     quantity.Value
	Turns  float64 // of the nut against the screw, from rest to that
	Lead   float64 // mm
	Hand   int     // -1 for a left-hand thread, else 1
	Along  float64 // how far the nut moves along the screw, mm
	Wrong  bool    // it moves as far as it should, and the other way
}

const (
	// overhang (mm) is by how much a nut may hang over: the chamfer where a thread begins.
	overhang = 0.5
	// trueTo is the share by which a nut may move farther or less far than lead and turns
	// say, beside trueWithin (mm): roundings of a plan's numbers.
	trueTo, trueWithin = 1e-3, 0.01
	// straight (radians) is the tilt up to which two axes count as one.
	straight = 0.01
)

// guides follows running threads and sliding fits along the motions.
func (s *search) guides() {
	byPath := map[string]int{}
	for i, b := range s.bodies {
		if _, known := byPath[b.Path]; b.Joint == nil && !known {
			byPath[b.Path] = i
		}
	}
	for _, h := range s.r.Tally().Joints {
		kind := h.Joint.Kind.Text
		at, placed := s.l.Placement(h.In)
		if kind != plan.Run && kind != plan.Slide || !placed || !s.leads(h.In) {
			continue
		}
		for _, mate := range s.m.Matings(h.Assembly, h.Joint) {
			i, known := byPath[below(h.In, mate.Mine.Spot.Path)]
			k, too := byPath[below(h.In, mate.Theirs.Spot.Path)]
			if known && too {
				s.guide(h, mate, at, i, k)
			}
		}
	}
}

// guide follows one place; i and k are the bodies of its two sides.
func (s *search) guide(h reckon.Held, mate layout.Mating, at solid.Placement, i, k int) {
	g := Guided{Held: h, Instances: s.count[h.Assembly], Mating: mate, Inner: mate.Theirs, Outer: mate.Mine}
	in, ok := extent(g.Inner.Feature)
	out, too := extent(g.Outer.Feature)
	if !ok || !too || mate.Tilt > straight {
		return
	}
	i, k = k, i // the inner one's body, the outer one's
	if in.To-in.From > out.To-out.From {
		g.Inner, g.Outer, in, out, i, k = g.Outer, g.Inner, out, in, k, i
	}
	g.InnerLong, g.OuterLong = in.To-in.From, out.To-out.From
	axis := at.Direction(g.Outer.Feature.Dir)
	// Where the inner one lies along the outer one's axis, counted from that one's place.
	start := at.Point(g.Inner.Feature.At).Sub(at.Point(g.Outer.Feature.At)).Dot(axis)
	if at.Direction(g.Inner.Feature.Dir).Dot(axis) < 0 {
		in = stretch{-in.To, -in.From}
	}
	low, high := reach{}, reach{}
	for _, j := range s.journeys {
		l, m := j.slid(i, k, at.Point(g.Inner.Feature.At), axis)
		low.add(j, l)
		high.add(j, m)
		if h.Joint.Kind.Text == plan.Run {
			g.turned(s, j, i, k, axis)
		}
	}
	if off := out.From - (in.From + start + low.by); off > g.Off {
		g.Off, g.Stands = off, low.stands
	}
	if off := in.To + start + high.by - out.To; off > g.Off {
		g.Off, g.Stands = off, high.stands
	}
	if g.Off <= overhang || h.Joint.Kind.Text == plan.Slide && !g.leaves() {
		g.Off, g.Stands = 0, nil
	}
	if g.Off > 0 || len(g.Turns) > 0 {
		s.report.Guided = append(s.report.Guided, g)
	}
}

// bushShare is the share of a shaft's length up to which what slides on it is taken for a
// bush, which stays on it whole. Two tubes in each other are not. Common practice, no
// source.
const bushShare = 0.5

// leaves reports whether what a motion does to a sliding fit is a fault: a bush that runs
// over the end of its rod, or anything that comes off it.
func (g *Guided) leaves() bool {
	return len(g.Stands) > 0 && (g.InnerLong <= bushShare*g.OuterLong || g.Off >= g.InnerLong)
}

// extent is how far a feature reaches along its direction from its place, mm; false for
// what has no length.
func extent(f solid.Feature) (stretch, bool) {
	switch {
	case f.Depth <= 0 || f.Dir == (solid.Vec{}):
		return stretch{}, false
	case f.Kind == solid.HoleFeature:
		return stretch{0, f.Depth}, true
	case f.Kind == solid.AxisFeature, f.Kind == solid.BodyFeature, f.Kind == solid.NamedShape:
		return stretch{-f.Depth / 2, f.Depth / 2}, true
	}
	return stretch{}, false
}

// A reach is how far motions take one part along another's axis, mm, and where they then
// stand.
type reach struct {
	by     float64
	stands map[string]quantity.Value
}

// A slip is how far one motion takes a part along an axis, and where it then stands.
type slip struct{ by, share float64 }

func (r *reach) add(j *journey, s slip) {
	if math.Abs(s.by) < Contact {
		return
	}
	if r.stands == nil {
		r.stands = map[string]quantity.Value{}
	}
	r.by += s.by
	r.stands[j.m.ID.Text] = j.m.at(s.share)
}

// slid is how far a motion takes a place of one body along an axis of another at most,
// back and forth.
func (j *journey) slid(body, on int, at, axis solid.Vec) (low, high slip) {
	a, b := j.groups[j.of[body]], j.groups[j.of[on]]
	if a == b {
		return low, high
	}
	shares := []float64{-j.m.rest, 1 - j.m.rest}
	for _, c := range []*course{a, b} {
		if !c.even {
			shares = append(shares, c.inOrder()...)
		}
	}
	for _, u := range shares {
		moved := b.over(u).Inverse().Point(a.over(u).Point(at))
		by := moved.Sub(at).Dot(axis)
		if by < low.by {
			low = slip{by, u}
		}
		if by > high.by {
			high = slip{by, u}
		}
	}
	return low, high
}

// turned compares how far a motion turns a nut on its screw with how far it moves it.
func (g *Guided) turned(s *search, j *journey, inner, outer int, axis solid.Vec) {
	a, b := j.groups[j.of[inner]], j.groups[j.of[outer]]
	lead := s.m.LeadOf(g.Mating.Mine)
	if lead <= 0 {
		lead = s.m.LeadOf(g.Mating.Theirs)
	}
	if a == b || !a.even || !b.even || lead <= 0 {
		return
	}
	for _, c := range []*course{a, b} {
		if c.angle != 0 && math.Abs(c.axis.Dot(axis)) < math.Cos(straight) {
			return // it swings as a whole
		}
	}
	share := 1 - j.m.rest
	if share == 0 {
		share = -j.m.rest
	}
	turns := (a.angle*a.axis.Dot(axis) - b.angle*b.axis.Dot(axis)) * share / (2 * math.Pi)
	along := a.slide.Sub(b.slide).Dot(axis) * share
	hand := 1
	if s.m.Hand(g.Mating.Mine) < 0 || s.m.Hand(g.Mating.Theirs) < 0 {
		hand = -1
	}
	advance := turns * lead * float64(hand) // of a thread that turns so
	within := trueWithin + trueTo*math.Abs(along)
	if math.Abs(advance-along) <= within {
		return
	}
	g.Turns = append(g.Turns, Turned{Motion: j.m.Motion, To: j.m.at(share), Turns: turns, Lead: lead, Hand: hand, Along: along, Wrong: math.Abs(advance+along) <= within})
}
