package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/plan"
)

// ThreadTooShallow finds tapped and formed holes with less thread than their material
// needs to hold the screw.
var ThreadTooShallow = Rule{
	Rule: finding.Rule{
		Name: "thread-too-shallow", Severity: finding.Warning,
		Reason: "The thread strips before the screw is tight.",
		Remedy: "make the hole deeper or the part thicker, take a thinner screw, or name a nut with into",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachStack(func(a *plan.Assembly, j *plan.Joint, places []joint.Stack) {
			say := func(p *joint.Stack) string {
				if p.Catch != joint.InTapped && p.Catch != joint.InForming || p.To-p.From >= p.Needs-lengthWithin || j.Torque.Word.Text == "hand" {
					return ""
				}
				return fmt.Sprintf("%q has %s of thread, %s needs %s (%s)", p.Last().Word.Text, hundredths(p.To-p.From), p.Thread.Name, hundredths(p.Needs), p.Rule)
			}
			placesSaying(places, say, func(text string, at []joint.Stack) {
				f := s.aboutScrew(a, j, at, len(places), text)
				f.At = at[0].Last().Word.At
				report(f)
			})
		})
	},
}
