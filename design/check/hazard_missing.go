package check

import (
	"fmt"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/risk"
	"plansheaf/design/standards"
)

// HazardMissing finds what can hurt in the machine and no hazard of the plan
// answers.
var HazardMissing = Rule{
	Rule: finding.Rule{
		Name: "hazard-missing", Severity: finding.Error,
		Reason: "Something that can hurt is there, and the builder is neither warned of it nor protected from it.",
		Remedy: "describe the hazard under safety/, with what is done against it",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		calls := risk.Open(s.Reckoning)
		for _, c := range s.lifting() {
			if !c.Answered(s.Reckoning) {
				calls = append(calls, c)
			}
		}
		for _, c := range calls {
			report(finding.Finding{
				At: c.At, Subject: c.Subject,
				Message: fmt.Sprintf("%s; no hazard of kind %s answers it", c.Why, strings.Join(c.Kinds, " or ")),
				Remedy:  fmt.Sprintf("add a hazard: kind: %s, where: %s", c.Kinds[0], c.Subject),
			})
		}
	},
}

// lifting are the lifts, turnings of the work included, that two or a hoist may do and one person may not.
func (s *Situation) lifting() (calls []risk.Call) {
	alone, _ := standards.LiftLimit(1)
	rec := s.Sequence()
	for i := range rec.Graph.Steps {
		card := rec.Card(i)
		if r := card.Rest; r.Mass > alone && (r.Mass <= r.Limit || r.Hoist) {
			calls = append(calls, risk.Lifting(s.Reckoning, card.Step.Assembly.ID.Text, restAt(card.Step.Step),
				fmt.Sprintf("the work, which is turned over here, weighs %s, more than the %s that one person may lift", kilograms(r.Mass), kilograms(alone))))
		}
		lift := card.Lift
		if lift.Name == "" || lift.Mass <= alone || lift.Mass > lift.Limit && !lift.Hoist {
			continue // what is too much for all who lift has a rule of its own
		}
		calls = append(calls, risk.Lifting(s.Reckoning, lift.ID, lift.Word.At,
			fmt.Sprintf("%q weighs %s, more than the %s that one person may lift", lift.Name, kilograms(lift.Mass), kilograms(alone))))
	}
	return calls
}
