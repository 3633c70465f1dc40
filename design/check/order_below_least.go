package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// OrderBelowLeast finds suppliers whose order is worth less than they take.
var OrderBelowLeast = Rule{
	Rule: finding.Rule{
		Name: "order-below-least", Severity: finding.Advice,
		Reason: "The builder cannot place the order as it is; the total counts what is short, though nothing is bought for it.",
		Remedy: "let another supplier sell these too, or say what else is worth buying there",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		currency := s.Reckoning.Plan.Currency.Text
		for _, o := range s.Bill.Orders {
			if o.Supplier == nil || o.Goods >= o.Least {
				continue
			}
			f, _ := o.Supplier.Least.Pick(s.Case.Options)
			report(finding.Finding{
				At: f.At, Subject: o.Supplier.ID.Text,
				Message: fmt.Sprintf("what is bought from %q comes to %s, and it takes no order below %s", o.Supplier.ID.Text, o.Goods.Text(currency), o.Least.Text(currency)),
			})
		}
	},
}
