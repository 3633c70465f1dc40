package bill_test

import (
	"fmt"
	"math"
	"math/rand"
	"strings"
	"testing"

	"plansheaf/design/bill"
	"plansheaf/design/trial"
)

const tiny = 1e-6 // mm, what sums of floats may miss by

// Random bars: every piece is there once, within the trimmed bar, a kerf apart, and
// the plan takes at least as many bars as it says none can do without.
func TestRandomBars(t *testing.T) {
	for seed := int64(0); seed < 60; seed++ {
		rng := rand.New(rand.NewSource(seed))
		long, kerf, trim := 500+float64(rng.Intn(2500)), float64(rng.Intn(5)), float64(rng.Intn(3)*5)
		var parts, holds strings.Builder
		want := map[string]int{}
		for i := range 1 + rng.Intn(8) {
			id := fmt.Sprintf("p%d", i)
			want[id] = 1 + rng.Intn(12)
			fmt.Fprintf(&parts, "%s: {title: P, made: cut, stock: bar, length: %.1f mm}\n", id, 20+rng.Float64()*(long-2*trim-20))
			fmt.Fprintf(&holds, "  %s: {part: %s, at: [0 mm, 0 mm, 0 mm], count: %d, step: [0 mm, 0 mm, 0 mm]}\n", id, id, want[id])
		}
		c := cutPlan(t, fmt.Sprintf("bar: {title: Bar, section: {round: {d: 10 mm}}, material: steel_s235, kerf: %g mm, trim: %g mm, sold: [{length: %g mm, price: 5 EUR}]}\n", kerf, trim, long), parts.String(), holds.String())
		got := map[string]int{}
		for i, stick := range c.Pieced {
			end := trim - kerf
			for _, cut := range stick.Cuts {
				got[cut.Part.Part.ID.Text]++
				if cut.X < end+kerf-tiny {
					t.Errorf("seed %d, bar %d: a piece begins at %g, the one before ends at %g, kerf %g", seed, i, cut.X, end, kerf)
				}
				end = cut.X + cut.Length
			}
			if end > long-trim+tiny {
				t.Errorf("seed %d, bar %d: cut to %g of %g, trim %g", seed, i, end, long, trim)
			}
			if left := long - trim - end; math.Abs(stick.Left-left) > tiny {
				t.Errorf("seed %d, bar %d: says %g left, is %g", seed, i, stick.Left, left)
			}
		}
		whole(t, seed, c, got, want)
	}
}

// Random sheets: every piece is there once, within the trimmed sheet, a kerf from
// every other, turned only where the grain lets it, and all can be sawn from edge
// to edge.
func TestRandomSheets(t *testing.T) {
	for seed := int64(0); seed < 60; seed++ {
		rng := rand.New(rand.NewSource(seed))
		wide, high := 300+float64(rng.Intn(900)), 300+float64(rng.Intn(900))
		kerf, trim := float64(rng.Intn(5)), float64(rng.Intn(3)*5)
		grain := []string{"none", "along", "across"}[rng.Intn(3)]
		var parts, holds strings.Builder
		want := map[string]int{}
		for i := range 1 + rng.Intn(6) {
			id := fmt.Sprintf("p%d", i)
			want[id] = 1 + rng.Intn(8)
			fmt.Fprintf(&parts, "%s: {title: P, made: sheet, stock: ply, outline: {rectangle: [%.1f mm, %.1f mm]}}\n", id, 20+rng.Float64()*(wide-2*trim-20), 20+rng.Float64()*(high-2*trim-20))
			fmt.Fprintf(&holds, "  %s: {part: %s, at: [0 mm, 0 mm, 0 mm], count: %d, step: [0 mm, 0 mm, 0 mm]}\n", id, id, want[id])
		}
		c := cutPlan(t, fmt.Sprintf("ply: {title: Ply, sheet: 12 mm, material: birch_plywood, grain: %s, kerf: %g mm, trim: %g mm, sold: [{size: [%g mm, %g mm], price: 5 EUR}]}\n", grain, kerf, trim, wide, high), parts.String(), holds.String())
		got := map[string]int{}
		for i, stick := range c.Pieced {
			for k, cut := range stick.Cuts {
				got[cut.Part.Part.ID.Text]++
				if cut.X < trim-tiny || cut.Y < trim-tiny || cut.X+cut.Length > wide-trim+tiny || cut.Y+cut.Width > high-trim+tiny {
					t.Errorf("seed %d, sheet %d: %+v leaves the sheet %g × %g, trim %g", seed, i, cut, wide, high, trim)
				}
				if cut.Turned && grain != "none" {
					t.Errorf("seed %d: a piece is turned across the grain", seed)
				}
				for _, other := range stick.Cuts[:k] {
					if !apart(cut, other, kerf) {
						t.Errorf("seed %d, sheet %d: %+v and %+v are not a kerf of %g apart", seed, i, cut, other, kerf)
					}
				}
			}
			if !sawn(stick.Cuts) {
				t.Errorf("seed %d, sheet %d cannot be sawn from edge to edge", seed, i)
			}
		}
		whole(t, seed, c, got, want)
	}
}

