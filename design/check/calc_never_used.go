package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// CalcNeverUsed finds calculations that decide nothing: they require nothing, and
// no claim, formula, hazard or text names them.
var CalcNeverUsed = Rule{
	Rule: finding.Rule{
		Name: "calc-never-used", Severity: finding.Warning,
		Reason: "A result that nothing requires and nobody reads may be wrong for years unseen.",
		Remedy: "say under require what must hold, name its result where it is told, or take it out",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, c := range w.Plan.Calcs {
			if len(c.Requires) == 0 && !w.mentions().calcs[c.ID.Text] {
				report(finding.Finding{
					At: c.Title.At, Subject: c.ID.Text,
					Message: fmt.Sprintf("the calculation %q requires nothing and nothing names its results", c.ID.Text),
				})
			}
		}
	},
}
