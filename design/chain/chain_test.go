package chain_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"plansheaf/design/chain"
	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/trial"
)

// run works out the chain calcs/gap.yaml of a plan.
func run(t testing.TB, files trial.Files) *chain.Report {
	t.Helper()
	return runPlan(t, trial.Plan(t, files))
}

func runPlan(t testing.TB, p *plan.Plan) *chain.Report {
	t.Helper()
	r := reckon.New(p, reckon.Default(p), nil)
	l := layout.Of(r)
	trial.Clean(t, l.Findings())
	return chain.Of(r, l, joint.Of(r, l)).Run(p.Calc("gap"))
}

// closed is run for a chain without faults.
func closed(t testing.TB, files trial.Files) *chain.Report {
	t.Helper()
	report := run(t, files)
	for _, f := range report.Faults {
		t.Errorf("%s: %s", f.At, f.Message)
	}
	if !report.Known {
		t.Fatal("the chain does not close")
	}
	return report
}

const rig = "title: Rig\nmachine: rig\nrevision: A\ntolerances: ISO 2768-m\n"

// An inch is 25.4 mm; answers are compared in the unit of the source.
const inch = 25.4

// W25: Shigley's Mechanical Engineering Design, 9th ed., example 1-3: three blocks in a
// channel, a = 1.750 ± 0.003, b = 0.750 ± 0.001, c = 0.120 ± 0.005, d = 0.875 ± 0.001 in.
var channel = trial.Files{
	"plan.yaml": rig,
	"parts/p.yaml": `
housing:
  title: Channel
  made: machined
  material: steel
  shape:
    - {box: [2.5 in, 1 in, 1 in]}
    - {box: [1.750 in ± 0.003 in, 1 in, 0.75 in], at: [0.4 in, 0 in, 0.25 in], cut: yes, name: slot}
b: {title: Block b, made: machined, material: steel, shape: [{box: [0.750 in ± 0.001 in, 1 in, 0.5 in]}]}
c: {title: Block c, made: machined, material: steel, shape: [{box: [0.120 in ± 0.005 in, 1 in, 0.5 in]}]}
d: {title: Block d, made: machined, material: steel, shape: [{box: [0.875 in ± 0.001 in, 1 in, 0.5 in]}]}
`,
	"assemblies/rig.yaml": `
title: Rig
holds:
  housing: {part: housing, at: [0 mm, 0 mm, 0 mm]}
  b: {part: b, at: [0.4 in, 0 in, 0.25 in]}
  c: {part: c, at: [1.15 in, 0 in, 0.25 in]}
  d: {part: d, at: [1.27 in, 0 in, 0.25 in]}
`,
	"calcs/gap.yaml": `
title: Gap
chain: {along: x, from: d.right, to: {feature: housing.slot, towards: x}}
require:
  - {that: gap >= 0.003 in, because: the blocks must drop in}
`,
}

func TestBlocksInAChannel(t *testing.T) {
	report := closed(t, channel)
	g := report.Gap
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"mean gap", g.Mean, 0.005}, {"largest gap", g.High, 0.015}, {"smallest gap", g.Low, -0.005},
		{"worst-case tolerance", (g.High - g.Low) / 2, 0.010}, {"measured", report.Measured, 0.005}, {"root sum square, worked out", g.Spread, 0.006},
	} {
		if math.Abs(c.got/inch-c.want) > 5e-7 {
			t.Errorf("%s: %.6f in, want %g", c.what, c.got/inch, c.want)
		}
	}
	if o := report.Requires[0]; !o.Known || !o.Mean || o.Likely || o.Worst {
		t.Errorf("a gap of at least 0.003 in: %+v, want it to hold for the mean sizes alone", o)
	}
	if c := report.Contributors[0]; c.Title != "Block c" || math.Abs(c.Worst-0.5) > 1e-9 || math.Abs(c.Variance-25.0/36) > 1e-9 {
		t.Errorf("what does most is %+v, want block c with half of the worst case", c)
	}
	var way []string
	for _, l := range report.Links {
		way = append(way, fmt.Sprintf("%s.%s>%s", l.Path, l.From, l.To))
	}
	const want = "d.right>left d.left>right c.right>left c.left>right b.right>left b.left>end of slot housing.end of slot>end of slot"
	if got := strings.Join(way, " "); got != want || !report.Found {
		t.Errorf("the way is\n%s, want\n%s", got, want)
	}
}
