package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/risk"
)

// FuseTooLarge finds fuses that let more current through than a wire that they
// guard bears.
var FuseTooLarge = Rule{
	Rule: finding.Rule{
		Name: "fuse-too-large", Severity: finding.Error,
		Reason: "The wire would overheat before the fuse opens.",
		Remedy: "take a smaller fuse or a thicker wire",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, p := range w.Plan.Parts {
			amperes, known := rating(w, p)
			if !known {
				continue
			}
			for _, g := range p.Guards {
				wire := w.Plan.Part(g.Text)
				if wire == nil || wire.Strand == nil || !wire.Strand.Area.Given() {
					continue
				}
				area, ok := w.Default().Reckoning.QuantityIn(wire.Strand.Area, quantity.Area)
				if !ok {
					continue
				}
				bears, listed := risk.WireCarries(area.SI * 1e6)
				if !listed || amperes <= bears {
					continue
				}
				f := finding.Finding{
					At: g.At, Subject: p.ID.Text,
					Message: fmt.Sprintf("%q opens above %g A, and %q of %s bears %g A", p.ID.Text, amperes, g.Text, quantity.Text(area, quantity.Metric), bears),
					Also:    []finding.Related{{At: wire.ID.At, Say: "the wire"}},
				}
				if thicker, ok := risk.WireFor(amperes); ok {
					f.Remedy = fmt.Sprintf("take a fuse of %g A, or a wire of %g mm²", bears, thicker)
				}
				report(f)
			}
		}
	},
}

// rating is the current in amperes above which a fuse opens: its property fuse, or
// current.
func rating(w *Work, p *plan.Part) (amperes float64, ok bool) {
	for _, name := range []string{"fuse", "current"} {
		for _, h := range p.Has {
			if h.Name.Text == name {
				v, known := w.Default().Reckoning.QuantityIn(h.Is, quantity.Current)
				return v.SI, known
			}
		}
	}
	return 0, false
}
