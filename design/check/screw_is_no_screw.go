package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// ScrewIsNoScrew finds joints whose screw, washer or nut is something else.
var ScrewIsNoScrew = Rule{
	Rule: finding.Rule{
		Name: "screw-is-no-screw", Severity: finding.Error,
		Reason: "The joint is told to be held by something that holds nothing, or in a place where it cannot.",
		Remedy: "name a standard screw, washer or nut, or say in the part what fastener it is: fastener: {screw: M6}",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachJoint(func(a *plan.Assembly, j *plan.Joint) {
			look := func(ref plan.Reference, what string, is func(id string) bool) {
				w, ok := ref.Pick(s.Case.Options)
				if !ok || s.Reckoning.Part(w.Text) == nil || is(w.Text) {
					return
				}
				report(finding.Finding{
					At: w.At, Subject: jointSubject(a, j),
					Message: fmt.Sprintf("%q is no %s", w.Text, what),
					Also:    []finding.Related{{At: s.Reckoning.Plan.Part(w.Text).ID.At, Say: "what it is"}},
				})
			}
			// A part whose designation cannot be read is reported for that.
			unread := func(id string) bool {
				p := s.Reckoning.Part(id)
				return p.Part.Standard.Given() && p.Fastener == nil
			}
			look(j.Fastener, "screw", func(id string) bool { return unread(id) || isScrew(s.Reckoning.Part(id)) })
			look(j.Into, "nut or insert", func(id string) bool { return unread(id) || isNut(s.Reckoning.Part(id)) })
			for _, w := range append(append([]plan.Reference(nil), j.UnderHead...), j.UnderNut...) {
				look(w, "washer", func(id string) bool { return unread(id) || isWasher(s.Reckoning.Part(id)) })
			}
		})
	},
}
