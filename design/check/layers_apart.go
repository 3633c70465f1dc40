package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/plan"
)

// LayersApart finds joints whose layers do not lie on each other.
var LayersApart = Rule{
	Rule: finding.Rule{
		Name: "layers-apart", Severity: finding.Warning,
		Reason: "Tightening bends the parts into the gap, or what fills it is missing from the joint.",
		Remedy: "close the gap, or name what lies between as a layer",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachStack(func(a *plan.Assembly, j *plan.Joint, places []joint.Stack) {
			placesSaying(places, gapText, func(text string, at []joint.Stack) {
				f := s.aboutScrew(a, j, at, len(places), text)
				f.At = gapWord(&at[0]).At
				report(f)
			})
		})
	},
}

// gapWithin (mm) is the gap between two layers that a screw draws shut without being
// noticed.
const gapWithin = 0.05

func gapText(p *joint.Stack) string {
	for i, gap := range p.Gaps {
		if gap > gapWithin {
			return fmt.Sprintf("%q and %q are %s apart", p.Crossings[i].Word.Text, p.Crossings[i+1].Word.Text, hundredths(gap))
		}
	}
	return ""
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
