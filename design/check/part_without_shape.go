package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// PartWithoutShape finds parts to be made that say too little to be drawn.
var PartWithoutShape = Rule{
	Rule: finding.Rule{
		Name: "part-without-shape", Severity: finding.Error,
		Reason: "The builder is to make it, and the plan cannot draw what to make.",
		Remedy: "give a bar its stock and length, a sheet its stock and outline, anything else its shape",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, p := range w.Plan.Parts {
			if lacks := lacksShape(w.Plan, p); lacks != "" {
				report(finding.Finding{
					At: p.ID.At, Subject: p.ID.Text,
					Message: fmt.Sprintf("%q is %s and has no %s", p.ID.Text, p.Made.Text, lacks),
					Remedy:  fmt.Sprintf("add %s", lacks),
				})
			}
		}
	},
}

// lacksShape names what a part to be made would need to be drawn; "" where it has
// enough, or where what is wrong with it is found elsewhere.
func lacksShape(p *plan.Plan, part *plan.Part) string {
	if len(part.Shape) > 0 {
		return ""
	}
	stock := p.StockOf(part.Stock.Text)
	switch part.Made.Text {
	case plan.Bought, plan.Consumable, plan.Altered, "":
		return ""
	case plan.Printed:
		return "shape"
	}
	switch {
	case stock == nil && part.Stock.Given():
		return "" // reading reports it
	case stock == nil:
		return "shape or stock"
	case stock.Section != nil && !part.Length.Given():
		return "length"
	case stock.Section == nil && part.Outline == nil:
		return "outline"
	}
	return ""
}
