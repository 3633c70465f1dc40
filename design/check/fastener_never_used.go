package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// FastenerNeverUsed finds fasteners that no joint takes under any choice.
var FastenerNeverUsed = Rule{
	Rule: finding.Rule{
		Name: "fastener-never-used", Severity: finding.Warning,
		Reason: "It stands among the fasteners, and no joint holds a single one: a joint has changed, or is missing.",
		Remedy: "name it in the joint that needs it, or take it out",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, p := range w.Plan.Parts {
			if isFastener(p) && !w.has(p.ID.Text) && !w.standsIn(p.ID.Text) {
				report(finding.Finding{
					At: p.ID.At, Subject: p.ID.Text,
					Message: fmt.Sprintf("no joint takes %q, whatever the builder chooses", p.ID.Text),
				})
			}
		}
	},
}
