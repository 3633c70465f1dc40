package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// NothingToBite finds joints in which no layer has a thread and no nut is named.
var NothingToBite = Rule{
	Rule: finding.Rule{
		Name: "nothing-to-bite", Severity: finding.Error,
		Reason: "The screw goes through everything and holds nothing.",
		Remedy: "tap the last layer, or name a nut with into",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachPassing(func(p passing) {
			if p.wood() && p.bites {
				if m := s.Reckoning.Part(p.spot.Part.ID.Text).Material; m.Family == "metal" || m.Family == "mineral" {
					report(p.about(fmt.Sprintf("the wood screw %q ends in %q, which is %s", p.screw.Part.ID.Text, p.word.Text, m.Title), "take a screw with a metric thread, and tap the hole"))
				}
				return
			}
			if p.spot.Hole == nil || !p.bites {
				return
			}
			switch p.spot.Hole.Kind.Text {
			case plan.Tap, plan.Forms:
				return
			case plan.Insert:
				report(p.finding(fmt.Sprintf("%s ends in %s, and no insert is named", p.thread.Name, p.hole()), "name the insert with into"))
				return
			}
			report(p.finding(fmt.Sprintf("%s ends in %s, which has no thread", p.thread.Name, p.hole()),
				fmt.Sprintf("write tap: %s there, or name a nut with into", p.thread.Name)))
		})
	},
}
