package joint

import (
	"math"

	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
)

// A Tie says that a joint holds two parts together that a motion moves apart.
type Tie struct {
	One, Other layout.Mate
	// Paths of the two parts from the machine.
	OnePath, OtherPath string
	ByOne, ByOther     float64 // how far the place of the joint moves with each, mm
	Apart              float64 // by how much the two then lie apart there, mm
}

const (
	// apartWithin (mm) is what rounding leaves of a common motion.
	apartWithin = 0.02
	// arm (mm) is how far along and beside a joint's axis its parts are looked at.
	arm = 10.0
)

// Apart finds where a joint's parts come away from each other between rest and a pose,
// another layout of the same reckoning. Joints that let their parts move have none: run,
// slide, grip; so do turns about the joint's own axis, which are pivots, but for glue, and
// moves along a slot or within a long hole, which set a part.
func (m *Machine) Apart(a *plan.Assembly, j *plan.Joint, posed *layout.Layout) []Tie {
	var out []Tie
	switch j.Kind.Text {
	case plan.Screw, plan.Pin, plan.Rivet:
		for _, f := range m.l.Fastenings(a, j) {
			for i := 1; i < len(f.Crossings); i++ {
				c, d := &f.Crossings[i-1], &f.Crossings[i]
				one := layout.Mate{Word: c.Word, Spot: c.Spot, Part: c.Part, Feature: c.Feature}
				other := layout.Mate{Word: d.Word, Spot: d.Spot, Part: d.Part, Feature: d.Feature}
				out = m.tie(out, j, posed, f.Seat, f.Dir, one, other)
			}
		}
	case plan.Press, plan.Push, plan.Glue:
		for _, at := range m.l.Matings(a, j) {
			out = m.tie(out, j, posed, at.Mine.Feature.At, at.Mine.Feature.Dir, at.Mine, at.Theirs)
		}
	}
	return out
}

// tie adds what a pose does to one place of a joint, in the instance where it is worst.
func (m *Machine) tie(out []Tie, j *plan.Joint, posed *layout.Layout, seat, dir solid.Vec, one, other layout.Mate) []Tie {
	worst := Tie{}
	for i, h := range m.held[j] {
		at, placed := m.l.Placement(h.In)
		mine, theirs := m.instance(h, one.Spot.Path), m.instance(h, other.Spot.Path)
		if !placed || mine == nil || theirs == nil || i >= mostHeld {
			continue
		}
		s, d := at.Point(seat), at.Direction(dir)
		frame := solid.FrameAlong(s, d)
		points := []solid.Vec{s, s.Add(d.Mul(arm))}
		if j.Kind.Text == plan.Glue {
			points = append(points, frame.Point(arm, 0, 0))
		}
		t := Tie{One: one, Other: other, OnePath: mine.Path, OtherPath: theirs.Path}
		for _, p := range points {
			to, known := carried(m.l, posed, mine, p)
			away, too := carried(m.l, posed, theirs, p)
			if !known || !too {
				continue
			}
			gap := m.unset(to.Sub(away), posed, one, other, mine, theirs)
			if gap > t.Apart {
				t.Apart, t.ByOne, t.ByOther = gap, to.Sub(p).Len(), away.Sub(p).Len()
			}
		}
		if t.Apart > worst.Apart {
			worst = t
		}
	}
	if worst.Apart <= apartWithin {
		return out
	}
	return append(out, worst)
}

// instance is a part of an assembly's instance, by its path from there.
func (m *Machine) instance(h *reckon.Held, path string) *reckon.Instance {
	if m.byPath == nil {
		m.byPath = map[string]*reckon.Instance{}
		for _, in := range m.r.Tally().Instances {
			m.byPath[in.Path] = in
		}
	}
	if h.In.Path != "" {
		path = h.In.Path + "." + path
	}
	return m.byPath[path]
}

// carried is where a point of an instance goes from rest to a pose.
func carried(rest, posed *layout.Layout, in *reckon.Instance, p solid.Vec) (to solid.Vec, ok bool) {
	from, placed := rest.Placement(in)
	at, too := posed.Placement(in)
	if !placed || !too {
		return to, false
	}
	return at.Point(from.Inverse().Point(p)), true
}

// unset is what of a distance is left when each part may move along its slot, or within
// its long hole.
func (m *Machine) unset(off solid.Vec, posed *layout.Layout, one, other layout.Mate, mine, theirs *reckon.Instance) float64 {
	for _, side := range []struct {
		mate layout.Mate
		in   *reckon.Instance
	}{{one, mine}, {other, theirs}} {
		f := side.mate.Feature
		if f.Along == (solid.Vec{}) {
			continue
		}
		own, known := side.mate.Part.Solid.Feature(side.mate.Spot.Feature)
		at, placed := posed.Placement(side.in)
		if !known || !placed {
			continue
		}
		along := at.Direction(own.Along)
		by := off.Dot(along)
		if f.Hole != nil && f.Hole.Kind == solid.Obround {
			most := f.Hole.Long - f.Hole.D
			by = math.Max(-most, math.Min(most, by))
		}
		off = off.Sub(along.Mul(by))
	}
	return off.Len()
}
