package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
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
func longText(_ *Situation, p *joint.Stack) string {
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
	case p.Stop == nil || p.Length <= p.Floor()+lengthWithin:
		return ""
	}
	over := hundredths(p.Length - p.Floor())
	if !p.Stop.Own {
		return fmt.Sprintf("%s goes %s deep into %q, which lies %s behind the head; it may be %s long there", screwText(p), over, p.Stop.Say, hundredths(p.Stop.At), hundredths(p.Floor()))
	}
	return fmt.Sprintf("%s stands on the floor of %q %s before its head clamps: %s go in, it has %s", screwText(p), p.Last().Word.Text, over, hundredths(p.Floor()), hundredths(p.Length))
}
