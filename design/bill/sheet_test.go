package bill_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"plansheaf/design/bill"
)

// Sheets of several sizes, offcuts, grain and what cuts them.
func TestSheetPlans(t *testing.T) {
	const ply = "ply: {title: Ply, sheet: 12 mm, material: birch_plywood, "
	type part struct {
		size  string
		grain string
		count int
	}
	cases := []struct {
		name, stock  string
		parts        []part
		sheets       int
		cost         float64 // EUR
		onHand       int
		tooBig       int
		turned       int
		proven, sawn bool
	}{
		{
			name:   "an offcut before a sheet is bought",
			stock:  ply + "sold: [{size: [1000 mm, 500 mm], price: 30 EUR}], offcuts: [{size: [310 mm, 210 mm]}]}",
			parts:  []part{{size: "300 mm, 200 mm", count: 1}},
			sheets: 1, onHand: 1, proven: true,
		},
		{
			name:   "as many offcuts as there are",
			stock:  ply + "sold: [{size: [1000 mm, 500 mm], price: 30 EUR}], offcuts: [{size: [310 mm, 210 mm], count: 2}]}",
			parts:  []part{{size: "300 mm, 200 mm", count: 3}},
			sheets: 3, onHand: 2, cost: 30, turned: -1, proven: true, sawn: true,
		},
		{
			name:   "two sizes mixed",
			stock:  ply + "kerf: 3 mm, sold: [{size: [1000 mm, 500 mm], price: 30 EUR}, {size: [600 mm, 300 mm], price: 12 EUR}]}",
			parts:  []part{{size: "980 mm, 480 mm", count: 1}, {size: "290 mm, 290 mm", count: 2}},
			sheets: 2, cost: 42, proven: true, sawn: true,
		},
		{
			name:  "along the grain it does not fit",
			stock: ply + "grain: along, sold: [{size: [1000 mm, 300 mm], price: 30 EUR}]}",
			parts: []part{{size: "200 mm, 400 mm", count: 1}}, tooBig: 1, proven: true,
		},
		{
			name:   "across the grain it does",
			stock:  ply + "grain: along, sold: [{size: [1000 mm, 300 mm], price: 30 EUR}]}",
			parts:  []part{{size: "200 mm, 400 mm", grain: "across", count: 1}},
			sheets: 1, cost: 30, turned: 1, proven: true, sawn: true,
		},
		{
			name:   "or any way",
			stock:  ply + "grain: across, sold: [{size: [1000 mm, 300 mm], price: 30 EUR}]}",
			parts:  []part{{size: "200 mm, 400 mm", grain: "any", count: 2}},
			sheets: 1, cost: 30, turned: 2, proven: true, sawn: true,
		},
		{
			// Four pieces around one: 50 × 30 in a square of 80, 20 in its middle.
			name:   "what no saw cuts",
			stock:  ply + "cut_by: router, sold: [{size: [80 mm, 80 mm], price: 30 EUR}]}",
			parts:  []part{{size: "50 mm, 30 mm", count: 4}, {size: "20 mm, 20 mm", count: 1}},
			sheets: 1, cost: 30, turned: 2, proven: true,
		},
		{
			name:   "and what it takes sawn",
			stock:  ply + "sold: [{size: [80 mm, 80 mm], price: 30 EUR}]}",
			parts:  []part{{size: "50 mm, 30 mm", count: 4}, {size: "20 mm, 20 mm", count: 1}},
			sheets: 2, cost: 60, turned: -1, proven: true, sawn: true,
		},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var parts, holds strings.Builder
			for i, p := range c.parts {
				grain := ""
				if p.grain != "" {
					grain = ", grain: " + p.grain
				}
				fmt.Fprintf(&parts, "p%d: {title: P, made: sheet, stock: ply, outline: {rectangle: [%s]}%s}\n", i, p.size, grain)
				fmt.Fprintf(&holds, "  p%d: {part: p%d, at: [0 mm, 0 mm, 0 mm], count: %d, step: [0 mm, 0 mm, 0 mm]}\n", i, i, p.count)
			}
			got := cutPlan(t, c.stock+"\n", parts.String(), holds.String())
			onHand, turned := 0, 0
			for _, s := range got.Pieced {
				if got.Ways[s.Way].Sold == nil {
					onHand++
				}
				for _, cut := range s.Cuts {
					if cut.Turned {
						turned++
					}
				}
			}
			if len(got.Pieced) != c.sheets || got.Cost.Money.Amount() != c.cost || onHand != c.onHand || len(got.TooBig) != c.tooBig || got.Proven() != c.proven {
				t.Errorf("%d sheets for %g, %d of them on hand, %d too big, proven %t: want %d for %g, %d, %d, %t",
					len(got.Pieced), got.Cost.Money.Amount(), onHand, len(got.TooBig), got.Proven(), c.sheets, c.cost, c.onHand, c.tooBig, c.proven)
			}
			if c.turned >= 0 && turned != c.turned {
				t.Errorf("%d lie turned, want %d", turned, c.turned)
			}
			if c.sawn && len(got.Settings) == 0 || got.Routed() && len(got.Settings) > 0 {
				t.Errorf("%d settings of the stop", len(got.Settings))
			}
		})
	}
}

// The stop is set once for each length, the longest first, over all bars; what comes
// off at it adds up to the pieces.
func TestStopsOfBars(t *testing.T) {
	c := cutPlan(t, "bar: {title: Bar, section: {round: {d: 10 mm}}, material: steel_s235, kerf: 2 mm, sold: [{length: 1000 mm, price: 5 EUR}]}\n",
		"long: {title: L, made: cut, stock: bar, length: 412 mm}\nshort: {title: S, made: cut, stock: bar, length: 150 mm}\nalike: {title: A, made: cut, stock: bar, length: 412 mm}\n",
		"  long: {part: long, at: [0 mm, 0 mm, 0 mm], count: 5, step: [0 mm, 0 mm, 0 mm]}\n  short: {part: short, at: [0 mm, 0 mm, 0 mm], count: 4, step: [0 mm, 0 mm, 0 mm]}\n  alike: {part: alike, at: [0 mm, 0 mm, 0 mm]}\n")
	if len(c.Settings) != 2 || math.Abs(c.Settings[0].Stop-412) > tiny || math.Abs(c.Settings[1].Stop-150) > tiny {
		t.Fatalf("settings %+v, want 412 mm and 150 mm", c.Settings)
	}
	if a, b := c.Settings[0].Cuts(), c.Settings[1].Cuts(); a != 6 || b != 4 {
		t.Errorf("%d cuts at 412 mm and %d at 150 mm, want 6 and 4", a, b)
	}
}

func TestPanelNames(t *testing.T) {
	for n, want := range map[int]string{0: "", 1: "A", 26: "Z", 27: "AA", 52: "AZ", 53: "BA", 703: "AAA"} {
		if got := bill.PanelName(n); got != want {
			t.Errorf("part %d is %q, want %q", n, got, want)
		}
	}
}
