package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// StepWithoutText finds steps that do something and do not say how.
var StepWithoutText = Rule{
	Rule: finding.Rule{
		Name: "step-without-text", Severity: finding.Warning,
		Reason: "The builder sees what goes where and is not told how to do it, what to watch, when it is right.",
		Remedy: "write a sentence or two under text",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, a := range w.Plan.Assemblies {
			for _, st := range a.Steps {
				if !st.Text.Given() && (acts(st) || len(st.Measures) > 0) {
					report(finding.Finding{
						At: st.ID.At, Subject: stepSubject(a, st),
						Message: fmt.Sprintf("the step %q has no text", st.ID.Text),
					})
				}
			}
		}
	},
}
