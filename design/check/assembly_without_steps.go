package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// AssemblyWithoutSteps finds assemblies that hold parts and tell no order of work.
var AssemblyWithoutSteps = Rule{
	Rule: finding.Rule{
		Name: "assembly-without-steps", Severity: finding.Warning,
		Reason: "The builder has its parts and is not told how they go together.",
		Remedy: "write its steps: what each adds and fastens",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, a := range w.Plan.Assemblies {
			if len(a.Steps) == 0 && len(a.Holds) > 0 {
				report(finding.Finding{
					At: a.Title.At, Subject: a.ID.Text,
					Message: fmt.Sprintf("the assembly %q holds %d things and has no steps", a.ID.Text, len(a.Holds)),
				})
			}
		}
	},
}
