package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// ValueNeverUsed finds plan values that no formula and no text names.
var ValueNeverUsed = Rule{
	Rule: finding.Rule{
		Name: "value-never-used", Severity: finding.Warning,
		Reason: "Whoever changes it expects the machine to follow, and nothing does.",
		Remedy: "name it in the formulas that mean it, or take it out",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, v := range w.Plan.Values {
			if !w.mentions().names[v.ID.Text] {
				report(finding.Finding{
					At: v.ID.At, Subject: v.ID.Text,
					Message: fmt.Sprintf("no formula and no text names the value %q", v.ID.Text),
				})
			}
		}
	},
}
