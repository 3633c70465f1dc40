package check

import (
	"fmt"
	"math"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/solid"
)

// LayersApart finds joints whose layers, or glued faces, do not lie on each other.
var LayersApart = Rule{
	Rule: finding.Rule{
		Name: "layers-apart", Severity: finding.Warning,
		Reason: "Tightening bends the parts into the gap, or what fills it is missing from the joint.",
		Remedy: "close the gap, or name what lies between as a layer",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachStack(func(a *plan.Assembly, j *plan.Joint, places []joint.Stack) {
			say := func(p *joint.Stack) string {
				if gapShort(p) || s.pushedOff(p) {
					return "" // told of the screw that does not reach across, or of what is in the way
				}
				return gapText(p)
			}
			placesSaying(places, say, func(text string, at []joint.Stack) {
				f := s.aboutScrew(a, j, at, len(places), text)
				f.At = gapWord(&at[0]).At
				report(f)
			})
		})
		s.eachJoint(func(a *plan.Assembly, j *plan.Joint) {
			if j.Kind.Text != plan.Glue {
				return
			}
			for _, at := range s.joints().Matings(a, j) {
				flat := at.Mine.Feature.Kind == solid.FlatFace && at.Theirs.Feature.Kind == solid.FlatFace
				if text := glueText(at); flat && text != "" {
					report(finding.Finding{At: at.Theirs.Word.At, Subject: jointSubject(a, j), Message: text, Also: []finding.Related{{At: at.Mine.Word.At, Say: "what is glued on"}}})
				}
			}
		})
	},
}

// glueFills (mm) is the gap between faces that glue fills: common practice, no source.
const glueFills = 0.5

// glueText says how two glued faces do not meet, "" where they do.
func glueText(at layout.Mating) string {
	name := fmt.Sprintf("%q and %q", at.Mine.Spot.Path+"."+at.Mine.Spot.Feature, at.Theirs.Spot.Path+"."+at.Theirs.Spot.Feature)
	switch {
	case at.Tilt > joint.Straight:
		return fmt.Sprintf("%s are to be glued and stand at an angle of %s°", name, hundredthsOf(at.Tilt*180/math.Pi))
	case at.Aside > glueFills:
		return fmt.Sprintf("%s are to be glued and are %s apart", name, hundredths(at.Aside))
	}
	return ""
}

// gapWithin (mm) is the gap between two layers that a screw draws shut without being
// noticed.
const gapWithin = 0.05

func gapText(p *joint.Stack) string {
	var texts []string
	for i, gap := range p.Gaps {
		if gap > gapWithin {
			texts = append(texts, fmt.Sprintf("%q and %q are %s apart", p.Crossings[i].Word.Text, p.Crossings[i+1].Word.Text, hundredths(gap)))
		}
	}
	return strings.Join(texts, ", ")
}

// gapWord names the layer behind the first gap.
func gapWord(p *joint.Stack) plan.Word {
	for i, gap := range p.Gaps {
		if gap > gapWithin {
			return p.Crossings[i+1].Word
		}
	}
	return p.Last().Word
}

// gapShort reports whether a screw is too short only because its layers lie apart.
func gapShort(p *joint.Stack) bool {
	gap := gapOf(p)
	return gap > gapWithin && p.Length > 0 && p.Catch != joint.Nothing && p.Length < p.Least()-lengthWithin && p.Length+gap >= p.Least()-lengthWithin
}

// gapOf is all that a place's layers lie apart.
func gapOf(p *joint.Stack) float64 {
	total := 0.0
	for _, gap := range p.Gaps {
		total += max(gap, 0)
	}
	return total
}
