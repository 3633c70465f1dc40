package check

import (
	"fmt"
	"math"
	"slices"

	"plansheaf/design/finding"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/solid"
	"plansheaf/design/standards"
)

// PinLengthWrong finds pins that stand on the floor of their hole before the parts
// meet, and pins that reach too little into a layer.
var PinLengthWrong = Rule{
	Rule: finding.Rule{
		Name: "pin-length-wrong", Severity: finding.Error,
		Reason: "A pin that is too long keeps the parts apart or stands out; one that is too short tilts in its hole and places nothing.",
		Remedy: "take a pin that reaches a diameter deep into each layer and no deeper than its holes",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachFastening(plan.Pin, func(a *plan.Assembly, j *plan.Joint, f standards.Fastener, places []layout.Fastening) {
			said := map[string]bool{}
			for i := range places {
				p := &places[i]
				text := pinText(p, f)
				if text == "" || said[text] {
					continue
				}
				said[text] = true
				names := lengthsFrom(f, func(o standards.Fastener) bool {
					return pinText(p, o) == "" && o.Length <= p.Crossings[len(p.Crossings)-1].Leave+pinWithin
				})
				slices.Reverse(names) // the longest that goes in
				report(aboutLayer(a, j, &p.Crossings[len(p.Crossings)-1], fmt.Sprintf("%q %s", p.Screw.Part.ID.Text, text), takeFirst(names)))
			}
		})
	},
}

// pinReach is how deep a pin is to reach into each layer, in diameters, or through all
// of a thinner one: common practice, no source.
const pinReach = 1.0

// pinText says in which way a pin's length does not serve, "" where it does.
func pinText(p *layout.Fastening, f standards.Fastener) string {
	for i := range p.Crossings {
		c := &p.Crossings[i]
		in := math.Min(f.Length, c.Leave) - math.Max(0, c.Enter)
		if least := math.Min(pinReach*f.PinDiameter, c.Leave-math.Max(0, c.Enter)); in < least-pinWithin {
			return fmt.Sprintf("is %s long and reaches %s into %q, %s are wanted", mm(f.Length), hundredths(math.Max(0, in)), c.Word.Text, hundredths(least))
		}
	}
	last := &p.Crossings[len(p.Crossings)-1]
	if last.Feature.Kind == solid.HoleFeature && !last.Feature.Through && f.Length > last.Leave+pinWithin {
		return fmt.Sprintf("is %s long and stands on the floor of %q: its holes are %s deep together", mm(f.Length), last.Word.Text, hundredths(last.Leave))
	}
	return ""
}
