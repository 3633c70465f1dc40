package joint_test

import (
	"fmt"
	"math"
	"testing"

	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/trial"
)

// Clearances of M6: 6.6 medium (ISO 273), so 0.3 to each side; a slot 8 wide leaves 1.
func TestMisses(t *testing.T) {
	cases := []struct {
		name, top, base string // the holes of the two plates
		into            string
		off             float64 // across, of the reported pair; 0: they fit
		allows          float64
	}{
		{name: "in line", top: "at: [20 mm, 20 mm], for: M6", base: "at: [20 mm, 20 mm], tap: M6"},
		{name: "within the clearance", top: "at: [20.2 mm, 20.2 mm], for: M6", base: "at: [20 mm, 20 mm], tap: M6"},
		{name: "beside a thread", top: "at: [20.4 mm, 20 mm], for: M6", base: "at: [20 mm, 20 mm], tap: M6", off: 0.4, allows: 0.3},
		{name: "two clearance holes share it", top: "at: [20.5 mm, 20 mm], for: M6", base: "at: [20 mm, 20 mm], for: M6", into: ", into: nut"},
		{name: "two clearance holes too far", top: "at: [20.7 mm, 20 mm], for: M6", base: "at: [20 mm, 20 mm], for: M6", into: ", into: nut", off: 0.7, allows: 0.6},
		{name: "along a long hole", top: "at: [24 mm, 20 mm], slot: {long: 16 mm, wide: 6.6 mm, along: x}", base: "at: [20 mm, 20 mm], tap: M6"},
		{name: "past the end of a long hole", top: "at: [25.5 mm, 20 mm], slot: {long: 16 mm, wide: 6.6 mm, along: x}", base: "at: [20 mm, 20 mm], tap: M6", off: 5.5, allows: 0.3},
		{name: "across a long hole", top: "at: [24 mm, 20.5 mm], slot: {long: 16 mm, wide: 6.6 mm, along: x}", base: "at: [20 mm, 20 mm], tap: M6", off: math.Hypot(4, 0.5), allows: 0.3},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			r := trial.Reckoning(t, trial.Files{
				"parts/all.yaml":      "screw: {standard: ISO 4762 M6x30 - 8.8}\nnut: {standard: ISO 4032 M6 - 8}\n" + plate("top", 10, "h: {"+c.top+"}", "steel_s235") + plate("base", 12, "h: {"+c.base+"}", "steel_s235"),
				"assemblies/rig.yaml": "title: Rig\nholds: {base: {part: base, at: [0 mm, 0 mm, 0 mm]}, top: {part: top, at: [0 mm, 0 mm, 12 mm]}}\njoints: {hold: {screw: screw, through: [top.h, base.h]" + c.into + "}}\n",
			})
			a := r.Plan.Assembly("rig")
			m := joint.Of(r, layout.Of(r))
			places := m.Stacks(a, a.Joint("hold"))
			if len(places) != 1 {
				t.Fatalf("%d places", len(places))
			}
			miss, found := m.MissOf(&places[0])
			if off := math.Sqrt(miss.Off.Dot(miss.Off)); found != (c.off > 0) || math.Abs(off-c.off) > 1e-6 || found && math.Abs(miss.Allows-c.allows) > 1e-6 {
				t.Errorf("misses: %v by %g, %g allowed; want %g, %g", found, off, miss.Allows, c.off, c.allows)
			}
		})
	}
}

// Three holes that pair two by two and yet leave no straight way for a screw: their
// middles are the corners of a triangle of side 0.58, so 0.335 from its middle, and
// each leaves 0.3.
func TestThreeHolesTogether(t *testing.T) {
	const s = 0.58
	parts := "screw: {standard: ISO 4762 M6x40 - 8.8}\nnut: {standard: ISO 4032 M6 - 8}\n"
	for i, at := range [][2]float64{{0, 0}, {s, 0}, {s / 2, s * math.Sqrt(3) / 2}} {
		parts += plate(fmt.Sprintf("p%d", i), 8, fmt.Sprintf("h: {at: [%.4f mm, %.4f mm], for: M6}", 20+at[0], 20+at[1]), "steel_s235")
	}
	r := trial.Reckoning(t, trial.Files{
		"parts/all.yaml":      parts,
		"assemblies/rig.yaml": "title: Rig\nholds: {a: {part: p0, at: [0 mm, 0 mm, 16 mm]}, b: {part: p1, at: [0 mm, 0 mm, 8 mm]}, c: {part: p2, at: [0 mm, 0 mm, 0 mm]}}\njoints: {hold: {screw: screw, through: [a.h, b.h, c.h], into: nut}}\n",
	})
	a := r.Plan.Assembly("rig")
	m := joint.Of(r, layout.Of(r))
	places := m.Stacks(a, a.Joint("hold"))
	if miss, found := m.MissOf(&places[0]); !found || !miss.Together {
		t.Errorf("found %v: %+v", found, miss)
	}
}

