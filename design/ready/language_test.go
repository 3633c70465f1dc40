package ready_test

import (
	"strings"
	"testing"

	"plansheaf/design/trial"
)

// A plan's language is that of what its ready calculations say.
func TestPlanSaysItInItsLanguage(t *testing.T) {
	for language, says := range map[string]string{"en": "The load acts along the axis", "de": "Die Last wirkt längs der Achse", "fr": "The load acts along the axis"} {
		p := trial.Plan(t, trial.Files{
			"plan.yaml":            "title: T\nmachine: none\nrevision: A\nlanguage: " + language + "\n",
			"assemblies/none.yaml": "title: None\nholds: {}\n",
			"calcs/lift.yaml":      "title: Lift\nfrom: power_screw\ngiven: {load: {is: 4 kN}, mean_diameter: {is: 18 mm}, lead: {is: 4 mm}, friction: {is: 0.15}}\n",
		})
		if got := p.Calc("lift").Assumes[0].Value; !strings.HasPrefix(got, says) {
			t.Errorf("%s: %q", language, got)
		}
	}
}
