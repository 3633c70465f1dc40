package check

import (
	"fmt"
	"math"

	"plansheaf/design/finding"
	"plansheaf/design/layout"
)

const (
	// beltOff (mm) is how far the middles of two pulleys may lie apart along their
	// axes before a toothed belt climbs the flange; common practice, no source.
	beltOff = 0.5
	// beltTilt (radians) is how far their axes may point apart: a quarter of a degree,
	// common practice, no source.
	beltTilt = 0.25 * math.Pi / 180
)

// BeltOutOfLine finds belts whose pulleys do not stand in one plane, at rest or at
// the ends of the motions.
var BeltOutOfLine = Rule{
	Rule: finding.Rule{
		Name: "belt-out-of-line", Severity: finding.Error,
		Reason: "The belt runs off its pulleys or wears away at a flange.",
		Remedy: "bring the middles of the pulleys into one plane, with their axes side by side",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		if len(s.Layout.Belts()) == 0 {
			return
		}
		said := map[string]bool{} // each pulley once, in the first pose that shows it
		for _, p := range s.poses() {
			for _, b := range p.layout.Belts() {
				subject, also := instanceSubject(b.Instance)
				for _, pulley := range b.Pulleys {
					says := outOfLine(b, pulley)
					key := b.Instance.Path + "|" + pulley.Path
					if says == "" || said[key] {
						continue
					}
					said[key] = true
					report(finding.Finding{At: pulley.Ref.At, Subject: subject, Message: p.at(says), Also: []finding.Related{also}})
				}
			}
		}
	},
}

// outOfLine says how a pulley stands off the plane of the first; "" where it does not.
func outOfLine(b *layout.Belt, p layout.Pulley) string {
	first := b.Pulleys[0].Ref.Text
	switch {
	case p.Tilt > beltTilt:
		return fmt.Sprintf("the axis of %q points %.3g° past that of %q", p.Ref.Text, p.Tilt*180/math.Pi, first)
	case math.Abs(p.Off) > beltOff:
		return fmt.Sprintf("the belt runs %s out of line: so far lies the middle of %q from that of %q along the axis", hundredths(math.Abs(p.Off)), p.Ref.Text, first)
	}
	return ""
}
