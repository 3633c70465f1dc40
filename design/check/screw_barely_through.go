package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
)

// ScrewBarelyThrough finds screws that end flush with their nut or little behind it.
var ScrewBarelyThrough = Rule{
	Rule: finding.Rule{
		Name: "screw-barely-through", Severity: finding.Warning,
		Reason: "The last two turns of a screw are not cut full (ISO 4753), so the nut is filled only when two turns show behind it.",
		Remedy: "take a longer screw, or make the stack thinner",
	},
	Each: aboutLength(barelyText),
}

// barelyText says how little of a screw shows behind its nut, "" where enough does.
func barelyText(s *Situation, p *joint.Stack) string {
	if p.Catch != joint.InNut || p.Length == 0 || p.Past() < -lengthWithin || p.Length >= p.Least()-lengthWithin {
		return ""
	}
	return fmt.Sprintf("%s shows %s turns behind the nut, two are wanted; it needs %s, has %s: %s", screwText(p),
		hundredthsOf(p.Past()/p.Thread.Pitch), hundredths(p.Least()), hundredths(p.Length), p.Sum(s.Layout))
}
