package check

import (
	"fmt"

	"plansheaf/design/bill"
	"plansheaf/design/finding"
)

// DrawingOfBoughtPart finds drawing files of what nobody makes: parts that are
// bought as they are, and parts that the machine does not hold.
var DrawingOfBoughtPart = Rule{
	Rule: finding.Rule{
		Name: "drawing-of-bought-part", Severity: finding.Advice,
		Reason: "A drawing tells the builder to make the part; this one is bought as it is, or is not in the machine.",
		Remedy: "take the drawing out, or say with made how the part is made",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, d := range w.Plan.Drawings {
			p := w.Default().Reckoning.Part(d.Of.Text)
			a := w.Plan.Assembly(d.Of.Text)
			f := finding.Finding{At: d.Of.At, Subject: d.ID.Text}
			switch {
			case p != nil && bill.Bought(p):
				f.Message = fmt.Sprintf("the drawing shows %q, which is bought as it is", d.Of.Text)
			case p != nil && !w.has(d.Of.Text), a != nil && !w.any(func(s *Situation) bool { return s.assembled(a) }):
				f.Message = fmt.Sprintf("the drawing shows %q, which the machine never holds", d.Of.Text)
			default:
				continue
			}
			report(f)
		}
	},
}
