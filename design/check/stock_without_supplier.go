package check

import (
	"fmt"

	"plansheaf/design/bill"
	"plansheaf/design/finding"
)

// StockWithoutSupplier finds stock that nobody is said to sell.
var StockWithoutSupplier = Rule{
	Rule: finding.Rule{
		Name: "stock-without-supplier", Severity: finding.Warning,
		Reason: "The builder must find out alone where to buy it, and may come home with another section.",
		Remedy: "name who sells it, buy: {from: general}, or write buy: any",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, s := range w.Plan.Stock {
			if s.Buy == nil && len(bill.StockSuppliers(s)) == 0 {
				report(finding.Finding{
					At: s.ID.At, Subject: s.ID.Text,
					Message: fmt.Sprintf("nobody sells the stock %q", s.ID.Text),
				})
			}
		}
	},
}
