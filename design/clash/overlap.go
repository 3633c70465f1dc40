package clash

import (
	"cmp"
	"math"
	"slices"

	"plansheaf/design/joint"
	"plansheaf/design/memo"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
	"plansheaf/design/solid/proximity"
)

// overlaps finds what overlaps with every motion at rest.
func (s *search) overlaps() {
	boxes := make([]solid.Box, len(s.bodies))
	for i, b := range s.bodies {
		boxes[i] = b.box
	}
	eachNear(boxes, Near, func(i, k int) { s.pairs = append(s.pairs, [2]int{i, k}) })
	slices.SortFunc(s.pairs, func(a, b [2]int) int { return cmp.Or(a[0]-b[0], a[1]-b[1]) })
	var near [][2]*Body
	for _, pair := range s.pairs {
		if a, b := s.bodies[pair[0]], s.bodies[pair[1]]; !s.kin.met(a, b) {
			near = append(near, [2]*Body{a, b})
		}
	}
	s.store.meetAll(near)
	used := map[*plan.Overlap]bool{}
	for _, pair := range s.pairs {
		a, b := s.bodies[pair[0]], s.bodies[pair[1]]
		if s.kin.met(a, b) {
			continue
		}
		meets := s.store.meet(a, b)
		if meets.Clear {
			continue
		}
		s.meets[pair] = true
		in := common(a, b)
		says := s.kin.statedOf(a, b)
		if says != nil {
			used[says.says] = true
		}
		if !s.leads(in) {
			continue
		}
		o := Overlap{A: a, B: b, In: in, Instances: s.count[in.Assembly], Depth: meets.Depth, Volume: meets.Volume, At: a.At.Point(meets.At)}
		if says != nil {
			o.Stated, o.Allowed = says.says, says.by
		}
		if !s.allowed(&o) && !s.struck(a, b, o.At) && !s.struck(b, a, o.At) {
			s.report.Overlaps = append(s.report.Overlaps, o)
		}
	}
	seen := map[*plan.Overlap]bool{}
	for _, says := range s.kin.stated {
		if !used[says.says] && !seen[says.says] && s.present(says.theirs) {
			seen[says.says] = true
			s.report.Unneeded = append(s.report.Unneeded, Unneeded{says.assembly, says.use, says.says})
		}
	}
}

// present reports whether the case has a body at or inside of a path.
func (s *search) present(path string) bool {
	for _, b := range s.bodies {
		if within(b.Path, path) {
			return true
		}
	}
	return false
}

// leads reports whether an assembly's instance is the one that is looked at for all of
// its assembly.
func (s *search) leads(in *reckon.Instance) bool {
	if s.first == nil {
		s.first, s.count = map[*plan.Assembly]*reckon.Instance{}, map[*plan.Assembly]int{}
		t := s.r.Tally()
		for _, one := range append([]*reckon.Instance{t.Root}, t.Instances...) {
			if one == nil || one.Assembly == nil {
				continue
			}
			if s.first[one.Assembly] == nil {
				s.first[one.Assembly] = one
			}
			s.count[one.Assembly]++
		}
	}
	return in != nil && s.first[in.Assembly] == in
}

// allowed reports whether a fit between two bodies, or the plan, lets them overlap as
// deep as they do.
func (s *search) allowed(o *Overlap) bool {
	fits := s.kin.fitsOf(o.A, o.B)
	for _, f := range fits {
		if deep := f.deep + f.off; o.Fit == "" || deep > o.Allowed {
			o.Allowed, o.Fit = math.Max(o.Allowed, deep), f.kind
		}
	}
	if o.Depth > o.Allowed*(1+measured)+Contact {
		return false
	}
	// Between two parts that sit in each other once, what they overlap by lies all
	// around the one axis.
	return len(fits) != 1 || o.Stated != nil || fits[0].axis == (solid.Vec{}) || s.holds(fits[0], o.A, o.B)
}

// measured is the share by which a depth may come out too large.
const measured = 0.05

// holds reports whether what two bodies fill both lies within the fit.
func (s *search) holds(f fit, a, b *Body) bool {
	frame := solid.FrameAlong(f.at, f.axis)
	into := solid.Placement{Turn: [3]solid.Vec{frame.X, frame.Y, frame.Z}, Move: frame.O}.Inverse()
	pa, pb := a.At.Then(into), b.At.Then(into)
	where := memo.Sure(s.store.Kept, "a box around what two bodies fill both", func() solid.Box {
		_, where := proximity.Overlap(s.store.body(a.Solid), pa, s.store.body(b.Solid), pb)
		return where
	}, a.Solid, pa, b.Solid, pb)
	if where.Empty() {
		return true
	}
	r := f.r + f.off + Near
	return where.Min.X > -r && where.Min.Y > -r && where.Max.X < r && where.Max.Y < r
}

// struck reports whether the joint of a screw finds by itself that the screw runs into
// a body: below its head, as far as screws of any length could reach.
func (s *search) struck(screw, other *Body, at solid.Vec) bool {
	if !screw.Screw {
		return false
	}
	places := s.stacks[screw.Joint]
	if places == nil {
		places = map[int]*joint.Stack{}
		list := s.m.Stacks(s.r.Tally().Joints[screw.held].Assembly, screw.Joint)
		for i := range list {
			places[list[i].Place] = &list[i]
		}
		s.stacks[screw.Joint] = places
	}
	p := places[screw.Place]
	if p == nil || screw.At.Inverse().Point(at).Z > Contact { // the head stands above its own z = 0
		return false
	}
	name := other.Name()
	return p.Struck != nil && p.Struck.Say == name || p.Stop != nil && p.Stop.Say == name && p.Stop.At < p.Tip()
}
