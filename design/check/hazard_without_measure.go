package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// HazardWithoutMeasure finds hazards against which nothing is done.
var HazardWithoutMeasure = Rule{
	Rule: finding.Rule{
		Name: "hazard-without-measure", Severity: finding.Error,
		Reason: "The designer has seen what can hurt and leaves the builder alone with it.",
		Remedy: "add a measure: a guard, a stop, a fuse, a bond, or at least a warning",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, h := range w.Plan.Hazards {
			if len(h.Measures) == 0 {
				report(finding.Finding{
					At: h.ID.At, Subject: h.ID.Text,
					Message: fmt.Sprintf("nothing is done against %q", h.ID.Text),
				})
			}
		}
	},
}
