package check

import (
	"fmt"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/solid"
)

// ScrewTooLong finds screws that stand on the floor of a hole or slot before they
// clamp, or that come out of a board, or that run into something behind what they hold, and set screws that stand
// out of their hole.
var ScrewTooLong = Rule{
	Rule: finding.Rule{
		Name: "screw-too-long", Severity: finding.Error,
		Reason: "The screw stands before its head does and clamps nothing, or it pierces what lies behind.",
		Remedy: "take a shorter screw, or make room behind it",
	},
	Each: aboutLength(longText),
}

// longText says what a screw runs into, "" where it runs free.
func longText(s *Situation, p *joint.Stack) string {
	switch {
	case p.Length == 0:
		return ""
	case p.Headless():
		if most := p.Most(); p.Touches && p.Length > most+lengthWithin {
			return fmt.Sprintf("%s stands %s out of its hole, which is %s deep down to what it grips", screwText(p), hundredths(p.Length-most), hundredths(most))
		}
		return ""
	case p.Wood() && p.Tip() > p.To+lengthWithin:
		return fmt.Sprintf("the point of %s comes %s out of the far side of %q, which is %s thick there", screwText(p), hundredths(p.Past()), p.Last().Word.Text, hundredths(p.To-p.From))
	case p.Stop == nil || p.Length <= p.Floor()+lengthWithin || s.wronglyThere(p.Stop) || s.layersJammed(p):
		return ""
	}
	over := hundredths(p.Length - p.Floor())
	if !p.Stop.Own {
		return fmt.Sprintf("%s goes %s deep into %q, which lies %s behind the head; it may be %s long there", screwText(p), over, p.Stop.Say, hundredths(p.Stop.At), hundredths(p.Floor()))
	}
	floor := fmt.Sprintf("%q", p.Last().Word.Text)
	if p.Last().Feature.Kind == solid.SlotFeature { // whichever of its slots
		floor = fmt.Sprintf("the slot of %q", p.Last().Spot.Path)
	}
	return fmt.Sprintf("%s stands on the floor of %s %s before its head clamps: %s go in, it has %s", screwText(p), floor, over, hundredths(p.Floor()), hundredths(p.Length))
}

// wronglyThere reports whether a screw's stop is another screw that does not suit its own
// place, of another thread or standing on its floor: that is told of the other.
func (s *Situation) wronglyThere(stop *joint.Stop) bool {
	if stop.Joint == nil {
		return false
	}
	if _, is := s.mismatched(stop.Owner, stop.Joint); is {
		return true
	}
	for _, p := range s.Stacks(stop.Owner, stop.Joint) {
		if p.Place == stop.Place && p.Stop != nil && p.Stop.Own && p.Length > p.Floor()+lengthWithin {
			return true
		}
	}
	return false
}

// layersJammed reports whether a screw stops in a part of its own layers that fills the
// same room as another of them: that is told as an overlap.
func (s *Situation) layersJammed(p *joint.Stack) bool {
	if p.Stop.Own || p.Stop.Joint != nil {
		return false
	}
	for i := range p.Crossings {
		c := &p.Crossings[i]
		if c.Spot.Path != p.Stop.Say && !strings.HasSuffix(p.Stop.Say, "."+c.Spot.Path) {
			continue
		}
		for k := range p.Crossings {
			if k != i && s.jams()[jam{part: c.Part.Part.ID.Text, otherPart: p.Crossings[k].Part.Part.ID.Text}] {
				return true
			}
		}
	}
	return false
}
