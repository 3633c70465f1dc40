package check

import (
	"fmt"

	"plansheaf/design/calc"
	"plansheaf/design/finding"
	"plansheaf/design/quantity"
)

// RequirementFails finds calculations whose requirement does not hold.
var RequirementFails = Rule{
	Rule: finding.Rule{
		Name: "requirement-fails", Severity: finding.Error,
		Reason: "The designer said what must hold for the machine to work or to be safe, and it does not.",
		Remedy: "change the design until it holds, or correct the requirement",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		for _, c := range s.Calcs {
			for _, o := range c.Requires {
				if !o.Known || o.Holds {
					continue
				}
				f, _ := o.Require.That.Pick(s.Case.Options)
				message := fmt.Sprintf("%s does not hold", o.Source)
				if o.Sides {
					system := System(s.Reckoning.Plan)
					message += fmt.Sprintf(": %s against %s", quantity.Text(o.Left.Nominal(), system), quantity.Text(o.Right.Nominal(), system))
				}
				if o.By != calc.ByNothing && o.By != calc.ByWorstCase {
					message += fmt.Sprintf("; with the inputs' spreads it holds with a certainty of %s", Percent(o.Certainty))
				}
				if o.Require.Because.Given() {
					message += fmt.Sprintf("; the plan requires it because: %s", o.Require.Because.Value)
				}
				report(finding.Finding{At: f.At, Subject: c.Calc.ID.Text, Message: message})
			}
		}
	},
}
