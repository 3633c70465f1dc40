package check

import (
	"fmt"

	"plansheaf/design/bill"
	"plansheaf/design/finding"
)

// BoughtPartWithoutSupplier finds bought parts, fasteners and consumables that
// nobody is said to sell.
var BoughtPartWithoutSupplier = Rule{
	Rule: finding.Rule{
		Name: "bought-part-without-supplier", Severity: finding.Warning,
		Reason: "The builder must find out alone where to buy it, and may come home with another one.",
		Remedy: "list it under a supplier, or write buy: {any: what to ask for}",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, p := range w.Plan.Parts {
			reckoned := w.Default().Reckoning.Part(p.ID.Text)
			if reckoned == nil || !bill.Bought(reckoned) || !w.has(p.ID.Text) {
				continue
			}
			if bill.SaleOf(w.Plan, p.ID.Text, p.Buy) == nil && (p.Buy == nil || !p.Buy.Any) {
				report(finding.Finding{
					At: p.ID.At, Subject: p.ID.Text,
					Message: fmt.Sprintf("nobody sells %q", p.ID.Text),
				})
			}
		}
	},
}
