package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// CostUnknown finds what has no price in a plan with a cost budget.
var CostUnknown = Rule{
	Rule: finding.Rule{
		Name: "cost-unknown", Severity: finding.Warning,
		Reason: "The plan keeps a cost budget, and the sum that is held against it lacks what has no price.",
		Remedy: "give a price; with buy: any a usual one, {any: what to ask for, price: 4 EUR}",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		for _, b := range s.Reckoning.Plan.Budgets {
			if b.Name.Text != "cost" {
				continue
			}
			for _, id := range s.Bill.Unpriced {
				f := finding.Finding{Subject: id, Message: fmt.Sprintf("%q has no price, so the cost that the budget limits lacks it", id),
					Also: []finding.Related{{At: b.Name.At, Say: "the budget"}}}
				if p := s.Reckoning.Plan.Part(id); p != nil {
					f.At = p.ID.At
				} else if st := s.Reckoning.Plan.StockOf(id); st != nil {
					f.At = st.ID.At
				} else if su := s.Reckoning.Plan.Supplier(id); su != nil {
					f.At, f.Message = su.ID.At, fmt.Sprintf("the shipping or least order of %q cannot be told, so the cost that the budget limits lacks it", id)
				}
				report(f)
			}
		}
	},
}
