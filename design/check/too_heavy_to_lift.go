package check

import (
	"fmt"
	"math"

	"plansheaf/design/finding"
	"plansheaf/design/quantity"
	"plansheaf/design/standards"
)

// TooHeavyToLift finds steps that add something heavier than the step's people may
// lift together, or turn such work over, without a hoist.
var TooHeavyToLift = Rule{
	Rule: finding.Rule{
		Name: "too-heavy-to-lift", Severity: finding.Error,
		Reason: "The builder lifts more than is safe: 25 kg is the most for one person under the best conditions (ISO 11228-1).",
		Remedy: "say how many people it takes, name a hoist under tools, or add it in lighter pieces",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		rec := s.Sequence()
		for i := range rec.Graph.Steps {
			c := rec.Card(i)
			heavy := func(at finding.Span, what string, kg float64) {
				f := finding.Finding{
					At: at, Subject: c.Step.String(),
					Message: fmt.Sprintf("%s %s, %s may lift %s", what, kilograms(kg), peopleText(c.People), kilograms(c.Lift.Limit)),
				}
				if limit, most := standards.LiftLimit(math.MaxInt); kg > limit {
					f.Remedy = fmt.Sprintf("name a hoist under tools: even %s may lift only %s", peopleText(most), kilograms(limit))
				}
				report(f)
			}
			if l := c.Lift; l.Name != "" && !l.Hoist && l.Mass > l.Limit {
				heavy(l.Word.At, fmt.Sprintf("%q weighs", l.Name), l.Mass)
			}
			if r := c.Rest; r.Turned() && !r.Hoist && r.Mass > r.Limit {
				heavy(restAt(c.Step.Step), fmt.Sprintf("the work, which is laid %s here, weighs", restText(r.On)), r.Mass)
			}
		}
	},
}

func kilograms(kg float64) string {
	return quantity.Text(quantity.Value{SI: math.Round(kg*10) / 10, Dim: quantity.Mass, Unit: "kg"}, quantity.Metric)
}

func peopleText(n int) string {
	if n == 1 {
		return "one person"
	}
	return fmt.Sprintf("%d people", n)
}
