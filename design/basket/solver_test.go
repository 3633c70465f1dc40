package basket_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"plansheaf/design/basket"
	"plansheaf/design/cutting/referee"
)

// A general solver of integer programs (GLPK) is given the problem as packs, prices
// and orders, and must come to the same cost.
func TestAgainstAGeneralSolver(t *testing.T) {
	solver := referee.New(t)
	agreed := 0
	const all = 60
	for seed := range uint64(all) {
		r := rand.New(rand.NewPCG(seed, 21))
		p := random(r, 2+r.IntN(7), 2+r.IntN(3), 12)
		got := basket.Cheapest(p)
		hold(t, p, got)
		want, ok := solver.Least(t, program(p))
		if !ok {
			continue // the solver did not end in its time
		}
		if got.Cost != want || !got.Proven() {
			t.Errorf("seed %d: cost %d, bound %d; the general solver finds %d", seed, got.Cost, got.Bound, want)
		}
		agreed++
	}
	if agreed < all*3/4 {
		t.Errorf("the general solver came to an end for %d of %d only", agreed, all)
	}
}

// program writes the problem as an integer program: x packs of an offer at a price,
// b whether any, y whether a supplier gets an order, z whether it ships free, f what
// fills it up.
func program(p basket.Problem) string {
	var goal, rows, whole, binary strings.Builder
	goods := make([]string, len(p.Suppliers))
	const many = 60 // packs
	for i, item := range p.Items {
		var cover string
		for o, offer := range item.Offers {
			starts := append([]basket.Break{{From: 1, Price: offer.Price}}, offer.Breaks...)
			var one string
			for n, start := range starts {
				name := fmt.Sprintf("%d_%d_%d", i, o, n)
				end := many
				if n+1 < len(starts) {
					end = starts[n+1].From - 1
				}
				fmt.Fprintf(&rows, " l%s: x%s - %d b%s >= 0\n u%s: x%s - %d b%s <= 0\n", name, name, max(start.From, offer.Least), name, name, name, end, name)
				fmt.Fprintf(&whole, " x%s\n", name)
				fmt.Fprintf(&binary, " b%s\n", name)
				one += " + b" + name
				cover += fmt.Sprintf(" + %d x%s", offer.Pack, name)
				goods[offer.Supplier] += fmt.Sprintf(" + %d x%s", start.Price, name)
			}
			fmt.Fprintf(&rows, " o%d_%d:%s <= 1\n", i, o, one)
		}
		fmt.Fprintf(&rows, " c%d:%s >= %d\n", i, cover, item.Need)
	}
	for s, terms := range p.Suppliers {
		if goods[s] == "" {
			continue
		}
		fmt.Fprintf(&goal, "%s + f%d + %d y%d", goods[s], s, terms.Shipping, s)
		fmt.Fprintf(&rows, " y%d:%s - 1000000 y%d <= 0\n", s, goods[s], s)
		fmt.Fprintf(&rows, " m%d:%s + f%d - %d y%d >= 0\n", s, goods[s], s, terms.Least, s)
		fmt.Fprintf(&binary, " y%d\n", s)
		if terms.Shipping > 0 && terms.FreeFrom > 0 {
			fmt.Fprintf(&goal, " - %d z%d", terms.Shipping, s)
			fmt.Fprintf(&rows, " z%d: z%d - y%d <= 0\n f%d:%s + f%d - %d z%d >= 0\n", s, s, s, s, goods[s], s, terms.FreeFrom, s)
			fmt.Fprintf(&binary, " z%d\n", s)
		}
	}
	return fmt.Sprintf("Minimize\n cost:%s\nSubject To\n%sGeneral\n%sBinary\n%sEnd\n", goal.String(), rows.String(), whole.String(), binary.String())
}
