package check

import (
	"fmt"

	"plansheaf/design/bill"
	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// CurrencyDiffers finds prices in another currency than the plan's.
var CurrencyDiffers = Rule{
	Rule: finding.Rule{
		Name: "currency-differs", Severity: finding.Warning,
		Reason: "A plan knows no rates of exchange, so what stands in another currency counts as unpriced and the total lacks it.",
		Remedy: "give the price in the plan's currency, as on the day it was looked up",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		p := s.Reckoning.Plan
		look := func(q plan.Quantity, subject string) {
			v, ok := s.Reckoning.Quantity(q)
			if !q.Given() || !ok || !bill.OtherCurrency(p, v) {
				return
			}
			f, _ := q.Pick(s.Case.Options)
			report(finding.Finding{
				At: f.At, Subject: subject,
				Message: fmt.Sprintf("a price of %q is in %s, the plan counts in %s", subject, v.Currency, p.Currency.Text),
				Also:    []finding.Related{{At: p.Currency.At, Say: "the plan's currency"}},
			})
		}
		for _, supplier := range p.Suppliers {
			for _, q := range []plan.Quantity{supplier.Shipping.Price, supplier.Shipping.FreeFrom, supplier.Least} {
				look(q, supplier.ID.Text)
			}
			for _, sale := range supplier.Sells {
				look(sale.Price, sale.Part.Text)
				for _, b := range sale.Breaks {
					look(b.Price, sale.Part.Text)
				}
			}
		}
		for _, part := range p.Parts {
			if part.Buy != nil {
				look(part.Buy.Price, part.ID.Text)
			}
		}
		for _, stock := range p.Stock {
			for _, sold := range stock.Sold {
				look(sold.Price, stock.ID.Text)
				look(sold.PerCut, stock.ID.Text)
			}
		}
		for _, b := range p.Budgets {
			look(b.Is, b.Name.Text)
		}
	},
}
