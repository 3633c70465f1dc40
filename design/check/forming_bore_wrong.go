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

// FormingBoreWrong finds bores in which a screw is to form its own thread and that
// are too narrow or too wide for it.
var FormingBoreWrong = Rule{
	Rule: finding.Rule{
		Name: "forming-bore-wrong", Severity: finding.Warning,
		Reason: "In too wide a bore the screw holds nothing, in too narrow a one it sticks half way or splits the part.",
		Remedy: "make the bore about five sixths of the screw's diameter",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, p := range w.Plan.Parts {
			for _, h := range p.Holes {
				t, ok := standards.ThreadByName(h.Thread.Text)
				if h.Kind.Text != plan.Forms || !ok {
					continue
				}
				bore, ok := w.Default().Reckoning.Length(h.Diameter)
				if !ok || bore >= t.Major*tightestForming && bore <= t.Major*loosestForming {
					continue
				}
				word := "wide"
				if bore < t.Major*tightestForming {
					word = "narrow"
				}
				report(finding.Finding{
					At: h.Diameter.At, Subject: p.ID.Text + "." + h.ID.Text,
					Message: fmt.Sprintf("a bore of %s is too %s for %s to form its thread in", mm(bore), word, t.Name),
					Remedy:  fmt.Sprintf("make it some %s", mm(roundedTo(t.Major*usualForming, 0.1))),
				})
			}
		}
	},
}
