package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// CountDiffers finds counts typed into texts that differ from what the step, the
// assembly or the machine holds.
var CountDiffers = Rule{
	Rule: finding.Rule{
		Name: "count-differs", Severity: finding.Warning,
		Reason: "The builder counts out what the text says, and comes up short or has some left.",
		Remedy: "correct the number, or let the text print what the joint or the list holds",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, c := range w.counts() {
			report(finding.Finding{
				At: c.at, Subject: c.subject,
				Message: fmt.Sprintf("the text says %d %s, here are %d", c.says, c.what, c.holds[0]),
			})
		}
	},
}
