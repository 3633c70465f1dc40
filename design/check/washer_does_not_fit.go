package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/standards"
)

// WasherDoesNotFit finds washers for another screw than the joint's.
var WasherDoesNotFit = Rule{
	Rule: finding.Rule{
		Name: "washer-does-not-fit", Severity: finding.Error,
		Reason: "A washer that is too small does not go on, one that is too large lies askew and lets the head sink in.",
		Remedy: "name the washer for this screw",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachJoint(func(a *plan.Assembly, j *plan.Joint) {
			_, thread, ok := s.screwOf(j)
			if !ok {
				return
			}
			for _, ref := range append(append([]plan.Reference(nil), j.UnderHead...), j.UnderNut...) {
				w, ok := ref.Pick(s.Case.Options)
				washer := s.Reckoning.Part(w.Text)
				if !ok || washer == nil || !isWasher(washer) {
					continue
				}
				if other, is := s.mismatched(a, j); is && washerFault(washer, other) == "" {
					continue // the screw is wrong, not the washer
				}
				if fault := washerFault(washer, thread); fault != "" {
					report(finding.Finding{
						At: w.At, Subject: jointSubject(a, j), Message: fmt.Sprintf("%q %s", w.Text, fault),
						Also: []finding.Related{{At: washer.Part.ID.At, Say: "the washer"}},
					})
				}
			}
		})
	},
}

// washerFault says why a washer does not go with a thread, "" where it does.
func washerFault(washer *reckon.Part, t standards.Thread) string {
	if f := washer.Fastener; f != nil {
		most, known := looseFit(t)
		switch {
		case f.WasherInside <= t.Major:
			return fmt.Sprintf("has a hole of %s, %s (%s) does not go through", mm(f.WasherInside), t.Name, mm(t.Major))
		case known && f.WasherInside > most*(1+looseWithin):
			return fmt.Sprintf("has a hole of %s, too wide for %s (%s)", mm(f.WasherInside), t.Name, mm(t.Major))
		}
		return ""
	}
	is, ok := standards.ThreadByName(washer.Part.Fastener.Thread.Text)
	if ok && is.Size != t.Size {
		return fmt.Sprintf("is for %s, the screw is %s", is.Size, t.Size)
	}
	return ""
}
