package reckon

import (
	"fmt"
	"math"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/solid"
	"plansheaf/design/standards"
)

// drillPoint is the included angle of a twist drill's point, common practice for
// steel and aluminium (ISO 5419 lists 118 degrees as the usual one).
const drillPoint = 118 * math.Pi / 180

// countersinkAngle is that of metric countersunk heads, ISO 10642.
const countersinkAngle = 90 * math.Pi / 180

// thread is the thread a designation names, full to length millimetres from the
// mouth (0: all along); nil with a finding where there is none.
func (s *shaper) thread(w plan.Word, length float64) *solid.Thread {
	t, ok := s.r.Thread(w)
	if !ok {
		s.ok = false
		return nil
	}
	return &solid.Thread{Designation: t.Name, Major: t.Major, Minor: t.Minor, Pitch: t.Pitch, Length: length, LeftHand: t.LeftHand}
}

// Thread is the thread that a designation names; where no table has it, a
// finding says so.
func (r *Reckoning) Thread(w plan.Word) (standards.Thread, bool) {
	if !w.Given() {
		return standards.Thread{}, false // reading has said so
	}
	t, ok := standards.ThreadByName(w.Text)
	if !ok {
		remedy := ""
		if near := standards.NearestThread(w.Text); near != "" {
			remedy = fmt.Sprintf("write %s if that is meant", near)
		}
		r.note(UnknownThread, finding.Finding{At: w.At, Message: fmt.Sprintf("no thread is called %q", w.Text), Remedy: remedy})
	}
	return t, ok
}

// holes are the part's holes as a solid needs them.
func (s *shaper) holes(list []*plan.Hole) []solid.Hole {
	var out []solid.Hole
	for _, h := range list {
		one := s.hole(h)
		if s.ok {
			out = append(out, one)
		}
	}
	return out
}

func (s *shaper) hole(h *plan.Hole) solid.Hole {
	out := solid.Hole{Name: h.ID.Text, Face: h.Face.Text, ThroughAll: h.ThroughAll, Depth: s.mmOr(h.Depth, 0)}
	out.At, out.Pattern = s.pattern(h.Pattern)
	s.bore(h, &out)
	if h.Counterbore != nil {
		out.Counterbore = &solid.Counterbore{D: s.mm(h.Counterbore.D), Depth: s.mm(h.Counterbore.Depth)}
	}
	if h.Countersink != nil {
		sink := &solid.Countersink{D: s.mm(h.Countersink.D), Angle: countersinkAngle}
		if h.Countersink.Angle.Given() {
			sink.Angle = s.angle(h.Countersink.Angle)
		}
		out.Countersink = sink
	}
	return out
}

// bore sets what the hole's kind decides: diameter, thread, long way.
func (s *shaper) bore(h *plan.Hole, out *solid.Hole) {
	switch h.Kind.Text {
	case plan.Bore:
		out.Kind, out.D = solid.Bore, s.mm(h.Diameter)
	case plan.Forms:
		out.Kind, out.D = solid.Forming, s.mm(h.Diameter)
	case plan.Insert:
		out.Kind, out.D = solid.InsertFor, s.seat(h)
	case plan.Tap:
		out.Kind = solid.Tapped
		if t, ok := s.r.Thread(h.Thread); ok {
			out.D = t.TapDrill
			out.Thread = s.thread(h.Thread, out.Depth)
		} else {
			s.ok = false
		}
		if out.Depth > 0 {
			out.Tip = drillPoint
		}
	case plan.For:
		out.Kind = solid.Clearance
		if d, ok := s.r.ClearanceOf(h); ok {
			out.D = d
		} else {
			s.ok = false
		}
	case plan.SlotHole:
		out.Kind, out.D, out.Long = solid.Obround, s.mm(h.Wide), s.mm(h.Long)
		out.Along = axis(h.Along, solid.AxisX)
	default:
		s.ok = false
	}
}

// seat is the diameter of an insert's hole: its own where it is given, else that
// of the plan's one insert with that thread.
func (s *shaper) seat(h *plan.Hole) float64 {
	if h.Diameter.Given() {
		return s.mm(h.Diameter)
	}
	for _, p := range s.r.Plan.Parts {
		if p.Fastener != nil && p.Fastener.Kind.Text == "insert" && p.Fastener.Thread.Text == h.Thread.Text {
			return s.mm(p.Fastener.Seat)
		}
	}
	s.fault(h.Thread.At, fmt.Errorf("no insert with thread %s says how wide its seat is", h.Thread.Text))
	return 0
}

// ClearanceOf is the diameter of a clearance hole in millimetres, by ISO 273 or
// ASME B18.2.8; where the tables have none, a finding says so.
func (r *Reckoning) ClearanceOf(h *plan.Hole) (float64, bool) {
	t, ok := r.Thread(h.Thread)
	if !ok {
		return 0, false
	}
	fit := h.Fit.Text
	switch {
	case fit == "" && t.Inch:
		fit = "normal"
	case fit == "":
		fit = "medium"
	}
	d, ok := standards.Clearance(t, fit)
	if !ok {
		r.note(UnknownThread, finding.Finding{
			At: h.Thread.At, Message: fmt.Sprintf("no table has the %s clearance hole for %s", fit, t.Name),
			Remedy: "give the diameter with bore",
		})
	}
	return d, ok
}

func (s *shaper) pattern(p plan.Pattern) (at []solid.Vec2, numbered bool) {
	switch p.Kind.Text {
	case "at":
		return []solid.Vec2{s.pair(p.Point.Of)}, false
	case "points":
		for _, q := range p.Points {
			at = append(at, s.pair(q.Of))
		}
		return at, true
	case "circle":
		first := 0.0
		if p.FirstTurn.Given() {
			first = s.angle(p.FirstTurn)
		}
		return s.placed(p, solid.Ring(s.pair(p.Point.Of), s.mm(p.D), s.count(p, 0), first)), true
	case "line":
		return s.placed(p, solid.Row(s.pair(p.Point.Of), s.pair(p.Step.Of), s.count(p, 0))), true
	case "grid":
		count := [2]int{s.count(p, 0), s.count(p, 1)}
		return s.placed(p, solid.Grid(s.pair(p.Point.Of), s.pair(p.Step.Of), count)), true
	}
	s.ok = false
	return nil, false
}

// placed reports a pattern that came out empty although all of it is known.
func (s *shaper) placed(p plan.Pattern, at []solid.Vec2) []solid.Vec2 {
	if s.ok && at == nil {
		s.fault(p.At, fmt.Errorf("a pattern has from 1 to %d holes", solid.MaxPattern))
	}
	return at
}

func (s *shaper) count(p plan.Pattern, i int) int {
	if i >= len(p.Count) {
		s.ok = false
		return 0
	}
	return s.whole(p.Count[i])
}