// Shares of rings by hand: a straight edge through the middle of the hole leaves half;
// M6 heads are 10 wide, clearance holes 6.6.
func TestRings(t *testing.T) {
	cases := []struct {
		name, hole    string
		carried, edge float64
		fouled        float64
	}{
		{name: "in the middle", hole: "at: [20 mm, 20 mm]", carried: 1},
		{name: "on the edge", hole: "at: [0 mm, 20 mm]", carried: 0.5, edge: 0.5},
		{name: "against the step", hole: "at: [56 mm, 20 mm]", carried: 1, fouled: 4},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			r := trial.Reckoning(t, trial.Files{
				"parts/all.yaml": "screw: {standard: ISO 4762 M6x20 - 8.8}\ntop: {title: Top, made: machined, material: steel_s235, shape: [{box: [80 mm, 40 mm, 10 mm]}, {box: [20 mm, 40 mm, 4 mm], at: [60 mm, 0 mm, 10 mm]}], holes: {h: {" +
					c.hole + ", for: M6}, low: {face: bottom, at: [10 mm, 35 mm], for: M6}}}\n",
				"assemblies/rig.yaml": "title: Rig\nholds: {top: {part: top, at: [0 mm, 0 mm, 0 mm]}}\njoints: {hold: {screw: screw, through: [top.h]}}\n",
			})
			a := r.Plan.Assembly("rig")
			m := joint.Of(r, layout.Of(r))
			places := m.Stacks(a, a.Joint("hold"))
			g, ok := m.HeadRing(&places[0])
			if !ok || math.Abs(g.Carried-c.carried) > 0.05 || math.Abs(g.Edge-c.edge) > 0.05 || math.Abs(g.Fouled-c.fouled) > 1e-6 {
				t.Errorf("carries %.2f, %.2f over the edge, fouled by %g: want %.2f, %.2f, %g", g.Carried, g.Edge, g.Fouled, c.carried, c.edge, c.fouled)
			}
		})
	}
}

// The leg of an angle bar 40 × 40 × 4 with an inner radius of 5: the rounding begins 9 mm
// from the back of the bar. An M6 head, 10 wide, at 12.5 reaches to 7.55 less a chamfer, so
// 1.45 into it: 5 − √(5² − 1.45²) = 0.215 high. It passes 0.05 from 8.29 on: 0.74 in.
func TestHeadOnAnInnerCorner(t *testing.T) {
	for _, c := range []struct {
		name, at      string
		under         string
		fouled, reach float64
		rises         bool
	}{
		{name: "clear of it", at: "14.1 mm"},
		{name: "just over it, less than a burr", at: "13.4 mm", fouled: 0.030, rises: false},
		{name: "on it", at: "12.5 mm", fouled: 0.215, reach: 0.74, rises: true},
		{name: "a washer reaches it, 12 wide", at: "13.5 mm", under: "under_head: [washer], ", fouled: 0.215, reach: 0.74, rises: true},
		{name: "the washer clear of it", at: "15.1 mm", under: "under_head: [washer], "},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := trial.Reckoning(t, trial.Files{
				"stock.yaml":          "angle: {title: Angle, section: {angle: {size: [40 mm, 40 mm], wall: 4 mm, inner: 5 mm}}, material: steel_s235}\n",
				"parts/all.yaml":      "screw: {standard: ISO 4762 M6x20 - 8.8}\nwasher: {standard: ISO 7089 6}\nbar: {title: Bar, made: cut, stock: angle, length: 80 mm, holes: {h: {at: [40 mm, " + c.at + "], for: M6}}}\n",
				"assemblies/rig.yaml": "title: Rig\nholds: {bar: {part: bar, at: [0 mm, 0 mm, 0 mm]}}\njoints: {hold: {screw: screw, " + c.under + "through: [bar.h]}}\n",
			})
			a := r.Plan.Assembly("rig")
			m := joint.Of(r, layout.Of(r))
			places := m.Stacks(a, a.Joint("hold"))
			g, ok := m.HeadRing(&places[0])
			// Rays stand 15 degrees apart, so the nearest misses the deepest place by 7.5 at most.
			if near := 0.15 * c.fouled; !ok || g.Fouled > c.fouled+1e-3 || g.Fouled < c.fouled-near-1e-3 || math.Abs(g.Under-c.reach) > 0.08 || g.Rises != c.rises || g.Carried < 0.95 {
				t.Errorf("fouled by %.3f, %.3f under it, rises %v, carries %.2f: want %.3f, %.2f, %v", g.Fouled, g.Under, g.Rises, g.Carried, c.fouled, c.reach, c.rises)
			}
		})
	}
}
