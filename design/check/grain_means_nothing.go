package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// GrainMeansNothing finds parts that say how they lie to a grain that their stock does
// not have.
var GrainMeansNothing = Rule{
	Rule: finding.Rule{
		Name: "grain-means-nothing", Severity: finding.Warning,
		Reason: "The cut plan turns the part as it likes, since nothing says that its stock has a grain.",
		Remedy: "give the sheet's grain where it is sold: grain: along; or leave the part's out",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, p := range w.Plan.Parts {
			if p.Grain.Text == "" {
				continue
			}
			stock := w.Plan.StockOf(p.Stock.Text)
			if stock != nil && (stock.Grain.Text == "along" || stock.Grain.Text == "across") {
				continue
			}
			f := finding.Finding{At: p.Grain.At, Subject: p.ID.Text, Message: fmt.Sprintf("%q lies %s a grain, and is cut from nothing that has one", p.ID.Text, p.Grain.Text)}
			if p.Grain.Text == "any" {
				f.Message = fmt.Sprintf("%q may lie in any way to a grain, and is cut from nothing that has one", p.ID.Text)
			}
			if stock != nil {
				f.Also = []finding.Related{{At: stock.ID.At, Say: "its stock"}}
			}
			report(f)
		}
	},
}
