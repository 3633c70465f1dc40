package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// StepWithoutTime finds steps that do not say how long they take.
var StepWithoutTime = Rule{
	Rule: finding.Rule{
		Name: "step-without-time", Severity: finding.Advice,
		Reason: "The plan's sum of working time leaves this step out, and the builder cannot tell whether to begin it tonight.",
		Remedy: "give a time, 15 min; a guess is better than none",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, a := range w.Plan.Assemblies {
			for _, st := range a.Steps {
				if !st.Time.Given() {
					report(finding.Finding{
						At: st.ID.At, Subject: stepSubject(a, st),
						Message: fmt.Sprintf("the step %q has no time", st.ID.Text),
					})
				}
			}
		}
	},
}
