package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/standards"
)

// A screw forms its thread in a bore between these shares of its diameter: narrower
// and it sticks or splits the part, wider and it holds nothing. Common practice for
// screws in plastic, no source.
const (
	tightestForming = 0.78
	loosestForming  = 0.93
	usualForming    = 0.84
)

// A wood screw's pilot hole lies between these shares of its diameter: the wider ones
// for hard wood. Wider still and the thread bites in little, narrower and a board
// splits. Common practice, no source.
const (
	tightestPilot = 0.4
	loosestPilot  = 0.8
	usualPilot    = 0.6
)

// FormingBoreWrong finds bores in which a screw is to form its own thread, and pilot
// holes of wood screws, that are too narrow or too wide for it.
var FormingBoreWrong = Rule{
	Rule: finding.Rule{
		Name: "forming-bore-wrong", Severity: finding.Warning,
		Reason: "In too wide a bore the screw holds nothing, in too narrow a one it sticks half way or splits the part.",
		Remedy: "make the bore about five sixths of the screw's diameter, a wood screw's pilot hole three fifths",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		for _, p := range s.Reckoning.Plan.Parts {
			for _, h := range p.Holes {
				if t, ok := standards.ThreadByName(h.Thread.Text); ok && h.Kind.Text == plan.Forms {
					if text, remedy := s.boreText(h, tightestForming*t.Major, loosestForming*t.Major, usualForming*t.Major); text != "" {
						report(finding.Finding{At: h.Diameter.At, Subject: p.ID.Text + "." + h.ID.Text, Message: fmt.Sprintf("%s for %s to form its thread in", text, t.Name), Remedy: remedy})
					}
				}
			}
		}
		s.eachPassing(func(p passing) {
			h := p.spot.Hole
			if h == nil || !p.wood() || !p.bites || h.Kind.Text != plan.Bore {
				return
			}
			d := p.thread.Major
			if text, remedy := s.boreText(h, tightestPilot*d, loosestPilot*d, usualPilot*d); text != "" {
				report(p.finding(fmt.Sprintf("%s as a pilot hole for the wood screw %q, which is %s thick", text, p.screw.Part.ID.Text, mm(d)), remedy))
			}
		})
	},
}

// boreText says what is wrong with a bore that is to lie between two widths, "" where
// nothing is, and how wide it usually is.
func (s *Situation) boreText(h *plan.Hole, least, most, usual float64) (text, remedy string) {
	bore, ok := s.Reckoning.Length(h.Diameter)
	if !ok || bore >= least && bore <= most {
		return "", ""
	}
	word := "wide"
	if bore < least {
		word = "narrow"
	}
	return fmt.Sprintf("a bore of %s is too %s", mm(bore), word), fmt.Sprintf("make it some %s", mm(roundedTo(usual, 0.1)))
}
