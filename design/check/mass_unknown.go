package check

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// MassUnknown finds parts without a mass in a plan that tells its mass.
var MassUnknown = Rule{
	Rule: finding.Rule{
		Name: "mass-unknown", Severity: finding.Warning,
		Reason: "The plan tells a mass, and this part counts in it as nothing.",
		Remedy: "give it a mass, or a shape and a material with a density",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		p := s.Reckoning.Plan
		where := tellsMass(s.Reckoning.Plan.Budgets, s.work.mentions(), func(id string) bool { return p.Assembly(id) != nil })
		if where == "" {
			return
		}
		for _, id := range s.Bill.Unweighed {
			part := p.Part(id)
			if s.Reckoning.Part(id).Faulty {
				continue // its shape is what is wrong, and the findings say so
			}
			report(finding.Finding{
				At: part.ID.At, Subject: id,
				Message: fmt.Sprintf("the mass of %q is not known, so %s counts it as nothing", id, where),
			})
		}
	},
}

// tellsMass is what tells the mass of an assembly: the budget, or a formula or text
// that names it; "" where nothing does.
func tellsMass(budgets []plan.Named, m *mentions, isAssembly func(id string) bool) string {
	for _, b := range budgets {
		if b.Name.Text == "mass" {
			return "the mass budget"
		}
	}
	for _, name := range slices.Sorted(maps.Keys(m.names)) {
		if id, found := strings.CutSuffix(name, ".mass"); found && isAssembly(id) {
			return name
		}
	}
	return ""
}
