package check

import (
	"fmt"
	"math"

	"plansheaf/design/clash"
	"plansheaf/design/finding"
)

// TurnsAndTravelDiffer finds motions that turn a screw in its nut and move the nut by
// other than the turns times the lead.
var TurnsAndTravelDiffer = Rule{
	Rule: finding.Rule{
		Name: "turns-and-travel-differ", Severity: finding.Error,
		Reason: "A thread moves its nut by its lead at each turn: the machine does not move as the plan has it, and all that is worked out from the motion is wrong.",
		Remedy: "let one follow from the other: by: travel / screw.lead * 1 turn",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachGuided(func(g *clash.Guided) string {
			if len(g.Turns) == 0 {
				return ""
			}
			return s.turnsText(g, g.Turns[0])
		}, report)
	},
}

func (s *Situation) turnsText(g *clash.Guided, t clash.Turned) string {
	head := fmt.Sprintf("with %s %q moves %s along %q", s.standsText(t.Motion, t.To), g.Inner.Word.Text, hundredths(math.Abs(t.Along)), g.Outer.Word.Text)
	turns := fmt.Sprintf("%s turns times a lead of %s make %s", hundredthsOf(math.Abs(t.Turns)), hundredths(t.Lead), hundredths(math.Abs(t.Turns)*t.Lead))
	switch {
	case t.Turns == 0:
		return fmt.Sprintf("%s, and neither turns: a lead of %s takes %s turns", head, hundredths(t.Lead), hundredthsOf(math.Abs(t.Along)/t.Lead))
	case t.Wrong:
		return fmt.Sprintf("%s, and %s the other way, for %s", head, turns, handText(t.Hand))
	}
	return fmt.Sprintf("%s, and %s", head, turns)
}
