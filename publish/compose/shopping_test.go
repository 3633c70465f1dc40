package compose_test

import (
	"strings"
	"testing"

	"plansheaf/design/check"
	"plansheaf/design/trial"
	"plansheaf/publish/page"
)

// shop is a machine bought from two suppliers, in other packs and at other shipping by
// choice.
var shop = trial.Files{
	"plan.yaml": `title: Rig
machine: rig
revision: A
date: 2026-05-02
currency: EUR
choices: {size: {title: Size, options: {short: Short, long: Long}, default: short}}
`,
	"suppliers.yaml": `general:
  title: General
  shipping: {price: 4.90 EUR, free_from: 30 EUR}
  sells:
    foot: [{pack: 4, price: 3 EUR, checked: 2026-04-01}, {pack: 25, price: 12 EUR, checked: 2026-04-01}]
    hinge: {price: 2.195 EUR, checked: 2026-04-01}
metal:
  title: Metal
  least_order: 12 EUR
  sells:
    rail: {price: 9 EUR, checked: 2026-04-01}
    felt: {pack: 4, price: 2.80 EUR, checked: 2026-04-01}
`,
	"parts/p.yaml": `foot:
  title: Rubber foot
  made: bought
  has: {wide: 40 mm}
  or: [{say: any foot, when: wide >= 30 mm and wide <= 50 mm}, {part: felt, if_cheaper: yes}]
felt: {title: Felt foot, made: bought, has: {wide: 32 mm}}
hinge: {title: Hinge, made: bought}
rail: {title: Rail, made: bought}
lamp: {title: Lamp, made: bought, buy: any}
`,
	"assemblies/rig.yaml": `title: Rig
holds:
  feet: {part: foot, at: [0 mm, 0 mm, 0 mm], count: 4, step: [50 mm, 0 mm, 0 mm]}
  more: {part: foot, at: [0 mm, 90 mm, 0 mm], count: 20, step: [50 mm, 0 mm, 0 mm], only: {size: long}}
  hinges: {part: hinge, at: [0 mm, 0 mm, 50 mm], count: 4, step: [50 mm, 0 mm, 0 mm]}
  rail: {part: rail, at: [0 mm, 0 mm, 90 mm]}
  lamp: {part: lamp, at: [0 mm, 0 mm, 120 mm], only: {size: long}}
`,
}

// Under each combination the rows that show are the purchases, each once, and the
// sums are those of the bill.
func TestShoppingFollowsTheChoices(t *testing.T) {
	w := check.Out(trial.Plan(t, shop))
	doc := document(t, w)
	pg := pageOf(t, doc, "shopping")
	for _, s := range w.Combinations() {
		c := page.Combination(s.Case.Options)
		var rows, sums []string
		each(pg.Blocks, func(table page.Table) {
			if table.ID == "instead-list" {
				return
			}
			for _, row := range table.Rows {
				if price := said(row.Cells[5].Words, c); row.Only.Fits(c) && price != "–" {
					rows = append(rows, said(row.Cells[0].Words, c)+" | "+said(row.Cells[3].Words, c)+" | "+price)
				}
			}
			for _, row := range table.Foot {
				sums = append(sums, said(row.Cells[0].Words, c)+" "+said(row.Cells[5].Words, c))
			}
		})
		if len(rows) != len(s.Bill.Purchases) {
			t.Errorf("%v: rows %q for %d purchases", c, rows, len(s.Bill.Purchases))
		}
		want := map[string][]string{
			"short": {"Felt foot instead of Rubber foot; others serve too | 1 pack of 4 | 2.80\u00a0EUR", "Hinge | 4 at 2.195\u00a0EUR | 8.78\u00a0EUR", "Rail | 1 | 9.00\u00a0EUR",
				"Shipping 4.90\u00a0EUR", "Together 13.68\u00a0EUR", "Whatever else, to fill the order up 0.20\u00a0EUR", "Together 12.00\u00a0EUR"},
			"long": {"Rubber foot; others serve too | 1 pack of 25 | 12.00\u00a0EUR", "Lamp | 1 | no price", "Together 0.00\u00a0EUR, without 1 item that has no price"},
		}[c["size"]]
		all := strings.Join(append(rows, sums...), "\n")
		for _, line := range want {
			if !strings.Contains(all, line) {
				t.Errorf("%v: %q is not among\n%s", c, line, all)
			}
		}
		each(pg.Blocks, func(f page.Fact) {
			if f.Label == "All purchases" && !strings.HasPrefix(said(f.Words, c), strings.ReplaceAll(s.Bill.Cost.Text("EUR"), " ", "\u00a0")) {
				t.Errorf("%v: in all %q, the bill says %s", c, said(f.Words, c), s.Bill.Cost.Text("EUR"))
			}
		})
	}
	var instead []string
	each(pg.Blocks, func(table page.Table) {
		if table.ID == "instead-list" {
			for _, row := range table.Rows {
				instead = append(instead, said(row.Cells[1].Words, nil)+": "+said(row.Cells[2].Words, nil))
			}
		}
	})
	if got := strings.Join(instead, "; "); got != "any foot: wide ≥ 30 mm and wide ≤ 50 mm; Felt foot: wide ≥ 30 mm and wide ≤ 50 mm" {
		t.Errorf("instead: %q", got)
	}
}
