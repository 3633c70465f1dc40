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
		s.eachWidth(func(p passing, wide float64) {
			if p.adjusts() {
				return
			}
			most, known := looseFit(p.thread)
			if !known || wide <= most*(1+looseWithin) || p.first && s.bridged(p, wide) || s.suitsOther(p.a, p.j, wide) {
				return
			}
			message := fmt.Sprintf("%s is %s wide, %s needs %s at most", p.hole(), mm(wide), p.thread.Name, mm(most))
			if p.first && len(p.j.UnderHead) == 0 && p.screw.Fastener != nil && p.screw.Fastener.Head.Diameter > 0 && wide >= p.screw.Fastener.Head.Diameter {
				message += fmt.Sprintf("; the head, %s wide, falls through", mm(p.screw.Fastener.Head.Diameter))
			}
			remedy := fmt.Sprintf("write for: %s", p.thread.Name)
			switch {
			case p.cut != nil:
				remedy = fmt.Sprintf("make it %s wide", mm(most))
			case p.spot.Hole.Kind.Text == plan.SlotHole:
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

// bridge is how much wider than a hole a washer is that carries the head across it:
// common practice, no source.
const bridge = 1.5

// bridged reports whether a washer under the head carries it across a wide hole, as
// over a slot in which a part is set.
func (s *Situation) bridged(p passing, wide float64) bool {
	for _, ref := range p.j.UnderHead {
		w, ok := ref.Pick(s.Case.Options)
		washer := s.Reckoning.Part(w.Text)
		if !ok || washer == nil {
			continue
		}
		if washer.Fastener != nil && washer.Fastener.WasherOutside >= wide*bridge {
			return true
		}
		if own := washer.Part.Fastener; own != nil {
			if outside, ok := s.Reckoning.Length(own.Outside); ok && outside >= wide*bridge {
				return true
			}
		}
	}
	return false
}
