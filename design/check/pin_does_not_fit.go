package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/standards"
)

// PinDoesNotFit finds pins that do not go into one of their holes, that have play in
// one, or that nothing holds.
var PinDoesNotFit = Rule{
	Rule: finding.Rule{
		Name: "pin-does-not-fit", Severity: finding.Error,
		Reason: "A pin that has play does not place its part, and falls out; one that is too thick splits it or does not go in.",
		Remedy: "give the holes the pin's diameter: H7 for a parallel pin, H12 for one that springs",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachFastening(plan.Pin, func(a *plan.Assembly, j *plan.Joint, f standards.Fastener, places []layout.Fastening) {
			pin, least, most, class := pinLimits(f)
			loose := !captured(&places[0])
			s.eachBore(places, func(c *layout.Crossing, bore joint.Size) {
				play, tight := bore.High-pin.Least, bore.Low-pin.Most
				loose = loose && tight > 0
				say := ""
				switch {
				case play > most+pinWithin:
					say = fmt.Sprintf("may have %s of play, %s at most serves", microns(play), microns(most))
					loose = false // told
				case tight < least-pinWithin:
					say = fmt.Sprintf("may be %s too tight, it goes in with %s at most", microns(-tight), microns(-least))
				default:
					return
				}
				report(aboutLayer(a, j, c, fmt.Sprintf("%q in %q (%s%s) %s", places[0].Screw.Part.ID.Text, c.Word.Text, bore.Text, comesOut(bore), say), fmt.Sprintf("make the hole %s %s", mm(f.PinDiameter), class)))
			})
			if loose {
				report(aboutLayer(a, j, &places[0].Crossings[0], fmt.Sprintf("%q has play in every layer: nothing keeps it from falling out", places[0].Screw.Part.ID.Text), fmt.Sprintf("make one of the holes %s %s", mm(f.PinDiameter), class)))
			}
		})
	},
}

// comesOut says by how much printing makes a hole smaller, "" for other holes.
func comesOut(bore joint.Size) string {
	if bore.Printed <= 0 {
		return ""
	}
	return fmt.Sprintf(", comes out %s smaller", mm(bore.Printed))
}

// pinWithin (mm) is what limits may miss by before it counts: a rounding of tables.
const pinWithin = 5e-4

// springDrill (mm) is how much narrower than a spring pin its hole may come out: a
// drill's wear. Common practice, no source.
const springDrill = 0.05

// pinLimits are the limits of a pin's diameter, between which play a hole's may lie,
// and the class that its holes usually have.
func pinLimits(f standards.Fastener) (pin standards.Range, least, most float64, class string) {
	d := f.PinDiameter
	if f.Kind == standards.SpringPin {
		// It closes to its nominal diameter and needs a hole no wider than H12.
		_, upper, _ := standards.Limits(d, "H12")
		return standards.Range{Least: d, Most: d}, -springDrill, upper, "H12"
	}
	size := joint.PinSize(f)
	least, most, _ = joint.Bounds(plan.Push, d)
	return standards.Range{Least: size.Low, Most: size.High}, least, most, "H7"
}

// captured reports whether a pin cannot leave its holes at either end, however loose
// it is, or holds by its own spring.
func captured(f *layout.Fastening) bool {
	if f.Screw.Fastener.Kind == standards.SpringPin {
		return true
	}
	first, last := f.Crossings[0].Feature, f.Crossings[len(f.Crossings)-1].Feature
	return !first.Through && !last.Through && len(f.Crossings) > 1
}
