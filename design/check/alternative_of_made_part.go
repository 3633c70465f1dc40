package check

import (
	"fmt"

	"plansheaf/design/bill"
	"plansheaf/design/finding"
)

// AlternativeOfMadePart finds alternatives to what nobody buys.
var AlternativeOfMadePart = Rule{
	Rule: finding.Rule{
		Name: "alternative-of-made-part", Severity: finding.Warning,
		Reason: "Alternatives stand on the shopping list, and what the builder makes is not on it.",
		Remedy: "give the alternatives to the part or stock that is bought, or take them out",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, p := range w.Plan.Parts {
			reckoned := w.Default().Reckoning.Part(p.ID.Text)
			if len(p.Or) > 0 && reckoned != nil && !bill.Bought(reckoned) {
				report(finding.Finding{
					At: p.Or[0].At, Subject: p.ID.Text,
					Message: fmt.Sprintf("%q is made, not bought, and has alternatives", p.ID.Text),
				})
			}
		}
	},
}
