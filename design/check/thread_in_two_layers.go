package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// ThreadInTwoLayers finds screws that thread into a layer before the one that they
// pull on.
var ThreadInTwoLayers = Rule{
	Rule: finding.Rule{
		Name: "thread-in-two-layers", Severity: finding.Error,
		Reason: "A screw that threads into both parts keeps them at the distance at which it caught them: the joint never closes.",
		Remedy: "make the hole nearer the head a clearance hole",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachPassing(func(p passing) {
			h := p.spot.Hole
			if h == nil || p.bites || p.insert || (h.Kind.Text != plan.Tap && h.Kind.Text != plan.Forms) {
				return
			}
			report(p.finding(fmt.Sprintf("%s threads into %s before the layer that it pulls on", p.thread.Name, p.hole()),
				fmt.Sprintf("write for: %s in place of %s", p.thread.Size, h.Kind.Text)))
		})
	},
}
