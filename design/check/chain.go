package check

import (
	"plansheaf/design/chain"
	"plansheaf/design/finding"
	"plansheaf/design/layout"
)

// measureChains places the machine and works its tolerance chains out, where the plan
// has any.
func (s *Situation) measureChains() {
	r := s.Reckoning
	var m *chain.Machine
	for _, c := range r.Plan.Calcs {
		if c.Chain == nil || !c.Only.Fits(r.Case.Options) {
			continue
		}
		if m == nil {
			s.Layout = layout.Of(r)
			m = chain.Of(r, s.Layout, s.joints())
		}
		report := m.Run(c)
		s.Chains = append(s.Chains, report)
		r.SetMeasured(c, report.Measurement())
	}
}

// Chain is the report of a tolerance chain, nil when the calculation is none or does
// not belong to the case.
func (s *Situation) Chain(id string) *chain.Report {
	for _, c := range s.Chains {
		if c.Calc.ID.Text == id {
			return c
		}
	}
	return nil
}

// chainFaults reports what is wrong with chains in one way.
func chainFaults(kind chain.FaultKind) func(s *Situation, report func(finding.Finding)) {
	return func(s *Situation, report func(finding.Finding)) {
		for _, c := range s.Chains {
			for _, f := range c.Faults {
				if f.Kind == kind {
					report(finding.Finding{At: f.At, Subject: c.Calc.ID.Text, Message: f.Message, Remedy: f.Remedy, Also: f.Also})
				}
			}
		}
	}
}
