package check

import (
	"plansheaf/design/joint"
	"plansheaf/design/plan"
	"plansheaf/design/standards"
)

// mismatched is the thread that a joint's screw is to turn in, where that is another
// than its own: thread-mismatch tells it, and what else follows from the screw being
// the wrong one is no fault of its own.
func (s *Situation) mismatched(a *plan.Assembly, j *plan.Joint) (other standards.Thread, is bool) {
	_, own, ok := s.screwOf(j)
	if !ok || len(j.Through) == 0 {
		return other, false
	}
	if nut := joint.NutOf(s.Reckoning, j); nut != nil {
		t, known := joint.ThreadOf(s.Reckoning, nut)
		return t, known && isNut(nut) && !sameThread(own, t)
	}
	for _, w := range j.Through[len(j.Through)-1].Features {
		for _, spot := range s.Reckoning.Spots(a, w) {
			if spot.Hole == nil || spot.Hole.Kind.Text != plan.Tap {
				continue
			}
			if t, known := standards.ThreadByName(spot.Hole.Thread.Text); known && !sameThread(own, t) {
				return t, true
			}
		}
	}
	return other, false
}

// suitsOther reports whether a hole of some width is right for the thread that the
// joint's screw is to turn in, and its screw is of another: then the screw is wrong,
// and not the hole.
func (s *Situation) suitsOther(a *plan.Assembly, j *plan.Joint, wide float64) bool {
	t, is := s.mismatched(a, j)
	if !is {
		return false
	}
	most, known := looseFit(t)
	return known && wide > t.Major && wide <= most*(1+looseWithin)
}
