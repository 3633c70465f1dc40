package check

import (
	"fmt"
	"math"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/layout"
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
	// roomBeside (mm) is what is left between a head and a corner that it is moved off.
	// Common practice, no source.
	roomBeside = 0.2
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
				on   func(*joint.Stack) *layout.Crossing
			}{
				{s.joints().HeadRing, func(p *joint.Stack) *layout.Crossing { return &p.Crossings[0] }},
				{s.joints().NutRing, (*joint.Stack).Last},
			} {
				say := func(p *joint.Stack) string {
					g, ok := side.ring(p)
					if _, askew := s.joints().MissOf(p); !ok || askew || sunkWrong(p, g) {
						return "" // told where the holes miss, or of the seat
					}
					return bearText(g, side.on(p).Word.Text, side.on(p).Feature)
				}
				placesSaying(places, say, func(text string, at []joint.Stack) {
					f := s.aboutScrew(a, j, at, len(places), text)
					f.At = side.on(&at[0]).Word.At
					if g, _ := side.ring(&at[0]); g.Outside > g.Inside && fouls(g, side.on(&at[0]).Feature) {
						f.Remedy = clearOf(g)
					}
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
	case fouls(g, f) && g.Rises:
		return fmt.Sprintf("%s rides on the rounding of an inner corner beside %q: it reaches %s under its rim and is %s high there", name, word, hundredths(g.Under), hundredths(g.Fouled))
	case fouls(g, f):
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

// sunkWrong reports whether a head that is not countersunk lies in a countersink, which
// the rule about seats tells.
func sunkWrong(p *joint.Stack, g joint.Ring) bool {
	h := p.Crossings[0].Feature.Hole
	return g.By == p.Screw && h != nil && h.Countersink != nil && p.Crossings[0].Facing
}

// fouls reports whether material stands in the way of what bears on a hole; what lies in
// a counterbore is told by the rule about seats.
func fouls(g joint.Ring, f solid.Feature) bool {
	return g.Fouled > fouledWithin && (f.Hole == nil || f.Hole.Counterbore == nil)
}

// clearOf is how to get a ring off what stands in its way: a smaller one, or the hole moved.
func clearOf(g joint.Ring) string {
	return fmt.Sprintf("move the hole %s away from it, or take what bears there %s narrower", hundredths(g.Under+roomBeside), hundredths(2*(g.Under+roomBeside)))
}

// percent is a share for a message.
func percent(share float64) string { return hundredthsOf(math.Round(share*100)) + " %" }
