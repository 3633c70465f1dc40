package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// StepDoesNothing finds steps that change nothing: no part, no joint, no consumable,
// nothing to measure and nothing to read.
var StepDoesNothing = Rule{
	Rule: finding.Rule{
		Name: "step-does-nothing", Severity: finding.Warning,
		Reason: "The builder reads it, and nothing is done or to be done.",
		Remedy: "say what it adds, fastens, tightens or measures, or take it out",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, a := range w.Plan.Assemblies {
			for _, st := range a.Steps {
				if !acts(st) && len(st.Measures) == 0 && !st.Text.Given() {
					report(finding.Finding{
						At: st.ID.At, Subject: stepSubject(a, st),
						Message: fmt.Sprintf("the step %q adds, fastens and tells nothing", st.ID.Text),
					})
				}
			}
		}
	},
}

// acts reports whether a step puts something in or works on a joint.
func acts(st *plan.Step) bool {
	return len(st.Adds)+len(st.Fastens)+len(st.Loose)+len(st.Tightens)+len(st.SlidesIn)+len(st.Uses) > 0
}
