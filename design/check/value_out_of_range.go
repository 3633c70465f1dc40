package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/quantity"
)

// ValueOutOfRange finds values that stand outside the range that they offer.
var ValueOutOfRange = Rule{
	Rule: finding.Rule{
		Name: "value-out-of-range", Severity: finding.Error,
		Reason: "The plan offers the builder a range and is itself drawn and worked out for a size that is not in it.",
		Remedy: "widen the range, or bring the value into it",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		r := s.Reckoning
		for _, v := range r.Plan.Values {
			if !v.From.Given() || !v.To.Given() {
				continue
			}
			is, known := r.Quantity(v.Is)
			from, knownFrom := r.Quantity(v.From)
			to, knownTo := r.Quantity(v.To)
			if !known || !knownFrom || !knownTo || !is.Is(from.Dim) || !is.Is(to.Dim) {
				continue
			}
			if is.SI >= min(from.SI, to.SI) && is.SI <= max(from.SI, to.SI) {
				continue
			}
			system := System(r.Plan)
			report(finding.Finding{
				At: v.Is.At, Subject: v.ID.Text,
				Message: fmt.Sprintf("%s is %s, its range runs from %s to %s", v.ID.Text,
					quantity.Text(is.Nominal(), system), quantity.Text(from, system), quantity.Text(to, system)),
			})
		}
	},
}
