package check

import (
	"fmt"
	"math"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/plan"
	"plansheaf/design/solid"
)

const (
	// leastCarried is the share of its ring that a head, washer or nut must have
	// material under; over a long hole, which a washer bridges, the lower share holds.
	// Common practice, no source.
	leastCarried     = 0.75
	leastCarriedLong = 0.4
	// fouledWithin (mm) is how high material may stand under a head: a burr.
	fouledWithin = 0.05
)

// HeadDoesNotBear finds heads, washers and nuts that hang over an edge, a hole or a
// slot, or lie on a step.
var HeadDoesNotBear = Rule{
	Rule: finding.Rule{
		Name: "head-does-not-bear", Severity: finding.Warning,
		Reason: "The head bears on one side: it bends the screw, digs in, and works loose.",
		Remedy: "move the hole away from the edge or step, or put a wider washer under the head",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachStack(func(a *plan.Assembly, j *plan.Joint, places []joint.Stack) {
			for _, side := range []struct {
				ring func(*joint.Stack) (joint.Ring, bool)
				at   func(*joint.Stack) plan.Word
				what string
			}{
				{s.joints().HeadRing, func(p *joint.Stack) plan.Word { return p.Crossings[0].Word }, "head"},
				{s.joints().NutRing, func(p *joint.Stack) plan.Word { return p.Last().Word }, "nut"},
			} {
				say := func(p *joint.Stack) string {
					g, ok := side.ring(p)
					c := &p.Crossings[0]
					if side.what == "nut" {
						c = p.Last()
					}
					if _, askew := s.joints().MissOf(p); !ok || askew {
						return "" // told where the holes miss
					}
					return bearText(g, c.Word.Text, c.Feature)
				}
				placesSaying(places, say, func(text string, at []joint.Stack) {
					f := s.aboutScrew(a, j, at, len(places), text)
					f.At = side.at(&at[0]).At
					report(f)
				})
			}
		})
	},
}

// bearText says what is wrong with what a ring bears on, "" where nothing is.
func bearText(g joint.Ring, word string, f solid.Feature) string {
	long := f.Hole != nil && f.Hole.Kind == solid.Obround
	least := leastCarried
	if long {
		least = leastCarriedLong
	}
	name := fmt.Sprintf("%q, %s wide,", g.By.Part.ID.Text, hundredths(g.Outside))
	switch {
	case g.Outside <= g.Inside:
		return fmt.Sprintf("%s falls through %q, which is %s wide", name, word, hundredths(g.Inside))
	case g.Fouled > fouledWithin && (f.Hole == nil || f.Hole.Counterbore == nil):
		return fmt.Sprintf("%s lies against a step of %s beside %q", name, hundredths(g.Fouled), word)
	case g.Carried >= least, long && !isWasher(g.By): // a washer is missing there
		return ""
	case long:
		return fmt.Sprintf("%s bears on %s of its ring round the long hole %q", name, percent(g.Carried), word)
	case g.Edge > 0.01:
		return fmt.Sprintf("%s bears on %s of its ring round %q: %s hang over the edge", name, percent(g.Carried), word, percent(g.Edge))
	}
	return fmt.Sprintf("%s bears on %s of its ring round %q: under the rest is a hole, a slot or a step", name, percent(g.Carried), word)
}

// percent is a share for a message.
func percent(share float64) string { return hundredthsOf(math.Round(share*100)) + " %" }
