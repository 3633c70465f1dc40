package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"plansheaf/design/bill"
	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
)

// PartNamedTwice points out two parts that are one: made in the same way of the same
// stock with the same shape and holes, or bought by the same code. Two names for one
// standard have a rule of their own.
var PartNamedTwice = Rule{
	Rule: finding.Rule{
		Name: "part-named-twice", Severity: finding.Advice,
		Reason: "Two names for one part make two rows in every list, two drawings and two bags, and a change reaches one of them.",
		Remedy: "keep one of the names and use it in both places",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		all := w.Combinations()
		seen := map[string]*plan.Part{}
		for _, p := range w.Plan.Parts {
			if !w.has(p.ID.Text) {
				continue
			}
			keys := []string{soldAs(w.Plan, p)}
			keys = append(keys, madeAs(all, p))
			for _, k := range keys {
				if k == "" {
					continue
				}
				first := seen[k]
				if first == nil {
					seen[k] = p
					continue
				}
				report(finding.Finding{
					At: p.ID.At, Subject: p.ID.Text,
					Message: fmt.Sprintf("%q is the same as %q: %s", p.ID.Text, first.ID.Text, sameIn(p)),
					Also:    []finding.Related{{At: first.ID.At, Say: "the other name"}},
				})
				break
			}
		}
	},
}

func sameIn(p *plan.Part) string {
	if p.Made.Text == plan.Bought || p.Made.Text == plan.Consumable {
		return "the same supplier sells both by one code"
	}
	if p.Stock.Given() {
		return "made alike, of the same stock, with the same shape and holes"
	}
	return "made alike, of the same material, with the same shape and holes"
}

// soldAs is the supplier and code of a bought part, "" where the plan gives none.
func soldAs(p *plan.Plan, part *plan.Part) string {
	if part.Made.Text != plan.Bought && part.Made.Text != plan.Consumable {
		return ""
	}
	sale := bill.SaleOf(p, part.ID.Text, part.Buy)
	if sale == nil || sale.Supplier == "" || sale.Code.Value == "" {
		return ""
	}
	return "sold|" + sale.Supplier + "|" + sale.Code.Value
}

// madeAs is everything that a made part's maker needs to know, under every combination
// of choices; "" for parts that nobody makes, or whose shape is not known.
func madeAs(all []*Situation, p *plan.Part) string {
	if !slices.Contains([]string{plan.Cut, plan.Sheet, plan.Machined, plan.Turned, plan.Printed}, p.Made.Text) {
		return ""
	}
	key := []string{p.Made.Text, p.Stock.Text, p.Lies.Text, p.Finish.Value, holesOf(p)}
	for _, f := range p.Files { // what a file makes may differ where the plan's shape does not
		key = append(key, f.File.Text)
	}
	for _, s := range all {
		worked := s.Reckoning.Part(p.ID.Text)
		if worked == nil || worked.Solid == nil {
			return ""
		}
		key = append(key, worked.Material.ID, fingerprint(worked))
	}
	return strings.Join(key, "|")
}

// holesOf are the kinds of a part's holes: one that is tapped is no plain one, though
// both may be as wide.
func holesOf(p *plan.Part) string {
	var kinds []string
	for _, h := range p.Holes {
		kinds = append(kinds, h.Kind.Text+" "+h.Thread.Text+" "+h.Fit.Text)
	}
	slices.Sort(kinds)
	return strings.Join(kinds, ", ")
}

// fingerprint tells shapes apart, mirror images too: size, volume, surface, centre and
// inertia, rounded to what workshops cannot measure.
func fingerprint(p *reckon.Part) string {
	m, box := p.Measures, p.Solid.Box()
	origin := box.Min
	size, centre := box.Max.Sub(origin), m.Centre.Sub(origin)
	numbers := []float64{size.X, size.Y, size.Z, centre.X, centre.Y, centre.Z, m.Volume, m.Area}
	for i := range m.Inertia {
		numbers = append(numbers, m.Inertia[i][:]...)
	}
	scale := math.Max(1, math.Max(size.X, math.Max(size.Y, size.Z)))
	var b strings.Builder
	for i, x := range numbers {
		unit := 1e-4 // mm
		switch {
		case i == 6:
			unit *= scale * scale
		case i == 7:
			unit *= scale
		case i > 7:
			unit *= math.Pow(scale, 4)
		}
		fmt.Fprintf(&b, "%.0f ", x/unit+0) // adding nothing makes −0 plain 0
	}
	return b.String()
}
