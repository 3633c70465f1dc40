package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
)

// TelescopeDrawnOtherwise finds telescoping parts whose shapes do not agree with the
// closed length and the stroke that they state.
var TelescopeDrawnOtherwise = Rule{
	Rule: finding.Rule{
		Name: "telescope-drawn-otherwise", Severity: finding.Warning,
		Reason: "One of the two is wrong: what is bought will not be as long as what is drawn, or comes apart before its stroke ends.",
		Remedy: "measure the part from end to end, closed and open, and give closed, stroke and shapes alike",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		said := map[*plan.Part]bool{}
		for _, t := range s.Layout.Telescopes() {
			stretches, _ := s.Reckoning.Telescope(t.Instance.Part)
			if stretches == nil || said[t.Instance.Part] {
				continue
			}
			says, at := drawnOtherwise(t, stretches)
			if says == "" {
				continue
			}
			said[t.Instance.Part] = true
			report(finding.Finding{At: at, Subject: t.Instance.Part.ID.Text, Message: says})
		}
	},
}

// drawnOtherwise says how a part's shapes disagree with what it states; "" where they
// agree.
func drawnOtherwise(t layout.Telescope, stretches *plan.Telescope) (says string, at finding.Span) {
	id := t.Instance.Part.ID.Text
	switch {
	case t.Drawn < t.Closed-reachWithin:
		return fmt.Sprintf("%q is %s from end to end when closed, and its shapes are drawn with %s", id, hundredths(t.Closed), hundredths(t.Drawn)), stretches.Closed.At
	case t.Drawn > t.Closed+t.Stroke+reachWithin:
		return fmt.Sprintf("%q reaches %s from end to end, and its shapes are drawn with %s", id, hundredths(t.Closed+t.Stroke), hundredths(t.Drawn)), stretches.Stroke.At
	case t.Apart() > reachWithin:
		return fmt.Sprintf("what comes out of %q reaches %s inside and has to come out %s: at full stroke it has left by %s",
			id, hundredths(t.Inside), hundredths(t.Inside+t.Apart()), hundredths(t.Apart())), stretches.Stroke.At
	}
	return "", finding.Span{}
}
