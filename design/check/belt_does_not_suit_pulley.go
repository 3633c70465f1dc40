package check

import (
	"fmt"
	"math"

	"plansheaf/design/finding"
	"plansheaf/design/layout"
)

// BeltDoesNotSuitPulley finds belts of another pitch than their pulleys, or wider
// than these.
var BeltDoesNotSuitPulley = Rule{
	Rule: finding.Rule{
		Name: "belt-does-not-suit-pulley", Severity: finding.Error,
		Reason: "The belt does not mesh with its pulley, or does not go between its flanges.",
		Remedy: "buy belt and pulley of one pitch, the pulley for the belt's width or a wider one",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		for _, b := range s.Layout.Belts() {
			subject, also := instanceSubject(b.Instance)
			for _, p := range b.Pulleys {
				if says := unsuited(b, p); says != "" {
					report(finding.Finding{At: p.Ref.At, Subject: subject, Message: says, Also: []finding.Related{also}})
				}
			}
		}
	},
}

// unsuited says why a belt does not run on a pulley; "" where it does.
func unsuited(b *layout.Belt, p layout.Pulley) string {
	id := p.Part.Part.ID.Text
	switch {
	case p.Teeth > 0 && math.Abs(p.Pitch-b.Pitch) > 1e-3:
		return fmt.Sprintf("the belt has a pitch of %s, the teeth of %q one of %s", mm(b.Pitch), id, mm(p.Pitch))
	case p.Width > 0 && p.Width < b.Width-1e-6:
		return fmt.Sprintf("the belt is %s wide, %q takes %s", mm(b.Width), id, hundredths(p.Width))
	}
	return ""
}
