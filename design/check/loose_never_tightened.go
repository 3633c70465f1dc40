package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// LooseNeverTightened finds joints that are left loose and that no later step
// tightens.
var LooseNeverTightened = Rule{
	Rule: finding.Rule{
		Name: "loose-never-tightened", Severity: finding.Error,
		Reason: "The machine is finished with loose screws.",
		Remedy: "name it under tightens of the step that pulls it tight, or do not leave it loose",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		o := s.order()
		s.eachJoint(func(a *plan.Assembly, j *plan.Joint) {
			h := o.Handled(j)
			for _, loose := range h.Loose {
				after := false
				for _, t := range h.Tightens {
					after = after || o.Before(loose.Step, t.Step)
				}
				if !after {
					report(finding.Finding{
						At: loose.Word.At, Subject: jointSubject(a, j),
						Message: fmt.Sprintf("%q is left loose, and no step after %s tightens it", j.ID.Text, o.Say(loose.Step)),
						Also:    []finding.Related{{At: j.ID.At, Say: "the joint"}},
					})
				}
			}
		})
	},
}
