package check

import (
	"fmt"
	"math"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/plan"
	"plansheaf/design/solid"
	"plansheaf/design/standards"
)

// InsertDoesNotFit finds inserts and slot nuts in a place that is made for another:
// a seat for another thread or of another width, a slot of another width.
var InsertDoesNotFit = Rule{
	Rule: finding.Rule{
		Name: "insert-does-not-fit", Severity: finding.Error,
		Reason: "The insert or nut does not go in, or turns and pulls out.",
		Remedy: "make the place for it, or name the one that fits the place",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachPassing(func(p passing) {
			nut := joint.NutOf(s.Reckoning, p.j)
			if nut == nil || nut.Part.Fastener == nil {
				return
			}
			if p.insert {
				s.insertSeat(p, nut.Part, report)
			}
		})
		s.eachJoint(func(a *plan.Assembly, j *plan.Joint) { s.slotWidth(a, j, report) })
		s.eachStack(func(a *plan.Assembly, j *plan.Joint, places []joint.Stack) {
			placesSaying(places, roomText, func(text string, at []joint.Stack) {
				f := s.aboutScrew(a, j, at, len(places), text)
				if w, ok := j.Into.Pick(s.Case.Options); ok {
					f.At = w.At
				}
				report(f)
			})
		})
	},
}

// roomText says by how much an insert or slot nut is longer than its place, "" where
// it goes in.
func roomText(p *joint.Stack) string {
	last := p.Last()
	room := last.Leave - last.Enter
	switch p.Catch {
	case joint.InInsert:
	case joint.InSlotNut:
		if last.Feature.Kind != solid.SlotFeature {
			return ""
		}
		room = last.Enter + last.Feature.Depth - p.From
	default:
		return ""
	}
	if long := p.To - p.From; long > room+lengthWithin {
		return fmt.Sprintf("%q is %s long, %q has room for %s", p.Nut.Part.ID.Text, hundredths(long), last.Word.Text, hundredths(room))
	}
	return ""
}

// seatWithin is by how much, in millimetres, a drilled seat may differ from what
// the insert asks for: common practice, no source.
const seatWithin = 0.15

func (s *Situation) insertSeat(p passing, insert *plan.Part, report func(finding.Finding)) {
	h := p.spot.Hole
	if h == nil {
		return
	}
	if h.Kind.Text != plan.Insert {
		report(p.finding(fmt.Sprintf("%q goes into %s, which is no seat for an insert", insert.ID.Text, p.hole()),
			fmt.Sprintf("write insert: %s in place of %s", insert.Fastener.Thread.Text, h.Kind.Text)))
		return
	}
	mine, ok := standards.ThreadByName(insert.Fastener.Thread.Text)
	theirs, known := standards.ThreadByName(h.Thread.Text)
	if ok && known && !sameThread(mine, theirs) {
		report(p.finding(fmt.Sprintf("%q has thread %s, %s is made for %s", insert.ID.Text, mine.Name, p.hole(), theirs.Name), ""))
		return
	}
	wants, wanted := s.Reckoning.Length(insert.Fastener.Seat)
	has, given := s.Reckoning.Length(h.Diameter)
	if wanted && given && math.Abs(wants-has) > seatWithin {
		report(p.finding(fmt.Sprintf("%q wants a seat of %s, %s is %s", insert.ID.Text, mm(wants), p.hole(), mm(has)), ""))
	}
}

// slotWidth looks at slot nuts: the slot that they are for, and the slot where the
// joint puts them.
func (s *Situation) slotWidth(a *plan.Assembly, j *plan.Joint, report func(finding.Finding)) {
	nut := joint.NutOf(s.Reckoning, j)
	if nut == nil || nut.Part.Fastener == nil || !nut.Part.Fastener.Slot.Given() || len(j.Through) == 0 {
		return
	}
	wants, ok := s.Reckoning.Length(nut.Part.Fastener.Slot)
	if !ok {
		return
	}
	for _, w := range j.Through[len(j.Through)-1].Features {
		for _, spot := range oncePerHole(s.Reckoning.Spots(a, w)) {
			stock := s.Reckoning.Plan.StockOf(spot.Part.Stock.Text)
			if spot.Hole != nil || stock == nil || stock.Section == nil || !stock.Section.Slot.Given() {
				continue
			}
			if has, ok := s.Reckoning.Length(stock.Section.Slot); ok && math.Abs(has-wants) > seatWithin {
				report(finding.Finding{
					At: w.At, Subject: jointSubject(a, j),
					Message: fmt.Sprintf("%q is for a slot of %s, that of %q is %s wide", nut.Part.ID.Text, mm(wants), spot.Part.ID.Text, mm(has)),
					Also:    []finding.Related{{At: nut.Part.ID.At, Say: "the nut"}, {At: stock.ID.At, Say: "the stock"}},
				})
				return // the others are of the same joint, and mostly of the same bar
			}
		}
	}
}
