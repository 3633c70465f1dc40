package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/risk"
)

// mains is the voltage in volts from which on metal that can be touched is to be
// earthed: 50 V, the limit of IEC 61140 for extra-low alternating voltage.
const mains = 50

// BondMissing finds mains voltage in a machine of metal without a joint that earths
// it. A part that says it is double insulated needs none.
var BondMissing = Rule{
	Rule: finding.Rule{
		Name: "bond-missing", Severity: finding.Error,
		Reason: "A loose wire makes the whole frame live, and no fuse opens. Local codes and a licensed electrician come first.",
		Remedy: "earth the frame with a joint and name it as a bond under the hazard; painted faces do not conduct",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		metal := s.touchable()
		if metal == "" || s.bonded() {
			return
		}
		for _, p := range s.Reckoning.Plan.Parts {
			if !s.has(p.ID.Text) || risk.DoubleInsulated(p) {
				continue
			}
			for _, h := range p.Has {
				v, ok := s.Reckoning.Quantity(h.Is)
				if !ok || !v.Is(quantity.Voltage) || v.SI < mains {
					continue
				}
				report(finding.Finding{
					At: h.Name.At, Subject: p.ID.Text,
					Message: fmt.Sprintf("%q brings %s into a machine with %q, which conducts, and no joint earths it", p.ID.Text, quantity.Text(v, quantity.Metric), metal),
					Remedy:  "add the measure {bond: frame.earth} to its hazard; if it needs no earth, say double insulated in its title",
				})
			}
		}
	},
}

// touchable is the first part of the machine that is made of something that
// conducts; "" where there is none.
func (s *Situation) touchable() string {
	for _, p := range s.Reckoning.Plan.Parts {
		if s.Reckoning.Tally().Placed[p.ID.Text] == 0 {
			continue
		}
		if part := s.Reckoning.Part(p.ID.Text); part != nil && s.conducts(part.Material.ID, part.Material.Conducts) {
			return p.ID.Text
		}
	}
	return ""
}

func (s *Situation) conducts(material string, listed bool) bool {
	if own := s.Reckoning.Plan.Material(material); own != nil {
		return own.Conducts
	}
	return listed
}

// bonded reports whether a hazard of the case names an earthing joint that the case
// has.
func (s *Situation) bonded() bool {
	for _, h := range s.Reckoning.Plan.Hazards {
		if !h.Only.Fits(s.Case.Options) {
			continue
		}
		for _, m := range h.Measures {
			if m.Kind.Text == plan.Bond && s.protects(m) {
				return true
			}
		}
	}
	return false
}
