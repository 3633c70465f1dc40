package cutting_test

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"plansheaf/design/cutting"
	"plansheaf/design/cutting/referee"
)

// A general solver of integer programs (GLPK) is given every pattern there is, and
// must come to the same cost.
func TestAgainstAGeneralSolver(t *testing.T) {
	solver := referee.New(t)
	agreed := 0
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 11))
		p := random(r, 1+r.IntN(5), 2+r.IntN(7))
		plan := cutting.Bars(p)
		hold(t, p, plan)
		want, ok := solver.Least(t, program(p, plan.Unfit))
		if !ok {
			continue // the solver did not end in its time
		}
		if plan.Cost != want || !plan.Proven() {
			t.Errorf("seed %d: cost %d, bound %d; the general solver finds %d", seed, plan.Cost, plan.Bound, want)
		}
		agreed++
	}
	if agreed < 50 {
		t.Errorf("the general solver came to an end for %d of 60 only", agreed)
	}
}

// program writes a problem with all of its patterns as an integer program.
func program(p cutting.Problem, unfit []int) string {
	left := map[int]bool{}
	for _, i := range unfit {
		left[i] = true
	}
	var goal, whole bytes.Buffer
	cover := make([]bytes.Buffer, len(p.Pieces))
	stock := make([]bytes.Buffer, len(p.Bars))
	n := 0
	for b, bar := range p.Bars {
		every(p, bar, left, func(counts []int) {
			n++
			fmt.Fprintf(&goal, " + %d x%d", bar.Price, n)
			fmt.Fprintf(&whole, " x%d\n", n)
			fmt.Fprintf(&stock[b], " + x%d", n)
			for i, c := range counts {
				if c > 0 {
					fmt.Fprintf(&cover[i], " + %d x%d", c, n)
				}
			}
		})
	}
	var model strings.Builder
	fmt.Fprintf(&model, "Minimize\n cost:%s\nSubject To\n", goal.String())
	for i := range cover {
		if cover[i].Len() > 0 {
			fmt.Fprintf(&model, " p%d:%s >= %d\n", i, cover[i].String(), p.Pieces[i].Count)
		}
	}
	for b := range stock {
		if p.Bars[b].Count > 0 && stock[b].Len() > 0 {
			fmt.Fprintf(&model, " b%d:%s <= %d\n", b, stock[b].String(), p.Bars[b].Count)
		}
	}
	fmt.Fprintf(&model, "General\n%sEnd\n", whole.String())
	return model.String()
}

// every visits each pattern of a bar that nothing can be added to.
func every(p cutting.Problem, bar cutting.Bar, left map[int]bool, visit func(counts []int)) {
	counts := make([]int, len(p.Pieces))
	fits := func() bool {
		length, pieces := int64(0), 0
		for i, n := range counts {
			length += int64(n) * (p.Pieces[i].Length + p.Kerf)
			pieces += n
		}
		return length <= bar.Length-2*p.Trim+p.Kerf && (p.Most == 0 || pieces <= p.Most)
	}
	full := func() bool {
		for i := range counts {
			counts[i]++
			more := fits() && counts[i] <= p.Pieces[i].Count && !left[i]
			counts[i]--
			if more {
				return false
			}
		}
		return true
	}
	var try func(at int)
	try = func(at int) {
		if at == len(counts) {
			if full() {
				visit(counts)
			}
			return
		}
		for counts[at] = 0; counts[at] <= p.Pieces[at].Count && fits(); counts[at]++ {
			if left[at] && counts[at] > 0 {
				break
			}
			try(at + 1)
		}
		counts[at] = 0
	}
	try(0)
}