func apart(a, b bill.Cut, kerf float64) bool {
	gap := func(a, la, b, lb float64) float64 { return math.Max(b-(a+la), a-(b+lb)) }
	return math.Max(gap(a.X, a.Length, b.X, b.Length), gap(a.Y, a.Width, b.Y, b.Width)) >= kerf-tiny
}

// sawn reports whether straight cuts from edge to edge can part the pieces: there is
// a line that none crosses with pieces on both sides, and so on for either side.
func sawn(cuts []bill.Cut) bool {
	if len(cuts) < 2 {
		return true
	}
	for _, at := range []func(bill.Cut) (low, high float64){
		func(c bill.Cut) (float64, float64) { return c.X, c.X + c.Length },
		func(c bill.Cut) (float64, float64) { return c.Y, c.Y + c.Width },
	} {
		for _, c := range cuts {
			_, line := at(c)
			var below, above []bill.Cut
			crossed := false
			for _, other := range cuts {
				low, high := at(other)
				switch {
				case high <= line+tiny:
					below = append(below, other)
				case low >= line-tiny:
					above = append(above, other)
				default:
					crossed = true
				}
			}
			if !crossed && len(below) > 0 && len(above) > 0 {
				return sawn(below) && sawn(above)
			}
		}
	}
	return false
}

func whole(t *testing.T, seed int64, c bill.CutPlan, got, want map[string]int) {
	t.Helper()
	if len(c.TooBig) > 0 || c.Unlaid > 0 {
		t.Errorf("seed %d: %d kinds too big, %d pieces not laid, want none", seed, len(c.TooBig), c.Unlaid)
	}
	for id, n := range want {
		if got[id] != n {
			t.Errorf("seed %d: %d of %s are cut, want %d", seed, got[id], id, n)
		}
	}
	if c.Cost.Money < c.Bound {
		t.Errorf("seed %d: costs %d, less than the %d that none can do without", seed, c.Cost.Money, c.Bound)
	}
	if c.Bound < 500 {
		t.Errorf("seed %d: bound %d, one costs 500", seed, c.Bound)
	}
}

// cutPlan is the one cut plan of a machine that holds the parts.
func cutPlan(t *testing.T, stock, parts, holds string) bill.CutPlan {
	t.Helper()
	r := trial.Reckoning(t, trial.Files{"stock.yaml": stock, "parts/all.yaml": parts, "assemblies/rig.yaml": "title: Rig\nholds:\n" + holds})
	b := bill.Of(r)
	trial.Clean(t, r.Findings())
	if len(b.Cuts) != 1 {
		t.Fatalf("%d cut plans, want one", len(b.Cuts))
	}
	return b.Cuts[0]
}

