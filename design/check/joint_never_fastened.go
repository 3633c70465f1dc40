package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// JointNeverFastened finds joints that no step makes. An assembly without steps is
// found as a whole.
var JointNeverFastened = Rule{
	Rule: finding.Rule{
		Name: "joint-never-fastened", Severity: finding.Error,
		Reason: "The builder follows every step and the machine is not held together.",
		Remedy: "name it under fastens of the step that makes it",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		o := s.order()
		s.eachJoint(func(a *plan.Assembly, j *plan.Joint) {
			if h := o.Handled(j); h != nil && len(h.Fastens) == 0 && !s.workless(a) {
				report(finding.Finding{
					At: j.ID.At, Subject: jointSubject(a, j),
					Message: fmt.Sprintf("no step fastens %q", j.ID.Text),
				})
			}
		})
	},
}
