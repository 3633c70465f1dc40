package check

import (
	"fmt"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// PatternPartlyUsed finds patterns of which joints use some holes and leave others
// empty, whatever the builder chooses.
var PatternPartlyUsed = Rule{
	Rule: finding.Rule{
		Name: "pattern-partly-used", Severity: finding.Advice,
		Reason: "The builder drills all of the pattern and finds screws for some of it only.",
		Remedy: "name the whole pattern in the joint, make the pattern smaller, or say with note what the empty holes are for",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		for _, p := range w.Plan.Parts {
			if p.Made.Text == plan.Bought {
				continue
			}
			for _, h := range p.Holes {
				if empty, all := emptyHoles(w, p, h); len(empty) > 0 && len(empty) < all {
					report(finding.Finding{
						At: h.ID.At, Subject: p.ID.Text + "." + h.ID.Text,
						Message: fmt.Sprintf("no joint uses %s of the %d holes %q", strings.Join(empty, ", "), all, h.ID.Text),
						Also:    []finding.Related{{At: p.ID.At, Say: fmt.Sprintf("in part %q", p.ID.Text)}},
					})
				}
			}
		}
	},
}

// emptyHoles are the numbers of a pattern's holes that no case uses.
func emptyHoles(w *Work, p *plan.Part, h *plan.Hole) (empty []string, all int) {
	all, numbered := w.Default().Reckoning.PatternCount(h)
	if !numbered || isPlain(h) || h.Note.Given() || all > mostListed {
		return nil, all
	}
	for n := 1; n <= all; n++ {
		if !w.any(func(s *Situation) bool { return s.usedHole(p.ID.Text, h.ID.Text, n) }) {
			empty = append(empty, quantity.Text(quantity.Number(float64(n)), quantity.Metric))
		}
	}
	return empty, all
}

// mostListed is the largest pattern whose holes are looked at one by one; a larger
// one is a perforated sheet.
const mostListed = 200
