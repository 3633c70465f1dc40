package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
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
		told := map[*plan.Joint]bool{}
		s.eachPassing(func(p passing) {
			if p.wood() && p.bites {
				if m := s.Reckoning.Part(p.spot.Part.ID.Text).Material; m.Family == "metal" || m.Family == "mineral" {
					report(p.about(fmt.Sprintf("the wood screw %q ends in %q, which is %s", p.screw.Part.ID.Text, p.word.Text, m.Title), "take a screw with a metric thread, and tap the hole"))
				}
				return
			}
			if p.bites && !told[p.j] && s.endsInPlain(p) {
				told[p.j] = true
				report(p.about(fmt.Sprintf("%s ends in %q, where no hole has a thread, and no nut is named", p.thread.Name, p.word.Text), "name a nut with into, for a slot a slot nut, or give the part a tapped hole there"))
			}
			if p.cut != nil && p.bites {
				report(p.finding(fmt.Sprintf("%s ends in %s, which has no thread", p.thread.Name, p.hole()),
					fmt.Sprintf("make a hole of it with tap: %s, or name a nut with into", p.thread.Name)))
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

// endsInPlain reports whether the last layer of a joint with a screw of a metric or inch
// thread is a slot or a face, without a hole.
func (s *Situation) endsInPlain(p passing) bool {
	if p.spot.Hole != nil || p.cut != nil {
		return false
	}
	for _, place := range s.Stacks(p.a, p.j) {
		last := place.Last()
		if last.Word == p.word && last.Feature.Hole == nil && last.Feature.Thread == nil && place.Catch == joint.Nothing {
			return true
		}
	}
	return false
}
