package check

import (
	"fmt"
	"math"
	"strings"

	"plansheaf/design/calc"
	"plansheaf/design/finding"
	"plansheaf/design/quantity"
)

// usuallyHolds is the certainty from which on a condition counts as one that fails only
// when everything goes wrong at once: three standard deviations.
const usuallyHolds = 0.9973

// RequirementUncertain finds conditions that hold at the values as given and in too many
// machines do not, once the inputs' spreads are counted.
var RequirementUncertain = Rule{
	Rule: finding.Rule{
		Name: "requirement-uncertain", Severity: finding.Warning,
		Reason: "The inputs are known only so well: of many builders who keep to the plan some will have a machine that does not meet it.",
		Remedy: "leave more room, or narrow the spread of the input that drives it",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.unsure(report, func(certainty float64) bool { return certainty < usuallyHolds })
	},
}

// RequirementNotAlways finds conditions that hold in nearly every machine, and not in the
// worst case.
var RequirementNotAlways = Rule{
	Rule: finding.Rule{
		Name: "requirement-not-always", Severity: finding.Advice,
		Reason: "With every input at its worst end at once the condition does not hold; that is rare, and where somebody can be hurt it should not be left to chance.",
		Remedy: "leave more room, or waive this with the reason why chance may decide",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.unsure(report, func(certainty float64) bool { return certainty >= usuallyHolds })
	},
}

// unsure reports requirements and limits that hold, do not in the worst case, and whose
// certainty is asked for.
func (s *Situation) unsure(report func(finding.Finding), asked func(certainty float64) bool) {
	system := System(s.Reckoning.Plan)
	each := func(c *calc.Report, what string, list []calc.Outcome) {
		for _, o := range list {
			if !o.Known || !o.Holds || o.By == calc.ByNothing || o.By == calc.ByWorstCase || !asked(o.Certainty) || s.ofChain(o) {
				continue
			}
			f, _ := o.Require.That.Pick(s.Case.Options)
			report(finding.Finding{
				At: f.At, Subject: c.Calc.ID.Text,
				Message: fmt.Sprintf("%s%s holds with a certainty of %s%s", what, o.Source, Percent(o.Certainty), shortfall(o, system)),
			})
		}
	}
	for _, c := range s.Calcs {
		each(c, "", c.Requires)
		each(c, "the method's limit ", c.Limits)
	}
}

// ofChain reports whether a condition is about the gap of a tolerance chain, which is
// judged with its contributors.
func (s *Situation) ofChain(o calc.Outcome) bool {
	for _, c := range s.Chains {
		for _, gap := range c.Requires {
			if gap.Known && gap.Require.At == o.Require.At {
				return true
			}
		}
	}
	return false
}

// shortfall says by how much a comparison misses in the worst case, and which input
// drives it most.
func shortfall(o calc.Outcome, system quantity.System) string {
	if !o.Sides {
		return "; in the worst case it does not hold"
	}
	misses := o.Between.Nominal()
	switch o.Op {
	case ">", ">=":
		misses.SI = -o.Between.Low()
	case "<", "<=":
		misses.SI = o.Between.High()
	default:
		misses.SI = math.Max(o.Between.High(), -o.Between.Low())
	}
	misses.Absolute = false
	say := fmt.Sprintf("; in the worst case it misses by %s", quantity.Text(misses, system))
	if len(o.Drivers) > 0 {
		say += fmt.Sprintf("; %s drives it most, %s of the variance", o.Drivers[0].Name, Percent(o.Drivers[0].Share))
	}
	return say
}

// Percent is a share in words that claim no more than is known: between 1 and 99 % whole
// percents, beyond as many digits as it takes to differ from 0 and 100 %.
func Percent(share float64) string {
	rest := math.Min(share, 1-share) * 100
	switch {
	case rest >= 1:
		return fmt.Sprintf("%.0f %%", share*100)
	case rest < 0.01 && share > 0.5:
		return "more than 99.99 %"
	case rest < 0.01:
		return "less than 0.01 %"
	}
	return strings.TrimRight(fmt.Sprintf("%.2f", share*100), "0") + " %"
}
