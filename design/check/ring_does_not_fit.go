package check

import (
	"fmt"
	"math"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/standards"
)

// RingDoesNotFit finds retaining rings whose groove has other sizes than their
// standard asks for, or sits too near the end of its shaft or bore.
var RingDoesNotFit = Rule{
	Rule: finding.Rule{
		Name: "ring-does-not-fit", Severity: finding.Error,
		Reason: "The ring does not go into its groove, or jumps out under load.",
		Remedy: "cut the groove as the ring's standard has it",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachFastening(plan.Ring, func(a *plan.Assembly, j *plan.Joint, f standards.Fastener, places []layout.Fastening) {
			said := map[finding.Span]bool{}
			for i := range places {
				c := &places[i].Crossings[0]
				g, known := joint.GrooveAt(&places[i])
				if !known || said[c.Word.At] {
					continue
				}
				if text, remedy := grooveText(g, f.Groove); text != "" {
					said[c.Word.At] = true
					report(aboutLayer(a, j, c, fmt.Sprintf("%q needs %s; %q has %s", places[i].Screw.Part.ID.Text, remedy, c.Word.Text, text), "make it "+remedy))
				}
			}
		})
	},
}

const (
	// grooveWithin (mm) is what a groove's drawn diameter, or that of its shaft or bore,
	// may miss by: the tolerances of DIN 471 and 472 are as wide for small rings.
	grooveWithin = 0.05
	// grooveWide (mm) is how much wider than in the standard (H13) a groove may be drawn.
	grooveWide = 0.2
)

// grooveText says what a groove has in place of what its ring needs, "" where it is as
// the standard has it.
func grooveText(g joint.Groove, want standards.Groove) (has, needs string) {
	where := "shaft"
	if want.Inside {
		where = "bore"
	}
	switch {
	case g.Floor == 0 || math.Abs(g.Floor-want.Diameter) > grooveWithin:
		return diameterText("a floor of ", g.Floor), "a groove of " + mm(want.Diameter)
	case g.Open:
		return "an open side", "a groove with two walls"
	case math.Abs(g.Seat-want.Seat) > grooveWithin:
		return diameterText("a "+where+" of ", g.Seat), "a " + where + " of " + mm(want.Seat)
	case g.Width < want.Width-grooveWithin/10 || g.Width > want.Width+grooveWide:
		return hundredths(g.Width), "a groove " + mm(want.Width) + " wide"
	case g.Edge < want.Edge-pinWithin:
		return hundredths(g.Edge), mm(want.Edge) + " of " + where + " between groove and end"
	}
	return "", ""
}

// diameterText is a measured diameter with what it is of; what is missing is said.
func diameterText(what string, d float64) string {
	if d == 0 {
		return "none"
	}
	return what + hundredths(d)
}
