package check

import (
	"fmt"
	"slices"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/sequence"
)

// BetterOrder proposes another order of an assembly's steps where something does not
// go in the plan's own, and would in that one.
var BetterOrder = Rule{
	Rule: finding.Rule{
		Name: "better-order", Severity: finding.Advice,
		Reason: "Something does not go in the order in which the steps stand, and another order has fewer such places.",
		Remedy: "move the steps, and say under needs what must come before",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		rec := s.Sequence()
		if slices.ContainsFunc(rec.Obstructions, s.followsOn) {
			return // no order helps against what stands in one place
		}
		for _, p := range rec.Propose() {
			var moves []string
			for _, m := range p.Moves {
				moves = append(moves, moveText(rec.Graph, m))
			}
			left := "then everything goes"
			if p.Left > 0 {
				left = fmt.Sprintf("then %d of %d obstructions are left", p.Left, p.Was)
			}
			first := rec.Graph.Steps[p.Moves[0].Step]
			report(finding.Finding{
				At: first.Step.ID.At, Subject: first.String(),
				Message: fmt.Sprintf("a better order is %s; %s", strings.Join(moves, "; then "), left),
			})
		}
	},
}

// moveText is a move in words, with its reason.
func moveText(g *sequence.Graph, m sequence.Move) string {
	side := "right after"
	if m.Before {
		side = "before"
	}
	with := ""
	if len(m.With) > 0 {
		var names []string
		for _, k := range m.With {
			names = append(names, g.Say(k))
		}
		with = " with " + strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s%s %s %s, for %s", g.Say(m.Step), with, side, g.Say(m.Beside), m.Why)
}
