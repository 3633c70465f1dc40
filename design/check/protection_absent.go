package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// ProtectionAbsent finds hazards whose guard, stop, fuse, bond or cut-out the
// machine does not have under a choice that has the hazard.
var ProtectionAbsent = Rule{
	Rule: finding.Rule{
		Name: "protection-absent", Severity: finding.Error,
		Reason: "The builder is told that something protects them, and this machine does not have it.",
		Remedy: "put it into the machine under the same choices, or tie the hazard to those with only",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		for _, h := range s.Reckoning.Plan.Hazards {
			if !h.Only.Fits(s.Case.Options) {
				continue
			}
			for _, m := range h.Measures {
				if m.Ref.Given() && !s.protects(m) {
					report(finding.Finding{
						At: m.Ref.At, Subject: h.ID.Text,
						Message: fmt.Sprintf("against %q stands the %s %q, and the machine does not have it", h.ID.Text, m.Kind.Text, m.Ref.Text),
						Also:    []finding.Related{{At: h.ID.At, Say: "the hazard"}},
					})
				}
			}
		}
	},
}

// protects reports whether the case holds what a measure names.
func (s *Situation) protects(m plan.Protection) bool {
	p := s.Reckoning.Plan
	if m.Kind.Text == plan.Bond {
		path := m.Ref.Path()
		if a := p.Assembly(path[0]); a != nil && len(path) == 2 {
			j := a.Joint(path[1])
			return j == nil || s.assembled(a) && j.Only.Fits(s.Case.Options)
		}
		return true
	}
	path := m.Ref.Path()
	if len(path) > 1 {
		if a := p.Assembly(path[0]); a != nil {
			_, absent := s.instances(a, plan.Word{Text: m.Ref.Text[len(path[0])+1:]})
			return s.assembled(a) && absent == nil
		}
	}
	return s.exists(path[0])
}
