package chain_test

import (
	"fmt"
	"math/rand"
	"testing"

	"plansheaf/design/chain"
	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/trial"
)

// Chains of a tower of a hundred parts, each between two of its parts, their ways found.
func BenchmarkChains(b *testing.B) {
	const parts, chains = 100, 1000
	rungs := someRungs(rand.New(rand.NewSource(3)), parts)
	for i := range rungs {
		rungs[i].up, rungs[i].over = true, false
	}
	r := trial.Reckoning(b, tower(rungs, "", "z"))
	l := layout.Of(r)
	var list []*plan.Calc
	for i := range chains {
		from, to := i%(parts-20), i%(parts-20)+5+i%15
		end := func(n int, side string) plan.ChainEnd {
			return plan.ChainEnd{Feature: plan.Word{Text: fmt.Sprintf("stack.p%d.%s", n, side)}}
		}
		list = append(list, &plan.Calc{Chain: &plan.Chain{Along: plan.Word{Text: "z"}, From: end(from, "bottom"), To: end(to, "top")}})
	}
	b.ReportAllocs()
	for b.Loop() {
		m := chain.Of(r, l, joint.Of(r, l))
		for _, c := range list {
			if report := m.Run(c); !report.Known {
				b.Fatal(report.Faults)
			}
		}
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/chains, "µs/chain")
}
