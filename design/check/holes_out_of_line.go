package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/plan"
)

// HolesOutOfLine finds places of joints through whose holes no straight screw goes:
// they miss each other by more than their clearances allow.
var HolesOutOfLine = Rule{
	Rule: finding.Rule{
		Name: "holes-out-of-line", Severity: finding.Error,
		Reason: "The builder finds the second screw beside its hole, and files or drills anew.",
		Remedy: "move one of the holes, or the part, by what they miss",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachStack(func(a *plan.Assembly, j *plan.Joint, places []joint.Stack) {
			missing := map[int]joint.Miss{}
			say := func(p *joint.Stack) string {
				miss, found := s.joints().MissOf(p)
				if !found {
					return ""
				}
				missing[p.Place] = miss
				return fmt.Sprintf("%q and %q %s", miss.Guide.Word.Text, miss.Other.Word.Text, miss.Says())
			}
			placesSaying(places, say, func(text string, at []joint.Stack) {
				f := s.aboutScrew(a, j, at, len(places), text)
				f.At = missing[at[0].Place].Other.Word.At
				report(f)
			})
		})
	},
}
