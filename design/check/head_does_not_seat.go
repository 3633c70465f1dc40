package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/standards"
)

// HeadDoesNotSeat finds screw heads whose form or width does not suit the hole that
// they lie on.
var HeadDoesNotSeat = Rule{
	Rule: finding.Rule{
		Name: "head-does-not-seat", Severity: finding.Warning,
		Reason: "The head stands on an edge or does not go into its seat; it works loose, or stands out where something must pass.",
		Remedy: "give the hole the seat that the head needs, or take a screw with the head that the seat is for",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachPassing(func(p passing) {
			if p.spot.Hole == nil || !p.first || p.bites && len(p.j.Through) == 1 || p.screw.Fastener == nil {
				return
			}
			if message, remedy := s.seatFault(p); message != "" {
				report(p.finding(message, remedy))
			}
		})
	},
}

// seatFault says why a head does not seat, "" where it does.
func (s *Situation) seatFault(p passing) (message, remedy string) {
	head, h := p.screw.Fastener.Head, p.spot.Hole
	switch {
	case head.Form == standards.Countersunk && h.Countersink == nil && len(p.j.UnderHead) == 0:
		return fmt.Sprintf("the countersunk head of %q lies on %s, which has no countersink", p.screw.Part.ID.Text, p.hole()),
			fmt.Sprintf("write countersink: {d: %s, angle: %g deg}", mm(head.Diameter), head.Angle)
	case head.Form != standards.Countersunk && head.Form != standards.NoHead && h.Countersink != nil:
		return fmt.Sprintf("the %s head of %q lies in the countersink of %s", head.Form, p.screw.Part.ID.Text, p.hole()), "take a countersunk screw, or leave the countersink out"
	case h.Counterbore == nil || head.Form == standards.NoHead:
		return "", ""
	}
	return s.counterboreFault(p, head, h)
}

func (s *Situation) counterboreFault(p passing, head standards.Head, h *plan.Hole) (message, remedy string) {
	wide, ok := s.Reckoning.Length(h.Counterbore.D)
	needs := max(head.Diameter, head.Knurled)
	for _, ref := range p.j.UnderHead {
		if w, picked := ref.Pick(s.Case.Options); picked {
			if washer := s.Reckoning.Part(w.Text); washer != nil && washer.Fastener != nil {
				needs = max(needs, washer.Fastener.WasherOutside)
			}
		}
	}
	if !ok || wide > needs {
		return "", ""
	}
	return fmt.Sprintf("what lies in the counterbore of %s is %s wide, the counterbore %s", p.hole(), mm(needs), mm(wide)),
		fmt.Sprintf("make the counterbore %s wide", mm(needs+headRoom))
}

// headRoom is how much wider than a head a counterbore is made, in millimetres:
// common practice, no source.
const headRoom = 1
