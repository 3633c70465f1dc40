package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/risk"
)

// HazardNotReduced finds hazards that are no smaller with their measures than
// without.
var HazardNotReduced = Rule{
	Rule: finding.Rule{
		Name: "hazard-not-reduced", Severity: finding.Error,
		Reason: "Measures that leave the risk as it is, or a risk that grows with them, protect nobody.",
		Remedy: "add a measure that helps, or grade the risk anew",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, h := range w.Plan.Hazards {
			bad, often, ok := risk.Grade(h.Before)
			badAfter, oftenAfter, graded := risk.Grade(h.After)
			if !ok || !graded {
				continue
			}
			f := finding.Finding{At: h.After.At, Subject: h.ID.Text, Also: []finding.Related{{At: h.Before.At, Say: "without them"}}}
			switch {
			case badAfter > bad:
				f.Message = fmt.Sprintf("with its measures %q is %s, without them %s", h.ID.Text, h.After.Severity.Text, h.Before.Severity.Text)
			case oftenAfter > often:
				f.Message = fmt.Sprintf("with its measures %q is %s, without them %s", h.ID.Text, h.After.Chance.Text, h.Before.Chance.Text)
			case badAfter == bad && oftenAfter == often && len(h.Measures) > 0 && (bad > 0 || often > 0):
				f.Message = fmt.Sprintf("with its measures %q is as %s and as %s as without them", h.ID.Text, h.After.Severity.Text, h.After.Chance.Text)
			default:
				continue
			}
			report(f)
		}
	},
}
