package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/quantity"
)

// CalcOffRecord finds results that no longer are what was recorded of them. A
// record holds at the defaults, so other cases are not looked at.
var CalcOffRecord = Rule{
	Rule: finding.Rule{
		Name: "calc-off-record", Severity: finding.Error,
		Reason: "Text, drawings and followers rely on the recorded value, and the design no longer gives it.",
		Remedy: "look at what the change means for the machine, then record the new value",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		system := System(w.Plan)
		for _, c := range w.Default().Calcs {
			for _, rec := range c.Records {
				if !rec.Known || rec.Holds {
					continue
				}
				report(finding.Finding{
					At: rec.Said.Is.At, Subject: c.Calc.ID.Text,
					Message: fmt.Sprintf("%s.%s is now %s, recorded was %s", c.Calc.ID.Text, rec.Name,
						quantity.Text(rec.Is.Nominal(), system), quantity.Text(rec.Was, system)),
				})
			}
		}
	},
}
