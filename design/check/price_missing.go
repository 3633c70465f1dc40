package check

import (
	"fmt"

	"plansheaf/design/bill"
	"plansheaf/design/finding"
)

// PriceMissing finds what a supplier sells at no price: a bought part, or stock
// that is not said to be sold in any size.
var PriceMissing = Rule{
	Rule: finding.Rule{
		Name: "price-missing", Severity: finding.Advice,
		Reason: "The builder cannot tell what the machine will cost; what has no price counts as unpriced, never as free.",
		Remedy: "give the price with the day on which it was looked up",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, p := range w.Plan.Parts {
			sale := bill.SaleOf(w.Plan, p.ID.Text, p.Buy)
			if sale != nil && !sale.Price.Given() && w.has(p.ID.Text) {
				report(finding.Finding{
					At: sale.At, Subject: p.ID.Text,
					Message: fmt.Sprintf("%q is bought from %q at no price", p.ID.Text, sale.Supplier),
				})
			}
		}
		for _, s := range w.Plan.Stock {
			if len(s.Sold) == 0 {
				report(finding.Finding{
					At: s.ID.At, Subject: s.ID.Text,
					Message: fmt.Sprintf("the stock %q is sold in no size, so no cut plan and no price can be made", s.ID.Text),
					Remedy:  "give the sizes as sold: sold: [{length: 1000 mm, price: 9.80 EUR}]",
				})
			}
		}
	},
}
