package joint_test

import (
	"math"
	"testing"

	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/trial"
)

// Limits by ISO 286-2: 12 H7 is +0.018/0, 12 h6 is 0/-0.011, 18 r6 is +0.034/+0.023, 6 m6 is
// +0.012/+0.004, 12 F7 is +0.034/+0.016.
func TestFits(t *testing.T) {
	cases := []struct {
		name, kind, shaft, hole, made string
		least, most                   float64
		suits                         bool
		class                         string
	}{
		{name: "bush pressed in", kind: "press", shaft: "18 mm r6", hole: "18 mm H7", least: -0.034, most: -0.005, suits: true, class: "P7"},
		{name: "bush that falls out", kind: "press", shaft: "18 mm h6", hole: "18 mm H7", least: 0, most: 0.029, class: "P7"},
		{name: "pin pushed in", kind: "push", shaft: "6 mm m6", hole: "6 mm H7", least: -0.012, most: 0.008, suits: true, class: "H7"},
		{name: "pin in a drilled hole", kind: "push", shaft: "6 mm m6", hole: "6.3 mm", least: 0.288, most: 0.296, class: "H7"},
		{name: "bush on a rod", kind: "slide", shaft: "12 mm h6", hole: "12 mm F7", least: 0.016, most: 0.045, suits: true, class: "H7"},
		{name: "rod that sticks", kind: "slide", shaft: "12 mm r6", hole: "12 mm H7", least: -0.034, most: -0.005, class: "D9"},
		{name: "printed bore as drawn", kind: "slide", shaft: "12 mm h6", hole: "12.3 mm", made: "made: printed, material: petg, print: {face: bottom, allowance: 0.2 mm}", least: 0.1, most: 0.111, suits: true, class: "H7"},
		{name: "printed bore that comes out too small", kind: "slide", shaft: "12 mm h6", hole: "12.1 mm", made: "made: printed, material: petg, print: {face: bottom, allowance: 0.2 mm}", least: -0.1, most: -0.089, class: "H7"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			made := c.made
			if made == "" {
				made = "made: machined, material: steel_s235"
			}
			r := trial.Reckoning(t, trial.Files{
				"parts/all.yaml": "shaft: {title: Shaft, made: bought, shape: [{cylinder: {d: " + c.shaft + ", l: 30 mm}, name: body}]}\n" +
					"block: {title: Block, " + made + ", shape: [{box: [40 mm, 40 mm, 20 mm]}], holes: {bore: {at: [20 mm, 20 mm], bore: " + c.hole + "}}}\n",
				"assemblies/rig.yaml": "title: Rig\nholds: {block: {part: block, at: [0 mm, 0 mm, 0 mm]}, shaft: {part: shaft, at: [10 mm, 10 mm, -5 mm]}}\njoints: {hold: {" + c.kind + ": shaft.body, into: block.bore}}\n",
			})
			l := layout.Of(r)
			trial.Clean(t, l.Findings())
			a := r.Plan.Assembly("rig")
			m := joint.Of(r, l)
			at := m.Matings(a, a.Joint("hold"))
			if len(at) != 1 {
				t.Fatalf("%d matings, want 1", len(at))
			}
			fit, ok := m.FitOf(at[0])
			if !ok || math.Abs(fit.Least-c.least) > 1e-6 || math.Abs(fit.Most-c.most) > 1e-6 {
				t.Errorf("%g to %g mm of play, want %g to %g", fit.Least, fit.Most, c.least, c.most)
			}
			if fit.Suits(c.kind) != c.suits || fit.Class(c.kind) != c.class {
				t.Errorf("suits %v, hole %s: want %v, %s", fit.Suits(c.kind), fit.Class(c.kind), c.suits, c.class)
			}
		})
	}
}
