package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/quantity"
	"plansheaf/design/standards"
)

// ScrewLengthNotStocked finds screws and pins of a length that their standard does
// not list.
var ScrewLengthNotStocked = Rule{
	Rule: finding.Rule{
		Name: "screw-length-not-stocked", Severity: finding.Warning,
		Reason: "No shop keeps this length; the builder must cut a longer one down.",
		Remedy: "choose a listed length and make the stack fit it",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, p := range w.Plan.Parts {
			reckoned := w.Default().Reckoning.Part(p.ID.Text)
			if reckoned == nil || reckoned.Fastener == nil || reckoned.Fastener.Length == 0 || standards.Stocked(*reckoned.Fastener) {
				continue
			}
			f := *reckoned.Fastener
			found := finding.Finding{
				At: p.Standard.At, Subject: p.ID.Text,
				Message: fmt.Sprintf("%s lists no length of %s for %s", f.Standard, quantity.Text(quantity.MM(f.Length), quantity.Metric), f.Size),
			}
			if near, ok := standards.NearestStocked(f); ok && !f.Inch {
				found.Remedy = fmt.Sprintf("the nearest listed length is %s", quantity.Text(quantity.MM(near), quantity.Metric))
			}
			report(found)
		}
	},
}
