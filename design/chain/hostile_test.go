package chain_test

import (
	"fmt"
	"strings"
	"testing"

	"plansheaf/design/trial"
)

// Chains that ask for too much end in a fault, or in a chain, and soon.
func TestHostileChains(t *testing.T) {
	many := trial.Files{
		"plan.yaml": rig,
		"parts/p.yaml": "base: {title: Base, made: machined, material: steel, shape: [{box: [100 mm, 100 mm, 10 mm]}]}\n" +
			"it: {title: It, made: machined, material: steel, shape: [{box: [20 mm, 20 mm, 10 mm]}], holes: {h: {face: front, grid: {from: [1 mm, 1 mm], step: [0.9 mm ± 0.01 mm, 0.9 mm ± 0.01 mm], count: [20, 9]}, bore: 0.5 mm}}}\n",
		"assemblies/rig.yaml": "title: Rig\nholds:\n  base: {part: base, at: [0 mm, 0 mm, 0 mm]}\n  its: {part: it, at: [0 mm, 0 mm, 10 mm], count: 800, step: [0.02 mm, 0.02 mm, 0 mm]}\n",
	}
	for name, links := range map[string]string{
		"thousands of parts in one plane": "{along: z, from: base.bottom, to: its.800.top}",
		"from part to part in that plane": "{along: z, from: its.1.top, to: its.800.top}",
		"a feature a thousand times":      "{along: z, from: base.bottom, through: [" + strings.Repeat("base.top, its.1.bottom, ", 500) + "base.top], to: its.1.top}",
		"holes of a large grid":           "{along: z, from: base.bottom, through: [base.top, its.1.bottom, its.1.h.1], to: its.1.h.180}",
		"a pattern":                       "{along: z, from: base.bottom, to: its.1.h}",
		"an assembly":                     "{along: z, from: base.bottom, to: base}",
	} {
		t.Run(name, func(t *testing.T) {
			p, _ := trial.Read(t, many.With(trial.Files{"calcs/gap.yaml": fmt.Sprintf("title: Gap\nchain: %s\n", links)}))
			report := runPlan(t, p)
			if !report.Known && len(report.Faults) == 0 && name != "an assembly" {
				t.Error("no gap and no fault")
			}
		})
	}
}
