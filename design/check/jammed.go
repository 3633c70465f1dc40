package check

import (
	"slices"
	"strings"

	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/sequence"
	"plansheaf/design/way"
)

// A jam is two bodies that fill the same room, by their parts, and for what a joint
// brings by the joint too; "" stands for any.
type jam struct{ part, joint, otherPart, otherJoint string }

// jams are the case's overlaps that no fit accounts for, and shafts beside their holes:
// what is stuck in each other cannot be moved apart or reached either, and that is no
// second fault.
func (s *Situation) jams() map[jam]bool {
	if s.facts.jams == nil {
		s.facts.jams = map[jam]bool{}
		for _, o := range s.Clashes().Overlaps {
			if o.Depth <= o.Allowed {
				continue
			}
			a, b := o.A.Part.Part.ID.Text, o.B.Part.Part.ID.Text
			for _, ja := range either(o.A.Joint) {
				for _, jb := range either(o.B.Joint) {
					s.facts.jams[jam{a, ja, b, jb}] = true
					s.facts.jams[jam{b, jb, a, ja}] = true
				}
			}
		}
		for pair := range s.misfits() {
			s.facts.jams[jam{part: pair[0], otherPart: pair[1]}] = true
		}
	}
	return s.facts.jams
}

// misfits are the parts, in either order, of shafts that stand beside their holes or are
// wider than their fit allows, which the rules about holes and fits tell.
func (s *Situation) misfits() map[[2]string]bool {
	if s.facts.misfits == nil {
		s.facts.misfits = map[[2]string]bool{}
		s.eachJoint(func(a *plan.Assembly, j *plan.Joint) {
			for _, at := range s.joints().Matings(a, j) {
				fit, known := s.joints().FitOf(at)
				least, _, fitted := joint.Bounds(j.Kind.Text, fit.Shaft.Nominal)
				if tight := fitted && known && fit.Least < least && !fit.Suits(j.Kind.Text); tight || s.besideText(j, at) != "" {
					one, other := at.Mine.Part.Part.ID.Text, at.Theirs.Part.Part.ID.Text
					s.facts.misfits[[2]string{one, other}] = true
					s.facts.misfits[[2]string{other, one}] = true
				}
			}
		})
	}
	return s.facts.misfits
}

// either are the names that a body of a joint, or of none, goes by.
func either(j *plan.Joint) []string {
	if j == nil {
		return []string{""}
	}
	return []string{"", j.ID.Text}
}

// jammed reports whether any of some pieces fills the same room as a piece.
func (s *Situation) jammed(pieces []layout.Piece, other layout.Piece) bool {
	jams := s.jams()
	if len(jams) == 0 {
		return false
	}
	for _, p := range pieces {
		if jams[jam{p.Part.Part.ID.Text, p.Joint, other.Part.Part.ID.Text, other.Joint}] {
			return true
		}
	}
	return false
}

// followsOn reports whether an obstruction comes of a fault that other rules tell:
// bodies that overlap at rest, or a screw that does not stand straight in its holes.
func (s *Situation) followsOn(o sequence.Obstruction) bool {
	if o.Joint != nil && s.crooked(o.Owner, o.Joint.ID.Text) {
		return true
	}
	if s.shutOut(o) {
		return true
	}
	if o.Since < 0 || o.Blocks.Part == nil {
		return false
	}
	if o.Blocks.Of != nil && s.crooked(o.Blocks.Owner, o.Blocks.Of.ID.Text) {
		return true
	}
	return s.jammed(s.piecesOf(o), o.Blocks.Piece)
}

// shutOut reports whether an obstruction is about turning a screw that cannot even be
// put in, which is told.
func (s *Situation) shutOut(o sequence.Obstruction) bool {
	if o.Kind != sequence.OutOfReach && o.Kind != sequence.NoWayForTool {
		return false
	}
	return slices.ContainsFunc(s.Sequence().Obstructions, func(other sequence.Obstruction) bool {
		return other.Kind == sequence.ScrewShutOut && other.Step == o.Step && other.Owner == o.Owner && other.Joint == o.Joint && len(other.Places) >= len(o.Places)
	})
}

// stuck reports whether any of some pieces fills the same room as anything else.
func (s *Situation) stuck(pieces []layout.Piece) bool {
	for j := range s.jams() {
		if slices.ContainsFunc(pieces, func(p layout.Piece) bool { return p.Part.Part.ID.Text == j.part && p.Joint == j.joint }) {
			return true
		}
	}
	return false
}

