package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// QuantityBelowZero finds sizes, counts and prices of what is bought and cut that are
// less than nothing.
var QuantityBelowZero = Rule{
	Rule: finding.Rule{
		Name: "quantity-below-zero", Severity: finding.Error,
		Reason: "A price, a count or a cut below zero is a slip of the pen, and everything added up from it is wrong with it.",
		Remedy: "give it without the minus sign, or mend the formula that gives it",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		r := s.Reckoning
		test := func(of plan.Word, name string, qs ...plan.Quantity) {
			for _, q := range qs {
				if !q.Given() {
					continue
				}
				if v, known := r.Quantity(q); known && v.SI < 0 {
					report(finding.Finding{
						At: q.At, Subject: of.Text, Also: []finding.Related{{At: of.At, Say: "of " + of.Text}},
						Message: fmt.Sprintf("the %s of %q is %s", name, of.Text, quantity.Text(v.Nominal(), System(r.Plan))),
					})
				}
			}
		}
		for _, stock := range r.Plan.Stock {
			test(stock.ID, "kerf", stock.Kerf)
			test(stock.ID, "trim", stock.Trim)
			test(stock.ID, "mass", stock.Mass)
			test(stock.ID, "limit of pieces", stock.Most)
			for _, sold := range stock.Sold {
				test(stock.ID, "length as sold", sold.Length)
				test(stock.ID, "size as sold", sold.Size...)
				test(stock.ID, "price", sold.Price)
				test(stock.ID, "price of a cut", sold.PerCut)
			}
			for _, o := range stock.Offcuts {
				test(stock.ID, "offcut's length", o.Length)
				test(stock.ID, "offcut's size", o.Size...)
				test(stock.ID, "number of offcuts", o.Count)
			}
		}
		for _, p := range r.Plan.Parts {
			test(p.ID, "length", p.Length)
			test(p.ID, "mass", p.Mass)
			test(p.ID, "amount", p.Amount)
			if p.Buy != nil {
				test(p.ID, "price", p.Buy.Price)
				test(p.ID, "pack", p.Buy.Pack)
			}
		}
		for _, supplier := range r.Plan.Suppliers {
			for _, sale := range supplier.Sells {
				test(sale.Part, "price", sale.Price)
				test(sale.Part, "pack", sale.Pack)
			}
		}
	},
}
