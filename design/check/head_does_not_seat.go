package check

import (
	"fmt"
	"math"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
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
	case p.wood() && h.Countersink == nil && s.Reckoning.Part(p.spot.Part.ID.Text).Material.Family == "wood":
		return "", "" // it draws itself in
	case head.Form == standards.Countersunk && h.Countersink == nil && len(p.j.UnderHead) == 0:
		return fmt.Sprintf("the countersunk head of %q lies on %s, which has no countersink", p.screw.Part.ID.Text, p.hole()),
			fmt.Sprintf("write countersink: {d: %s, angle: %g deg}", mm(head.Diameter), head.Angle)
	case head.Form != standards.Countersunk && head.Form != standards.NoHead && h.Countersink != nil:
		return fmt.Sprintf("the %s head of %q lies in the countersink of %s", head.Form, p.screw.Part.ID.Text, p.hole()), "take a countersunk screw, or leave the countersink out"
	case head.Form == standards.Countersunk && h.Countersink != nil:
		return s.countersinkFault(p, head, h)
	case h.Counterbore == nil || head.Form == standards.NoHead:
		return "", ""
	}
	return s.counterboreFault(p, head, h)
}

// proudWithin is the share of its screw's diameter that a countersunk head may stand
// out: heads are made a little smaller than the cone that they are drawn with.
// Common practice, no source.
const proudWithin = 0.1

// countersinkFault looks whether a countersunk head goes in flush.
func (s *Situation) countersinkFault(p passing, head standards.Head, h *plan.Hole) (message, remedy string) {
	wide, ok := s.Reckoning.Length(h.Countersink.D)
	if angle, known := s.Reckoning.QuantityIn(h.Countersink.Angle, quantity.Angle); known {
		if deg := angle.SI * 180 / math.Pi; math.Abs(deg-head.Angle) > angleWithin {
			return fmt.Sprintf("the head of %q is a cone of %g°, the countersink of %s one of %s°: it bears on a line only", p.screw.Part.ID.Text, head.Angle, p.hole(), hundredthsOf(deg)),
				fmt.Sprintf("write angle: %g deg, or take a screw for %s°: metric heads have 90°, inch heads 82°", head.Angle, hundredthsOf(deg))
		}
	}
	if deep := (wide - s.narrow(h)) / 2 / math.Tan(head.Angle*math.Pi/360); ok {
		if thick := s.thickAt(p); thick > 0 && deep > thick+lengthWithin && len(p.j.Through) > 1 {
			return fmt.Sprintf("the countersink of %s is %s deep, more than the %s of its layer: the head comes through and clamps the next layer, not this one", p.hole(), hundredths(deep), hundredths(thick)),
				fmt.Sprintf("take a smaller screw, a thicker layer or a head that is not sunk; %s of thickness are the least", hundredths(deep))
		}
	}
	proud := (head.Diameter - wide) / 2 / math.Tan(head.Angle*math.Pi/360)
	if !ok || proud <= p.thread.Major*proudWithin {
		return "", ""
	}
	return fmt.Sprintf("the head of %q, %s wide, stands %s out of the countersink of %s, which is %s wide", p.screw.Part.ID.Text, mm(head.Diameter), hundredths(proud), p.hole(), mm(wide)),
		fmt.Sprintf("make the countersink %s wide", hundredths(head.Diameter))
}

// angleWithin (degrees) is by how much a countersink may be off its head's cone: both are
// made to a degree or two.
const angleWithin = 3

// narrow is the width in millimetres of the hole below a countersink.
func (s *Situation) narrow(h *plan.Hole) float64 {
	wide, _ := s.wide(h)
	return wide
}

// thickAt is the thickness in millimetres of the layer that a joint's head lies on, 0 where
// it is not measured.
func (s *Situation) thickAt(p passing) float64 {
	for _, place := range s.Stacks(p.a, p.j) {
		if c := &place.Crossings[0]; c.Word == p.word {
			return c.Leave - c.Enter
		}
	}
	return 0
}

func (s *Situation) counterboreFault(p passing, head standards.Head, h *plan.Hole) (message, remedy string) {
	wide, ok := s.Reckoning.Length(h.Counterbore.D)
	deep, known := s.Reckoning.Length(h.Counterbore.Depth)
	needs, high := max(head.Diameter, head.Knurled), head.Height
	for _, ref := range p.j.UnderHead {
		if w, picked := ref.Pick(s.Case.Options); picked {
			if washer := s.Reckoning.Part(w.Text); washer != nil && washer.Fastener != nil {
				needs = max(needs, washer.Fastener.WasherOutside)
				high += washer.Fastener.WasherThick
			}
		}
	}
	switch {
	case !ok, !known:
		return "", ""
	case wide > needs && deep >= high:
		return "", ""
	case wide > needs:
		return fmt.Sprintf("what lies in the counterbore of %s is %s high and stands %s out of it", p.hole(), mm(high), hundredths(high-deep)),
			fmt.Sprintf("make the counterbore %s deep, take a lower head, or leave the counterbore out", mm(high))
	}
	return fmt.Sprintf("what lies in the counterbore of %s is %s wide, the counterbore %s", p.hole(), mm(needs), mm(wide)),
		fmt.Sprintf("make the counterbore %s wide", mm(needs+headRoom))
}

// headRoom is how much wider than a head a counterbore is made, in millimetres:
// common practice, no source.
const headRoom = 1
