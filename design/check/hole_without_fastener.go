package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// HoleWithoutFastener finds holes made for a fastener that no joint uses and no
// note explains. A plain bore may stay empty: it vents, drains, saves mass or lets
// something through. Holes that a bought part comes with are nobody's work.
var HoleWithoutFastener = Rule{
	Rule: finding.Rule{
		Name: "hole-without-fastener", Severity: finding.Warning,
		Reason: "The builder drills it, then finds no screw for it.",
		Remedy: "name the hole in a joint, say with note what it is for, or make it a plain bore",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		for _, p := range s.Reckoning.Plan.Parts {
			if p.Made.Text == plan.Bought || !s.has(p.ID.Text) {
				continue
			}
			for _, h := range p.Holes {
				if isPlain(h) || h.Note.Given() || s.usedHole(p.ID.Text, h.ID.Text, 0) {
					continue
				}
				report(finding.Finding{
					At: h.ID.At, Subject: p.ID.Text + "." + h.ID.Text,
					Message: fmt.Sprintf("no joint uses the %s %q", holeWords(h), h.ID.Text),
					Also:    []finding.Related{{At: p.ID.At, Say: fmt.Sprintf("in part %q", p.ID.Text)}},
				})
			}
		}
	},
}

// isPlain reports whether a hole is a bore without a seat for a head.
func isPlain(h *plan.Hole) bool {
	return h.Kind.Text == plan.Bore && h.Counterbore == nil && h.Countersink == nil
}

// holeWords say what kind of hole it is.
func holeWords(h *plan.Hole) string {
	switch h.Kind.Text {
	case plan.Tap:
		return h.Thread.Text + " tapped hole"
	case plan.For:
		return "clearance hole for " + h.Thread.Text
	case plan.Forms:
		return "hole in which " + h.Thread.Text + " forms its thread"
	case plan.Insert:
		return "seat for an insert " + h.Thread.Text
	case plan.SlotHole:
		return "long hole"
	}
	return "bore"
}
