package check_test

import (
	"math"
	"testing"

	"plansheaf/design/check"
	"plansheaf/design/trial"
)

// Formulas name the gap of a chain, and its contributors drive what follows from it:
// three blocks in a channel (Shigley, 9th ed., example 1-3: 0.005 ± 0.010 in, root sum
// square ± 0.006 in).
func TestGapInFormulas(t *testing.T) {
	p := trial.Plan(t, trial.Files{
		"plan.yaml": "title: Rig\nmachine: rig\nrevision: A\ntolerances: ISO 2768-m\n",
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
		"assemblies/rig.yaml": "title: Rig\nholds:\n  housing: {part: housing, at: [0 mm, 0 mm, 0 mm]}\n  b: {part: b, at: [0.4 in, 0 in, 0.25 in]}\n  c: {part: c, at: [1.15 in, 0 in, 0.25 in]}\n  d: {part: d, at: [1.27 in, 0 in, 0.25 in]}\n",
		"calcs/play.yaml":     "title: Play\nchain: {along: x, from: d.right, to: {feature: housing.slot, towards: x}}\nrecorded: {gap: 0.005 in ± 0.0001 in}\nrequire: [{that: gap >= 0.003 in, because: they must drop in}]\n",
		"calcs/other.yaml":    "title: Twice\nfind: {twice: 2 * play.gap}\nrequire: [{that: twice < 0.1 in, because: B}]\n",
	})
	w := check.Out(p)
	s := w.Default()
	trial.Clean(t, s.Reckoning.Findings())
	const metre = 0.0254
	twice := s.Calc("other").Finds[0]
	for _, v := range []struct {
		what      string
		got, want float64
	}{
		{"twice the gap", twice.Value.SI / metre, 0.010}, {"worst case up", twice.Value.Plus / metre, 0.020}, {"worst case down", twice.Value.Minus / metre, 0.020},
		{"statistically", twice.Statistical.Plus / metre, 0.012},
	} {
		if math.Abs(v.got-v.want) > 1e-8 {
			t.Errorf("%s: %.6f in, want %g", v.what, v.got, v.want)
		}
	}
	if d := twice.Drivers; len(d) != 4 || d[0].Name != "c, right to left" && d[0].Name != "c, left to right" || math.Abs(d[0].Share-25.0/36) > 1e-9 {
		t.Errorf("driven by %+v, want block c by 25/36 first", d)
	}
	// The mean lies one standard deviation of 0.002 in above the limit.
	if o := s.Calc("play").Requires[0]; math.Abs(o.Certainty-0.841345) > 1e-5 {
		t.Errorf("at least 0.003 in with a certainty of %.6f (%s), want that of one standard deviation, 0.841345", o.Certainty, o.By)
	}
	if rec := s.Calc("play").Records[0]; !rec.Known || !rec.Holds {
		t.Errorf("the record %+v", rec)
	}
}

// A size that hangs on a gap that hangs on the size is told where it stands.
func TestGapInASize(t *testing.T) {
	p := trial.Plan(t, trial.Files{
		"plan.yaml":           "title: Rig\nmachine: rig\nrevision: A\ntolerances: ISO 2768-m\n",
		"parts/p.yaml":        "low: {title: Low, made: machined, material: steel, shape: [{box: [20 mm, 20 mm, 10 mm]}]}\nhigh: {title: High, made: machined, material: steel, shape: [{box: [20 mm, 20 mm, play.gap + 5 mm]}]}\n",
		"assemblies/rig.yaml": "title: Rig\nholds:\n  low: {part: low, at: [0 mm, 0 mm, 0 mm]}\n  high: {part: high, at: [0 mm, 0 mm, 10 mm]}\n",
		"calcs/play.yaml":     "title: Play\nchain: {along: z, from: low.bottom, to: high.top}\n",
	})
	found := check.Out(p).Default().Reckoning.Findings()
	if len(found) != 1 || found[0].At.File != "parts/p.yaml" {
		t.Fatalf("findings %v, want one at the size", found)
	}
	const want = "play.gap is measured on the placed parts, so neither their sizes nor their places can hang on it"
	if found[0].Message != want || found[0].Remedy == "" {
		t.Errorf("says %q (%q), want %q", found[0].Message, found[0].Remedy, want)
	}
}
