package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
)

// leastWall is how much material a hole must have beside it, in diameters of its
// screw: common practice for joints that carry little, no source. Joints in shear need
// more: 1.2 holes from the middle to the edge (EN 1993-1-8, table 3.3).
// A set screw pushes its hole open less than a tightened screw pulls at it.
const (
	leastWall    = 0.5
	leastWallSet = 0.25
)

// HoleNearEdge finds screw holes with too little material beside them.
var HoleNearEdge = Rule{
	Rule: finding.Rule{
		Name: "hole-near-edge", Severity: finding.Warning,
		Reason: "The drill breaks out, or the rim tears when the screw is tightened.",
		Remedy: "move the hole inward, make the part wider, or take a thinner screw",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		s.eachStack(func(a *plan.Assembly, j *plan.Joint, places []joint.Stack) {
			if _, is := s.mismatched(a, j); is {
				return
			}
			for i := range j.Through {
				say := func(p *joint.Stack) string {
					if i >= len(p.Crossings) {
						return ""
					}
					return wallText(p, &p.Crossings[i])
				}
				placesSaying(places, say, func(text string, at []joint.Stack) {
					f := s.aboutScrew(a, j, at, len(places), text)
					f.At = at[0].Crossings[i].Word.At
					report(f)
				})
			}
		})
	},
}

// wallText says how thin the wall beside a hole is, "" where it is thick enough. What
// is bought is as its maker found it good; a screw in a slotted bar's core has the
// walls that such bars have.
func wallText(p *joint.Stack, c *layout.Crossing) string {
	stock := c.Part.Stock
	if c.Part.Part.Made.Text == plan.Bought || stock != nil && stock.Section != nil && stock.Section.Kind.Text == "slotted" {
		return ""
	}
	depth := c.Feature.Depth / 2
	least := leastWall * p.Thread.Major
	if p.Headless() {
		depth, least = (p.To-p.From)/2, leastWallSet*p.Thread.Major
	}
	wall, ok := joint.Wall(c, depth)
	if !ok || wall >= least-lengthWithin {
		return ""
	}
	return fmt.Sprintf("beside %q %s of material are left at the thinnest, %s wants %s", c.Word.Text, hundredths(wall), p.Thread.Name, hundredths(least))
}
