package check

import (
	"fmt"

	"plansheaf/design/finding"
)

// TooManyCases finds plans with more combinations of choices and ends of ranges
// than are worked out.
var TooManyCases = Rule{
	Rule: finding.Rule{
		Name: "too-many-cases", Severity: finding.Warning,
		Reason: "What was not worked out was not checked: a builder with an unusual combination is the first to try it.",
		Remedy: "offer fewer choices or fewer ranges, or publish the machine as two plans",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		if w.Whole {
			return
		}
		f := finding.Finding{
			Subject: "cases",
			Message: fmt.Sprintf("the choices and ranges give more than %d cases; %d of them were checked", MaxCases, len(w.Situations)),
		}
		switch {
		case len(w.Plan.Choices) > 0:
			f.At = w.Plan.Choices[0].ID.At
		case len(w.Plan.Values) > 0:
			f.At = w.Plan.Values[0].ID.At
		}
		report(f)
	},
}
