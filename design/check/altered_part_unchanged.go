package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// AlteredPartUnchanged finds altered parts that say nothing of what is done to the
// part they are made of.
var AlteredPartUnchanged = Rule{
	Rule: finding.Rule{
		Name: "altered-part-unchanged", Severity: finding.Warning,
		Reason: "The builder is told to alter a bought part and not what to do to it.",
		Remedy: "give the holes, length, shape or finish that it gets, or a note; or use the bought part itself",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, p := range w.Plan.Parts {
			if p.Made.Text != plan.Altered {
				continue
			}
			f := finding.Finding{At: p.ID.At, Subject: p.ID.Text}
			switch {
			case !p.Of.Given():
				f.Message = fmt.Sprintf("%q is altered and does not say of what", p.ID.Text)
				f.Remedy = "name the bought part, of: corner_bracket"
			case len(p.Holes) == 0 && len(p.Shape) == 0 && !p.Length.Given() && p.Outline == nil && !p.Finish.Given() && len(p.Notes) == 0:
				f.Message = fmt.Sprintf("%q says of %q nothing that is done to it", p.ID.Text, p.Of.Text)
			default:
				continue
			}
			report(f)
		}
	},
}