func TestCutPlans(t *testing.T) {
	const bar = "bar: {title: Bar, section: {round: {d: 10 mm}}, material: steel_s235, "
	cases := []struct {
		name, stock string
		lengths     []string
		sticks      int
		size        float64 // of the bars chosen, mm
		tooBig      int
	}{
		// Three of 300 and two kerfs of 3 are 906.
		{name: "kerf counts between pieces", stock: bar + "kerf: 3 mm, sold: [{length: 906 mm, price: 1 EUR}]}", lengths: []string{"300 mm", "300 mm", "300 mm"}, sticks: 1, size: 906},
		{name: "and one too many makes another bar", stock: bar + "kerf: 3 mm, sold: [{length: 905.9 mm, price: 1 EUR}]}", lengths: []string{"300 mm", "300 mm", "300 mm"}, sticks: 2, size: 905.9},
		{name: "trim at both ends", stock: bar + "trim: 5 mm, sold: [{length: 310 mm, price: 1 EUR}]}", lengths: []string{"300 mm"}, sticks: 1, size: 310},
		{name: "longer than the bar", stock: bar + "trim: 5 mm, sold: [{length: 309 mm, price: 1 EUR}]}", lengths: []string{"300 mm"}, sticks: 0, size: 309, tooBig: 1},
		{name: "the cheaper way to buy", stock: bar + "sold: [{length: 1000 mm, price: 10 EUR}, {length: 3000 mm, price: 24 EUR}]}", lengths: []string{"900 mm", "900 mm", "900 mm"}, sticks: 1, size: 3000},
		{name: "the long bar only for one piece", stock: bar + "sold: [{length: 1000 mm, price: 10 EUR}, {length: 3000 mm, price: 24 EUR}]}", lengths: []string{"1200 mm", "200 mm"}, sticks: 1, size: 3000},
		{name: "the first of equal price", stock: bar + "sold: [{length: 1000 mm, price: 10 EUR}, {length: 2000 mm, price: 10 EUR}]}", lengths: []string{"900 mm"}, sticks: 1, size: 1000},
		{name: "trim longer than the bar", stock: bar + "trim: 500 mm, kerf: 3 mm, sold: [{length: 300 mm, price: 1 EUR}]}", lengths: []string{"10 mm"}, size: 300, tooBig: 1},
		{name: "kerf below nothing takes nothing", stock: bar + "kerf: -50 mm, sold: [{length: 300 mm, price: 1 EUR}]}", lengths: []string{"100 mm", "100 mm", "100 mm", "100 mm"}, sticks: 2, size: 300},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var parts, holds strings.Builder
			for i, l := range c.lengths {
				fmt.Fprintf(&parts, "p%d: {title: P, made: cut, stock: bar, length: %s}\n", i, l)
				fmt.Fprintf(&holds, "  p%d: {part: p%d, at: [0 mm, 0 mm, 0 mm]}\n", i, i)
			}
			got := cutPlan(t, c.stock+"\n", parts.String(), holds.String())
			size := got.Largest()[0]
			if len(got.Pieced) > 0 {
				size = got.Size(got.Pieced[0])[0]
			}
			if len(got.Pieced) != c.sticks || math.Abs(size-c.size) > tiny || len(got.TooBig) != c.tooBig {
				t.Errorf("%d bars of %g mm, %d too big: want %d of %g, %d", len(got.Pieced), size, len(got.TooBig), c.sticks, c.size, c.tooBig)
			}
		})
	}
}

// A count that only a hostile plan has ends, says what it left out, and has no price.
func TestHostileCounts(t *testing.T) {
	for _, stock := range []string{
		"raw: {title: Raw, section: {round: {d: 10 mm}}, material: steel_s235, sold: [{length: 100 mm, price: 1 EUR}]}\n",
		"raw: {title: Raw, sheet: 1 mm, material: steel_s235, sold: [{size: [100 mm, 100 mm], price: 1 EUR}]}\n",
	} {
		part := "made: cut, stock: raw, length: 90 mm"
		if strings.Contains(stock, "sheet") {
			part = "made: sheet, stock: raw, outline: {rectangle: [90 mm, 90 mm]}"
		}
		r := trial.Reckoning(t, trial.Files{
			"stock.yaml": stock, "parts/all.yaml": "p: {title: P, " + part + "}\n",
			"assemblies/rig.yaml": "title: Rig\nholds: {p: {part: p, at: [0 mm, 0 mm, 0 mm], count: 50000, step: [0 mm, 0 mm, 0 mm]}}\n",
		})
		b := bill.Of(r)
		if c := b.Cuts[0]; len(c.Pieced)+c.Unlaid != 50000 || c.Unlaid == 0 {
			t.Errorf("%d laid and %d not, want 50000 in all", len(c.Pieced), c.Unlaid)
		}
		if len(b.Unpriced) != 1 || b.Unpriced[0] != "raw" {
			t.Errorf("without a price are %v, want raw", b.Unpriced)
		}
	}
}
