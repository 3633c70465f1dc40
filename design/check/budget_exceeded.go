package check

import (
	"fmt"

	"plansheaf/design/bill"
	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// BudgetExceeded finds a mass, cost or working time beyond the plan's own limit.
var BudgetExceeded = Rule{
	Rule: finding.Rule{
		Name: "budget-exceeded", Severity: finding.Error,
		Reason: "The designer set a limit that the builder reckons with, and the machine passes it.",
		Remedy: "save what it exceeds, or raise the limit and say so in the history",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		for _, b := range s.Reckoning.Plan.Budgets {
			limit, ok := s.Reckoning.Quantity(b.Is)
			if !ok {
				continue
			}
			if is, over := s.spent(b, limit); over != "" {
				report(finding.Finding{
					At: b.Name.At, Subject: b.Name.Text,
					Message: fmt.Sprintf("%s is %s, the limit is %s: %s too much", b.Name.Text, is, quantity.Text(limit, System(s.Reckoning.Plan)), over),
				})
			}
		}
	},
}

// spent is what a budget comes to and by how much it passes the limit, "" where it
// does not.
func (s *Situation) spent(b plan.Named, limit quantity.Value) (is, over string) {
	system := System(s.Reckoning.Plan)
	value := quantity.Value{Dim: limit.Dim}
	switch {
	case b.Name.Text == "mass" && limit.Is(quantity.Mass):
		value.SI = s.Bill.Mass
	case b.Name.Text == "time" && limit.Is(quantity.Time):
		value.SI = s.Bill.WorkMinute * 60
	case b.Name.Text == "cost" && limit.Is(quantity.Money):
		currency := limit.Currency
		if by := s.Bill.Cost - bill.MoneyOf(limit.SI); by > 0 {
			is = s.Bill.Cost.Text(currency)
			if n := len(s.Bill.Unpriced); n > 0 {
				is += fmt.Sprintf(" without %d that have no price", n)
			}
			return is, by.Text(currency)
		}
		return "", ""
	default:
		return "", ""
	}
	if value.SI <= limit.SI*(1+withinBudget) {
		return "", ""
	}
	excess := value
	excess.SI -= limit.SI
	return quantity.Text(value, system), quantity.Text(excess, system)
}

// withinBudget keeps rounding in sums from passing a limit that is just met.
const withinBudget = 1e-9
