package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/quantity"
)

// MethodLeft finds calculations whose inputs have left the range within which the method
// is valid.
var MethodLeft = Rule{
	Rule: finding.Rule{
		Name: "method-left", Severity: finding.Error,
		Reason: "Outside of its range the method's formulas are wrong, however exact the numbers look, and all that relies on the results is in doubt.",
		Remedy: "change the design until the limit holds, or use a method that is valid there",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		system := System(s.Reckoning.Plan)
		for _, c := range s.Calcs {
			for _, o := range c.Limits {
				if !o.Known || o.Holds {
					continue
				}
				f, _ := o.Require.That.Pick(s.Case.Options)
				message := fmt.Sprintf("%s holds while %s, and that does not", c.Calc.Title.Value, o.Source)
				if o.Sides {
					message += fmt.Sprintf(": %s against %s", quantity.Text(o.Left.Nominal(), system), quantity.Text(o.Right.Nominal(), system))
				}
				if o.Require.Because.Value != "" {
					message += "; " + o.Require.Because.Value
				}
				report(finding.Finding{At: f.At, Subject: c.Calc.ID.Text, Message: message})
			}
		}
	},
}
