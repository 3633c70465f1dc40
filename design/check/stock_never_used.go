package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// StockNeverUsed finds stock that no part is cut from.
var StockNeverUsed = Rule{
	Rule: finding.Rule{
		Name: "stock-never-used", Severity: finding.Warning,
		Reason: "It stands among the stock and nothing is cut from it: a part has changed, or is missing.",
		Remedy: "name it in the part that is cut from it, or take it out",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		cut := map[string]bool{}
		for _, p := range w.Plan.Parts {
			cut[p.Stock.Text] = true
		}
		for _, s := range w.Plan.Stock {
			if !cut[s.ID.Text] {
				report(finding.Finding{
					At: s.ID.At, Subject: s.ID.Text,
					Message: fmt.Sprintf("no part is cut from %q", s.ID.Text),
				})
			}
		}
	},
}
