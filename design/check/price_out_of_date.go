package check

import (
	"fmt"
	"time"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// oldestPrice is how many years before the plan's date a price may have been
// looked up: common practice, no source.
const oldestPrice = 2

// PriceOutOfDate finds prices and codes that were looked up long before the plan's
// date.
var PriceOutOfDate = Rule{
	Rule: finding.Rule{
		Name: "price-out-of-date", Severity: finding.Advice,
		Reason: "Prices rise and articles vanish; the longer ago someone looked, the less the builder can rely on the entry.",
		Remedy: "look it up again and set checked to that day",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		now, err := time.Parse(time.DateOnly, w.Plan.Date.Text)
		if err != nil {
			return
		}
		look := func(checked plan.Word, subject string) {
			then, err := time.Parse(time.DateOnly, checked.Text)
			if err != nil || !then.AddDate(oldestPrice, 0, 0).Before(now) {
				return
			}
			report(finding.Finding{
				At: checked.At, Subject: subject,
				Message: fmt.Sprintf("the entry for %q was looked up on %s, more than %d years before the plan's date %s", subject, checked.Text, oldestPrice, w.Plan.Date.Text),
			})
		}
		for _, s := range w.Plan.Suppliers {
			for _, sale := range s.Sells {
				look(sale.Checked, sale.Part.Text)
			}
		}
		for _, p := range w.Plan.Parts {
			if p.Buy != nil {
				look(p.Buy.Checked, p.ID.Text)
			}
		}
		for _, s := range w.Plan.Stock {
			for _, sold := range s.Sold {
				look(sold.Checked, s.ID.Text)
			}
			if s.Buy != nil {
				look(s.Buy.Checked, s.ID.Text)
			}
		}
	},
}
