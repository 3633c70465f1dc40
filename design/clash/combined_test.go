package clash_test

import (
	"fmt"
	"math"
	"math/rand"
	"testing"

	"plansheaf/design/clash"
	"plansheaf/design/solid"
)

// Bodies that several motions move to each other, with what they meet at known places of
// these: lengths in metres, angles in radians.
func TestMotionsCombined(t *testing.T) {
	const along, across, up = "  along: {from: 0 mm, to: 160 mm, about: one}\n", "  across: {from: 0 mm, to: 80 mm, about: two}\n", "  up: {from: 0 mm, to: 60 mm, about: three}\n"
	cases := []struct {
		name    string
		holds   []string
		motions string
		clash   string // the two bodies; "" for none
		meets   map[string][2]float64
	}{
		// The one goes by at y = 0 to 20, the other crosses from y = 40 to 60 at its start to -40 to -20 at its end, 20 wide at x = 80.
		{name: "crossing, each at rest and at its end clear of the other", motions: along + across, clash: "one two",
			holds: []string{"one: {part: slide, at: [0 mm, 0 mm, 10 mm], moves: {along: x, by: along}}", "two: {part: slide, at: [80 mm, 40 mm, 10 mm], moves: {along: y, by: -across}}"},
			meets: map[string][2]float64{"along": {0.060, 0.100}, "across": {0.020, 0.060}}},
		{name: "crossing, one above the other", motions: along + across,
			holds: []string{"one: {part: slide, at: [0 mm, 0 mm, 10 mm], moves: {along: x, by: along}}", "two: {part: slide, at: [80 mm, 40 mm, 20.2 mm], moves: {along: y, by: -across}}"}},
		// A carriage on a carriage meets a post that stands half way of both.
		{name: "carried along two ways past a post", motions: along + across, clash: "unit.slide post",
			holds: []string{"unit: {assembly: unit, at: [0 mm, 0 mm, 10 mm], moves: {along: x, by: along}}", "post: {part: post, at: [85 mm, 45 mm, 10 mm]}"},
			meets: map[string][2]float64{"along": {0.065, 0.095}, "across": {0.025, 0.055}}},
		{name: "carried along two ways beside a post", motions: along + across,
			holds: []string{"unit: {assembly: unit, at: [0 mm, 0 mm, 10 mm], moves: {along: x, by: along}}", "post: {part: post, at: [85 mm, 100.3 mm, 10 mm]}"}},
		{name: "over a table that it lies on", motions: along + across,
			holds: []string{onBase, "one: {part: slide, at: [10 mm, 0 mm, 10 mm], moves: [{along: x, by: along}, {along: y, by: across / 2}]}"}},
		{name: "up from the floor of a trough and along it", motions: "  along: {from: 0 mm, to: 50 mm, about: one}\n  up: {from: 0 mm, to: 80 mm, about: two}\n",
			holds: []string{"trough: {part: trough, at: [0 mm, 0 mm, 0 mm]}", "one: {part: slide, at: [15 mm, 11 mm, 10 mm], moves: [{along: x, by: along}, {along: z, by: up}]}"}},
		{name: "three ways at once", motions: along + across + up, clash: "unit.slide post",
			holds: []string{"unit: {assembly: unit, at: [0 mm, 0 mm, 10 mm], moves: {along: x, by: along}}", "post: {part: post, at: [85 mm, 45 mm, 65 mm], moves: {along: z, by: -up}}"},
			meets: map[string][2]float64{"along": {0.065, 0.095}, "across": {0.025, 0.055}, "up": {0.035, 0.060}}},
		// The arm is 45 long from its eye; it reaches the stud only at right angles to the way and half along.
		{name: "an arm that swings on a slide", motions: along + "  swing: {from: 0 deg, to: 180 deg, about: two}\n", clash: "turner.arm stud",
			holds: []string{"turner: {assembly: turner, at: [0 mm, 0 mm, 10 mm], moves: {along: x, by: along}}", "stud: {part: stud, at: [80 mm, 40 mm, 10 mm]}"},
			meets: map[string][2]float64{"along": {0.035, 0.125}, "swing": {0.7, 2.5}}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			f := files(rig(c.holds...)).moving(c.motions)
			f["assemblies/unit.yaml"] = "title: Unit\nholds:\n  slide: {part: slide, at: [0 mm, 0 mm, 0 mm], moves: {along: y, by: across}}\n"
			f["parts/trough.yaml"] = "trough: {title: Trough, made: bought, buy: any, shape: [{box: [140 mm, 42 mm, 100 mm]}, {box: [120 mm, 22 mm, 100 mm], at: [10 mm, 10 mm, 10 mm], cut: yes}]}\n"
			f["assemblies/turner.yaml"] = "title: Turner\nholds:\n  arm: {part: arm, at: [0 mm, 0 mm, 0 mm], moves: {about: eye, by: swing}}\n"
			report := look(t, f)
			if len(report.Open) > 0 {
				t.Errorf("left open: %+v", report.Open)
			}
			got := ""
			for _, tr := range report.Travels {
				for _, one := range tr.Clashes {
					got += one.A.Name() + " " + one.B.Name()
					for id, v := range one.Others {
						if m := c.meets[id]; v.SI < m[0] || v.SI > m[1] {
							t.Errorf("%s at %g, want from %g to %g", id, v.SI, m[0], m[1])
						}
					}
					if m := c.meets[tr.Motion.ID.Text]; one.First.SI < m[0]-2e-4 || one.First.SI > m[1] {
						t.Errorf("%s first at %g, want from %g to %g", tr.Motion.ID.Text, one.First.SI, m[0], m[1])
					}
					if len(one.Others) != len(c.meets)-1 {
						t.Errorf("others %v", one.Others)
					}
				}
			}
			if got != c.clash {
				t.Errorf("%q, want %q", got, c.clash)
			}
		})
	}
}

