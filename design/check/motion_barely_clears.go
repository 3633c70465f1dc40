package check

import (
	"fmt"

	"plansheaf/design/clash"
	"plansheaf/design/finding"
	"plansheaf/design/reckon"
)

// MotionBarelyClears finds motions on whose way two bodies that nothing guides along
// each other come nearer than their making lets one rely on.
var MotionBarelyClears = Rule{
	Rule: finding.Rule{
		Name: "motion-barely-clears", Severity: finding.Warning,
		Reason: "Within the usual tolerances of both, some machines built from the plan will rub there.",
		Remedy: "leave more room, or tolerance what makes up the gap",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		for _, t := range s.Clashes().Travels {
			c := t.Least
			if c == nil || c.Gap >= clash.Slight {
				continue
			}
			least := ""
			if c.AtLeast {
				least = "at least "
			}
			text := fmt.Sprintf("%q clears %q by %s%s with %s%s, at %s of the machine", c.A.Name(), c.B.Name(), least, hundredths(c.Gap), s.standsText(t.Motion, c.Stands), s.othersText(c.Others), placeText(c.At))
			f := s.about(commonHolder(c.A, c.B), c.A, c.B, text)
			f.Also = append(f.Also, motionAt(t.Motion))
			report(f)
		}
	},
}

// commonHolder is the innermost assembly that holds two bodies.
func commonHolder(a, b *clash.Body) *reckon.Instance {
	return holderOf(clash.Loose{Bodies: []*clash.Body{a, b}})
}
