package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// ClaimNotMet finds promises of the front page that the design does not keep.
var ClaimNotMet = Rule{
	Rule: finding.Rule{
		Name: "claim-not-met", Severity: finding.Error,
		Reason: "Somebody builds the machine for what the front page promises, and it does not do it.",
		Remedy: "change the design until it does, or promise what it does",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		for _, c := range s.Reckoning.Plan.Claims {
			if s.Reckoning.Absent(c.Is) {
				continue
			}
			is, ok := s.Reckoning.Quantity(c.Is)
			if !ok {
				continue
			}
			s.outside(c.AtLeast, is, func(limit quantity.Value) bool { return is.SI < limit.SI }, c, "at least", report)
			s.outside(c.AtMost, is, func(limit quantity.Value) bool { return is.SI > limit.SI }, c, "at most", report)
		}
	},
}

// outside reports a claim that lies beyond one of its limits.
func (s *Situation) outside(q plan.Quantity, is quantity.Value, beyond func(quantity.Value) bool, c *plan.Claim, words string, report func(finding.Finding)) {
	limit, ok := s.Reckoning.Quantity(q)
	if !ok || !limit.Is(is.Dim) || !beyond(limit) {
		return
	}
	f, _ := c.Is.Pick(s.Case.Options)
	system := System(s.Reckoning.Plan)
	report(finding.Finding{
		At: f.At, Subject: f.Expr.Source(),
		Message: fmt.Sprintf("%s is %s, promised is %s %s", c.Say.Value, quantity.Text(is.Nominal(), system), words, quantity.Text(limit, system)),
	})
}
