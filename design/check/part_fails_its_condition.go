package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// PartFailsItsCondition finds conditions that the part itself does not keep whose
// place is to be taken.
var PartFailsItsCondition = Rule{
	Rule: finding.Rule{
		Name: "part-fails-its-condition", Severity: finding.Error,
		Reason: "What the machine is drawn with would not do by the plan's own words: the condition or the part is wrong.",
		Remedy: "ask for no more than the part itself has, or correct the part",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		for _, p := range s.Reckoning.Plan.Parts {
			for _, o := range p.Or {
				s.serves(p.ID.Text, o.When, func(why string, condition finding.Span) {
					report(finding.Finding{At: condition, Subject: p.ID.Text, Message: fmt.Sprintf("of %q itself %s", p.ID.Text, why)})
				})
			}
		}
	},
}
