package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// PriceUndated finds prices without a day in a plan that dates others.
var PriceUndated = Rule{
	Rule: finding.Rule{
		Name: "price-undated", Severity: finding.Advice,
		Reason: "Other prices say when they were looked up, so the builder takes this one to be as new, and nobody notices when it is old.",
		Remedy: "look it up and set checked to that day",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		dated := false
		var undated []finding.Finding
		look := func(price plan.Quantity, subject string, days ...plan.Word) {
			for _, day := range days {
				if day.Given() {
					dated = true
					return
				}
			}
			f, ok := price.Pick(w.Default().Case.Options)
			if !ok || !f.Given() {
				return
			}
			undated = append(undated, finding.Finding{At: f.At, Subject: subject, Message: fmt.Sprintf("the price of %q does not say when it was looked up", subject)})
		}
		for _, s := range w.Plan.Suppliers {
			for _, sale := range s.Sells {
				look(sale.Price, sale.Part.Text, sale.Checked)
			}
		}
		for _, p := range w.Plan.Parts {
			if p.Buy != nil {
				look(p.Buy.Price, p.ID.Text, p.Buy.Checked)
			}
		}
		for _, s := range w.Plan.Stock {
			for _, sold := range s.Sold {
				if s.Buy != nil && (!sold.From.Given() || sold.From.Text == s.Buy.From.Text) {
					look(sold.Price, s.ID.Text, sold.Checked, s.Buy.Checked)
				} else {
					look(sold.Price, s.ID.Text, sold.Checked)
				}
			}
		}
		if dated {
			for _, f := range undated {
				report(f)
			}
		}
	},
}
