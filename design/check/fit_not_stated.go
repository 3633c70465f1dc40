package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/standards"
)

// FitNotStated finds press fits whose hole or shaft has no limits of its own, and holes for
// parallel pins without.
var FitNotStated = Rule{
	Rule: finding.Rule{
		Name: "fit-not-stated", Severity: finding.Warning,
		Reason: "General tolerances are ten times wider than a press fit: the part may fall out, or not go in.",
		Remedy: "write the limits beside the diameter: 18 mm H7 for the hole, 18 mm r6 for what goes in",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachMating(func(a *plan.Assembly, j *plan.Joint, at layout.Mating, fit joint.Fit) {
			if j.Kind.Text != plan.Press || fit.Shaft.Stated && fit.Hole.Stated || !fit.Suits(plan.Press) {
				return
			}
			f := finding.Finding{
				At: at.Theirs.Word.At, Subject: jointSubject(a, j),
				Message: fmt.Sprintf("%q is pressed into %q, and %s has no limits", at.Mine.Word.Text, at.Theirs.Word.Text, unstated(fit)),
			}
			if class := fit.Class(plan.Press); class != "" && fit.Shaft.Stated {
				f.Remedy = fmt.Sprintf("write %s %s", mm(fit.Shaft.Nominal), class)
			}
			report(f)
		})
		s.eachFastening(plan.Pin, func(a *plan.Assembly, j *plan.Joint, f standards.Fastener, places []layout.Fastening) {
			if f.Kind != standards.Pin {
				return // a spring pin's hole is drilled
			}
			s.eachBore(places, func(c *layout.Crossing, bore joint.Size) {
				if c.Spot.Hole.Kind.Text != plan.Bore || bore.Stated || bore.Printed > 0 || c.Part.Part.Made.Text == plan.Printed {
					return
				}
				report(aboutLayer(a, j, c, fmt.Sprintf("the pin %q goes into %q, and the hole has no limits", places[0].Screw.Part.ID.Text, c.Word.Text), fmt.Sprintf("write %s H7", mm(f.PinDiameter))))
			})
		})
	},
}

func unstated(fit joint.Fit) string {
	switch {
	case fit.Shaft.Stated:
		return "the hole"
	case fit.Hole.Stated:
		return "what goes in"
	}
	return "neither"
}
