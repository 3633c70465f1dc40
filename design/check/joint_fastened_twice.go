package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// JointFastenedTwice finds joints that two steps make.
var JointFastenedTwice = Rule{
	Rule: finding.Rule{
		Name: "joint-fastened-twice", Severity: finding.Warning,
		Reason: "The builder comes to make a joint that is already made, and looks for what was missed.",
		Remedy: "keep it in the step that makes it; a later step that pulls it tight says tightens",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		o := s.order()
		s.eachJoint(func(a *plan.Assembly, j *plan.Joint) {
			fastens := o.Handled(j).Fastens
			for i := 1; i < len(fastens); i++ {
				report(finding.Finding{
					At: fastens[i].Word.At, Subject: jointSubject(a, j),
					Message: fmt.Sprintf("%q is fastened again, the step %s has made it", j.ID.Text, o.Say(fastens[0].Step)),
					Also:    []finding.Related{{At: fastens[0].Word.At, Say: "made here"}},
				})
			}
		})
	},
}
