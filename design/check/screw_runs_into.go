package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
)

// ScrewRunsInto finds screws in whose way, between head and thread, something stands
// that is no layer of their joint, or that has no hole there.
var ScrewRunsInto = Rule{
	Rule: finding.Rule{
		Name: "screw-runs-into", Severity: finding.Error,
		Reason: "The builder has to drill through what is in the way, or finds that the screw does not go in.",
		Remedy: "name what is in the way as a layer, with a hole for the screw, or move one of them",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachStack(func(a *plan.Assembly, j *plan.Joint, places []joint.Stack) {
			say := func(p *joint.Stack) string {
				if p.Struck == nil || s.wronglyThere(p.Struck) || p.Struck.At < p.Head+headWithin && s.stuck([]layout.Piece{{Part: p.Screw, Joint: j.ID.Text}}) {
					return "" // what the head itself stands in overlaps it
				}
				return fmt.Sprintf("%s meets %q %s behind its head, %s before its thread begins", screwText(p), p.Struck.Say, hundredths(p.Struck.At-p.Head), hundredths(p.From-p.Struck.At))
			}
			placesSaying(places, say, func(text string, at []joint.Stack) {
				if !s.astray().explains(a, j, at, len(places)) {
					report(s.aboutScrew(a, j, at, len(places), text))
				}
			})
		})
	},
}

// headWithin (mm) is how near behind its head something lies that the head touches too.
const headWithin = 0.05
