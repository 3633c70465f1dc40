package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// AssemblyWithoutSteps finds assemblies that hold parts and tell no order of work.
var AssemblyWithoutSteps = Rule{
	Rule: finding.Rule{
		Name: "assembly-without-steps", Severity: finding.Error,
		Reason: "The builder has its parts and is not told how they go together.",
		Remedy: "write its steps: what each adds and fastens",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		for _, a := range s.Reckoning.Plan.Assemblies {
			if s.assembled(a) && s.workless(a) {
				report(finding.Finding{
					At: a.Title.At, Subject: a.ID.Text,
					Message: fmt.Sprintf("the assembly %q holds %d things and has no steps", a.ID.Text, len(a.Holds)),
				})
			}
		}
	},
}

// workless reports whether an assembly holds something, has no steps, and is not put
// together by the steps of what holds it.
func (s *Situation) workless(a *plan.Assembly) bool {
	return len(a.Steps) == 0 && len(a.Holds) > 0 && !s.order().piecewise(a)
}
