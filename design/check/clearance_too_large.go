package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/standards"
)

// ClearanceTooLarge finds holes so wide for their screw that it does not place the
// part, or that its head has nothing to bear on.
var ClearanceTooLarge = Rule{
	Rule: finding.Rule{
		Name: "clearance-too-large", Severity: finding.Warning,
		Reason: "The part can shift under the screw, and the head bears on a rim only or pulls through.",
		Remedy: "make the hole for this screw, or put a washer of the right size under its head",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachPassing(func(p passing) {
			if p.spot.Hole == nil || p.bites || p.insert {
				return
			}
			wide, ok := s.wide(p.spot.Hole)
			if !ok {
				return
			}
			most, known := looseFit(p.thread)
			if !known || wide <= most*(1+looseWithin) {
				return
			}
			message := fmt.Sprintf("%s is %s wide, %s needs %s at most", p.hole(), mm(wide), p.thread.Name, mm(most))
			if p.first && len(p.j.UnderHead) == 0 && p.screw.Fastener != nil && p.screw.Fastener.Head.Diameter > 0 && wide >= p.screw.Fastener.Head.Diameter {
				message += fmt.Sprintf("; the head, %s wide, falls through", mm(p.screw.Fastener.Head.Diameter))
			}
			remedy := fmt.Sprintf("write for: %s", p.thread.Size)
			if p.spot.Hole.Kind.Text == plan.SlotHole {
				remedy = fmt.Sprintf("make the slot %s wide", mm(most))
			}
			report(p.finding(message, remedy))
		})
	},
}

// looseWithin is by how much a hole may pass the coarsest clearance: drills come in
// steps of half a millimetre. Common practice, no source.
const looseWithin = 0.05

// looseFit is the widest clearance hole for a thread.
func looseFit(t standards.Thread) (mm float64, ok bool) {
	fits := standards.ClearanceFits(t.Inch)
	return standards.Clearance(t, fits[len(fits)-1])
}
