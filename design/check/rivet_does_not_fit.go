package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/solid"
	"plansheaf/design/standards"
)

// RivetDoesNotFit finds blind rivets that hold another thickness than their layers
// have, and holes that are too narrow or too wide for them.
var RivetDoesNotFit = Rule{
	Rule: finding.Rule{
		Name: "rivet-does-not-fit", Severity: finding.Error,
		Reason: "A rivet that is too short forms no head behind, one that is too long stays loose; in too wide a hole it is drawn through.",
		Remedy: "take the length whose grip holds the layers, and drill 0.1 to 0.2 mm wider than the rivet",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachFastening(plan.Rivet, func(a *plan.Assembly, j *plan.Joint, f standards.Fastener, places []layout.Fastening) {
			name := places[0].Screw.Part.ID.Text
			s.eachBore(places, func(c *layout.Crossing, bore joint.Size) {
				say := ""
				switch {
				case bore.Low < f.Hole.Least-rivetNarrow:
					say = "does not go into"
				case bore.High > f.Hole.Most+rivetWide && c.Feature.Hole.Kind != solid.Obround:
					say = "has too much play in"
				default:
					return
				}
				report(aboutLayer(a, j, c, fmt.Sprintf("%q %s %q (%s%s), its hole is %s to %s wide", name, say, c.Word.Text, bore.Text, comesOut(bore), mm(f.Hole.Least), mm(f.Hole.Most)), fmt.Sprintf("write bore: %s", mm(f.Hole.Least))))
			})
			said := map[string]bool{}
			for i := range places {
				p := &places[i]
				thick := s.joints().Thick(p)
				text := gripText(p, f, thick)
				if text == "" || said[text] {
					continue
				}
				said[text] = true
				names := lengthsFrom(f, func(o standards.Fastener) bool { return o.Grip.Holds(thick) })
				report(aboutLayer(a, j, &p.Crossings[len(p.Crossings)-1], fmt.Sprintf("%q %s", name, text), takeFirst(names)))
			}
		})
	},
}

// rivetNarrow and rivetWide (mm) are what a rivet's hole may miss the standard's range
// by: drills come in tenths. Common practice, no source.
const (
	rivetNarrow = 0.05
	rivetWide   = 0.1
)

// gripText says how a rivet's length misses its layers, "" where it holds them.
func gripText(p *layout.Fastening, f standards.Fastener, thick float64) string {
	for i := 1; i < len(p.Crossings); i++ {
		if gap := p.Crossings[i].Enter - p.Crossings[i-1].Leave; gap > gapWithin {
			return fmt.Sprintf("would draw %q and %q together, which are %s apart", p.Crossings[i-1].Word.Text, p.Crossings[i].Word.Text, hundredths(gap))
		}
	}
	if f.Grip.Most <= 0 || f.Grip.Holds(thick) {
		return ""
	}
	return fmt.Sprintf("holds %s to %s, its layers are %s thick together", mm(f.Grip.Least), mm(f.Grip.Most), hundredths(thick))
}