// piecesOf is what an obstruction keeps from its place: those of a use, or what a joint
// brings with the layers that it goes through.
func (s *Situation) piecesOf(o sequence.Obstruction) []layout.Piece {
	var out []layout.Piece
	for _, p := range s.Layout.Pieces(o.Owner) {
		if o.Joint != nil && p.Joint == o.Joint.ID.Text || o.Joint == nil && within(p.Use, o.Name) {
			out = append(out, p)
		}
	}
	if o.Joint != nil {
		for _, place := range s.Stacks(o.Owner, o.Joint) {
			for _, c := range place.Crossings {
				out = append(out, layout.Piece{Part: c.Part})
			}
		}
	}
	return out
}

// within reports whether a use is the one that a path begins with, or a number of it.
func within(use, path string) bool {
	return use == path || use != "" && (strings.HasPrefix(path, use+".") || strings.HasPrefix(use, path+"."))
}

// told reports whether other rules tell why a unit of an assembly is stopped by
// another: the two overlap, or one is a screw that does not suit its place.
func (s *Situation) told(a *plan.Assembly, pieces []layout.Piece, stop way.Stop) bool {
	for _, u := range []*way.Unit{stop.Unit, stop.By} {
		if len(a.Steps) > 0 && u.Step < 0 { // no step brings it
			return true
		}
		if s.crooked(a, u.Joint) || s.oversized(a, u.Joint) {
			return true
		}
	}
	for _, j := range a.Joints {
		if j.Only.Fits(s.Case.Options) && s.binds(a, j, stop.Unit, stop.By) && (s.crooked(a, j.ID.Text) || s.oversized(a, j.ID.Text)) {
			return true
		}
	}
	var mine []layout.Piece
	for _, i := range stop.Unit.Pieces {
		mine = append(mine, pieces[i])
	}
	for _, i := range stop.By.Pieces {
		if s.jammed(mine, pieces[i]) {
			return true
		}
	}
	return false
}

// oversized reports whether the screws of a joint have another thread than they turn
// in, or reach into something; false for "".
func (s *Situation) oversized(a *plan.Assembly, id string) bool {
	j := a.Joint(id)
	if j == nil {
		return false
	}
	if _, is := s.mismatched(a, j); is {
		return true
	}
	for _, p := range s.Stacks(a, j) {
		if longText(s, &p) != "" || p.Stop != nil && p.Length > p.Floor()+lengthWithin {
			return true // the latter also where it is told of what it reaches into
		}
	}
	return false
}

// followsFrom reports whether a unit stays for a reason that is told elsewhere: where it
// or what stops it in the end is stuck by a fault of other rules, or what stops it is
// itself stopped by something else, which is told of that.
func (s *Situation) followsFrom(a *plan.Assembly, p *way.Parting, stop way.Stop) bool {
	stops := map[*way.Unit]way.Stop{}
	for _, one := range p.Stopped {
		stops[one.Unit] = one
	}
	seen := map[*way.Unit]bool{}
	for at := stop; ; {
		if at.By == nil || s.told(a, p.Pieces, at) {
			return true
		}
		seen[at.Unit] = true
		next, stopped := stops[at.By]
		switch {
		case at.By == stop.Unit:
			return false // they stop each other
		case !stopped:
			return at.Unit != stop.Unit || s.heldByFault(a, p, at.By)
		case seen[at.By]:
			return true // told of those that stop each other
		}
		at = next
	}
}

// heldByFault reports whether something sticks to a unit by a fault that other rules
// tell: without it the unit might have come off before what it now stops.
func (s *Situation) heldByFault(a *plan.Assembly, p *way.Parting, u *way.Unit) bool {
	return slices.ContainsFunc(p.Stopped, func(one way.Stop) bool {
		if one.By == nil || !s.told(a, p.Pieces, one) {
			return false
		}
		return together(one.Unit, u) || together(one.By, u) || s.screwsGoThrough(a, one.Unit, u) || s.screwsGoThrough(a, one.By, u)
	})
}

// together reports whether two units are one, or have a use in common.
func together(one, other *way.Unit) bool {
	return one == other || slices.ContainsFunc(one.Uses, func(use string) bool { return slices.Contains(other.Uses, use) })
}

// screwsGoThrough reports whether one unit is a joint's screws and they go through another.
func (s *Situation) screwsGoThrough(a *plan.Assembly, screws, u *way.Unit) bool {
	j := a.Joint(screws.Joint)
	return j != nil && s.binds(a, j, u, u)
}

// binds reports whether a joint's screws go through both of two units.
func (s *Situation) binds(a *plan.Assembly, j *plan.Joint, one, other *way.Unit) bool {
	holds := func(u *way.Unit, c *layout.Crossing) bool {
		return slices.ContainsFunc(u.Uses, func(use string) bool { return within(use, c.Spot.Path) })
	}
	for _, p := range s.Stacks(a, j) {
		mine, theirs := false, false
		for i := range p.Crossings {
			mine = mine || holds(one, &p.Crossings[i])
			theirs = theirs || holds(other, &p.Crossings[i])
		}
		if mine && theirs {
			return true
		}
	}
	return false
}