// A motion that alters what another does is not taken for one that goes with it.
func TestMotionsThatAlterEachOther(t *testing.T) {
	f := files(rig("one: {part: slide, at: [0 mm, 0 mm, 10 mm], moves: {along: x, by: along * across / 80 mm}}", "post: {part: post, at: [85 mm, 5 mm, 10 mm]}")).moving("  along: {from: 10 mm, to: 160 mm, about: one}\n  across: {from: 10 mm, to: 80 mm, about: two}\n")
	report := look(t, f)
	clashes := 0
	for _, tr := range report.Travels {
		clashes += len(tr.Clashes)
	}
	if clashes == 0 && (len(report.Open) != 1 || !report.Open[0].Coupled) {
		t.Errorf("open: %+v", report.Open)
	}
}

// TestRandomMotionsCombined compares with the separating axes at places of a grid over
// both ranges.
func TestRandomMotionsCombined(t *testing.T) {
	r := rand.New(rand.NewSource(23))
	hits, clear := 0, 0
	for round := range 60 {
		a, b := randomBrick(r, 10), randomBrick(r, 10)
		b.at = b.at.Add(solid.Vec{X: 40, Y: 70, Z: 44 * (2*r.Float64() - 1)})
		f := files(rig(a.use("a", ", moves: {along: x, by: along}"), b.use("b", ", moves: {along: y, by: -across}"))).moving("  along: {from: 0 mm, to: 100 mm, about: one}\n  across: {from: 0 mm, to: 150 mm, about: two}\n")
		f["parts/p.yaml"] = a.part("a") + b.part("b")
		const n = 75
		deepest := math.Inf(-1)
		at := [2]float64{}
		for k := 0; k <= n; k++ {
			for l := 0; l <= n; l++ {
				x, y := 100*float64(k)/n, 150*float64(l)/n
				if deep := into(a, b, solid.Vec{X: x, Y: y}); deep > deepest {
					deepest, at = deep, [2]float64{x, y}
				}
			}
		}
		report := look(t, f)
		found := len(report.Open) > 0
		for _, tr := range report.Travels {
			found = found || len(tr.Clashes) > 0
		}
		switch {
		case deepest > 1 && !found:
			t.Errorf("round %d: they reach into each other by %g at %v and nothing is found", round, deepest, at)
		case deepest < -1 && found:
			t.Errorf("round %d: they stay %g apart and %s", round, -deepest, described(report))
		case deepest > 0:
			hits++
		default:
			clear++
		}
	}
	if hits < 15 || clear < 10 {
		t.Errorf("%d clashes, %d clear: that says little", hits, clear)
	}
}

func described(r *clash.Report) (out string) {
	for _, tr := range r.Travels {
		out += fmt.Sprintf("%+v ", tr.Clashes)
	}
	return fmt.Sprintf("%s left open %+v", out, r.Open)
}
