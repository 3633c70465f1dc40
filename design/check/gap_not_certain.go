package check

import (
	"fmt"

	"plansheaf/design/chain"
	"plansheaf/design/finding"
	"plansheaf/design/quantity"
)

// GapNotCertain finds requirements of tolerance chains that hold for the sizes as
// drawn, and not for all that the tolerances allow. One that fails for the sizes as
// drawn is a requirement that fails.
var GapNotCertain = Rule{
	Rule: finding.Rule{
		Name: "gap-not-certain", Severity: finding.Warning,
		Reason: "Parts that keep to their drawings may still not fit or work together.",
		Remedy: "tighten what does most, let the gap be set on assembly, or say in a waiver why the risk is taken",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		for _, c := range s.Chains {
			for _, o := range c.Requires {
				if !o.Known || !o.Nominal || o.Worst {
					continue
				}
				f, _ := o.Require.That.Pick(s.Case.Options)
				report(finding.Finding{At: f.At, Subject: c.Calc.ID.Text, Message: notCertain(c, o, System(s.Reckoning.Plan))})
			}
		}
	},
}

func notCertain(c *chain.Report, o chain.Outcome, system quantity.System) string {
	text := func(mm float64) string { return quantity.Text(quantity.MM(mm), system) }
	message := fmt.Sprintf("%s does not hold in the worst case, where the gap is %s to %s", o.Source, text(c.Gap.Low), text(c.Gap.High))
	low, high := c.Gap.Likely()
	if o.Likely {
		message += fmt.Sprintf("; statistically it holds, with %s to %s", text(low), text(high))
	} else {
		message += fmt.Sprintf(", nor statistically, with %s to %s", text(low), text(high))
	}
	if len(c.Contributors) > 0 {
		message += "; what does most: " + c.Contributors[0].Name()
	}
	return message
}
