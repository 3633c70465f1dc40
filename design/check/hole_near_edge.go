package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/standards"
)

// leastWall is how much material a hole must have beside it, in diameters of its
// screw: common practice for joints that carry little, no source. Joints in shear need
// more: 1.2 holes from the middle to the edge (EN 1993-1-8, table 3.3).
// A set screw pushes its hole open less than a tightened screw pulls at it.
const (
	leastWall    = 0.5
	leastWallSet = 0.25
	// rivetEdge is how far from an edge the middle of a blind rivet's hole lies at least, in
	// diameters of the rivet: common practice in sheet metal; EN 1999-1-1, table 8.2, has 2
	// and 1.5 holes as regular and 1.2 as the least (from memory).
	rivetEdge = 2.0
)

// HoleNearEdge finds holes for screws and rivets with too little material beside them.
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
					return s.wallText(p, &p.Crossings[i])
				}
				placesSaying(places, say, func(text string, at []joint.Stack) {
					f := s.aboutScrew(a, j, at, len(places), text)
					f.At = at[0].Crossings[i].Word.At
					report(f)
				})
			}
		})
		s.eachFastening(plan.Rivet, func(a *plan.Assembly, j *plan.Joint, f standards.Fastener, places []layout.Fastening) {
			said := map[finding.Span]bool{}
			for i := range places {
				for k := range places[i].Crossings {
					c := &places[i].Crossings[k]
					text := s.rivetEdgeText(f, c)
					if text == "" || said[c.Word.At] {
						continue
					}
					said[c.Word.At] = true
					report(aboutLayer(a, j, c, text, "move the hole inward, make the part wider, or take a thinner rivet"))
				}
			}
		})
	},
}

// rivetEdgeText says how near to an edge a rivet's hole lies, "" where it is far enough.
func (s *Situation) rivetEdgeText(f standards.Fastener, c *layout.Crossing) string {
	if c.Part.Part.Made.Text == plan.Bought {
		return ""
	}
	wall, ok := s.joints().Wall(c, c.Feature.Depth/2)
	least := rivetEdge * f.PinDiameter
	if !ok || wall+c.Feature.D/2 >= least-lengthWithin {
		return ""
	}
	return fmt.Sprintf("the middle of %q lies %s from the edge or the next hole, a rivet of %s wants %s", c.Word.Text, hundredths(wall+c.Feature.D/2), mm(f.PinDiameter), hundredths(least))
}

// wallText says how thin the wall beside a hole is, "" where it is thick enough. What
// is bought is as its maker found it good; a screw in a slotted bar's core has the
// walls that such bars have.
func (s *Situation) wallText(p *joint.Stack, c *layout.Crossing) string {
	stock := c.Part.Stock
	if c.Part.Part.Made.Text == plan.Bought || stock != nil && stock.Section != nil && stock.Section.Kind.Text == "slotted" {
		return ""
	}
	depth := c.Feature.Depth / 2
	least := leastWall * p.Thread.Major
	if p.Headless() {
		depth, least = (p.To-p.From)/2, leastWallSet*p.Thread.Major
	}
	wall, ok := s.joints().Wall(c, depth)
	if !ok || wall >= least-lengthWithin {
		return ""
	}
	return fmt.Sprintf("beside %q %s of material are left at the thinnest, %s wants %s", c.Word.Text, hundredths(wall), p.Thread.Name, hundredths(least))
}
