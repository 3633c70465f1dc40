package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/plan"
)

// ScrewBarelyThrough finds screws that end flush with their nut or little behind it.
var ScrewBarelyThrough = Rule{
	Rule: finding.Rule{
		Name: "screw-barely-through", Severity: finding.Warning,
		Reason: "The last two turns of a screw are not cut full (ISO 4753), so the nut is filled only when two turns show behind it.",
		Remedy: "take a longer screw, or make the stack thinner",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachStack(func(a *plan.Assembly, j *plan.Joint, places []joint.Stack) {
			say := func(p *joint.Stack) string {
				if p.Catch != joint.InNut || p.Length == 0 || p.Past() < -lengthWithin || p.Length >= p.Least()-lengthWithin {
					return ""
				}
				return fmt.Sprintf("%s shows %s turns behind the nut, two are wanted; it needs %s, has %s: %s", screwText(p),
					hundredthsOf(p.Past()/p.Thread.Pitch), hundredths(p.Least()), hundredths(p.Length), p.Sum(s.Layout))
			}
			placesSaying(places, say, func(text string, at []joint.Stack) {
				f := s.aboutScrew(a, j, at, len(places), text)
				f.Remedy = s.instead(at, places)
				report(f)
			})
		})
	},
}
