package chain_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"plansheaf/design/trial"
)

// bolted is a cover on a base, held by one screw, with the chain from the base's side
// to the cover's across the screw.
func bolted(cover, base, joint, more string) trial.Files {
	return trial.Files{
		"plan.yaml": rig,
		"parts/p.yaml": "base: {title: Base, made: machined, material: steel, shape: [{box: [100 mm, 40 mm, 20 mm]}], holes: {h: {at: [30 mm, 20 mm], " + base + "}}}\n" +
			"cover: {title: Cover, made: machined, material: steel, shape: [{box: [80 mm, 40 mm, 10 mm]}], holes: {h: {at: [25 mm, 20 mm], " + cover + "}}}\n" +
			"cap_m6x20: {standard: ISO 4762 M6x20 - 8.8, buy: any}\ncsk_m6x20: {standard: ISO 10642 M6x20 - 8.8, buy: any}\npin_6x24: {standard: ISO 2338 6 m6 x 24, buy: any}\nnut_m6: {standard: ISO 4032 M6 - 8, buy: any}\n",
		"assemblies/rig.yaml": "title: Rig\nholds:\n  base: {part: base, at: [0 mm, 0 mm, 0 mm]}\n  cover: {part: cover, at: [5 mm, 0 mm, 20 mm]}\njoints:\n  held: {" + joint + "}\n",
		"calcs/gap.yaml":      "title: Gap\nchain: {along: x, from: base.left, through: [base.h, cover.h], to: cover.left" + more + "}\n",
	}
}

// The play that a joint leaves across its screw is half of what the largest hole is
// wider than the smallest screw, for each part whose hole the screw goes through free.
// Holes: 6.6 mm H13 for M6 medium, hence at most 6.82 mm; M6 6g is 5.794 mm at least
// (ISO 965-2, tables, from memory: 5.794).
func TestPlayOfScrews(t *testing.T) {
	const free = (6.82 - 5.794) / 2
	cases := []struct {
		name, cover, base, joint, more string
		want                           []float64 // half play of each shift, mm
	}{
		{"through and tapped", "for: M6", "tap: M6, depth: 15 mm", "screw: cap_m6x20, through: [cover.h, base.h]", "", []float64{free}},
		{"through both", "for: M6", "for: M6", "screw: cap_m6x20, through: [cover.h, base.h], into: nut_m6", "", []float64{free, free}},
		{"centred on assembly", "for: M6", "for: M6", "screw: cap_m6x20, through: [cover.h, base.h], into: nut_m6", ", shift: centred", nil},
		{"a countersunk head centres itself", "for: M6, countersink: {d: 13.6 mm, angle: 90 deg}", "tap: M6, depth: 15 mm", "screw: csk_m6x20, through: [cover.h, base.h]", "", nil},
		{"fine holes", "for: M6, fit: fine", "tap: M6, depth: 15 mm", "screw: cap_m6x20, through: [cover.h, base.h]", "", []float64{(6.4 + 0.15 - 5.794) / 2}},
		{"a pin in reamed holes", "bore: 6 mm H7", "bore: 6 mm H7", "pin: pin_6x24, through: [cover.h, base.h]", "", []float64{(6.012 - 6.004) / 2, (6.012 - 6.004) / 2}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			report := closed(t, bolted(c.cover, c.base, c.joint, c.more))
			if math.Abs(report.Gap.Nominal-5) > 1e-9 {
				t.Errorf("the cover stands %g mm in, want 5", report.Gap.Nominal)
			}
			var got []float64
			for _, one := range report.Contributors {
				if one.Size == 0 {
					got = append(got, one.Upper)
				}
			}
			if len(got) != len(c.want) {
				t.Fatalf("shifts of %v, want %v", got, c.want)
			}
			for i := range got {
				// The thread's least diameter is that of formulas, half a percent of its
				// tolerance beside the table.
				if math.Abs(got[i]-c.want[i]) > 0.002 {
					t.Errorf("a shift of %.4f, want %.4f", got[i], c.want[i])
				}
			}
		})
	}
}

// Axes that nothing holds in line break the chain.
func TestNothingHolds(t *testing.T) {
	files := bolted("for: M6", "for: M6", "screw: cap_m6x20, through: [cover.h, base.h], into: nut_m6", "")
	files["assemblies/rig.yaml"] = strings.Split(files["assemblies/rig.yaml"], "joints:")[0]
	report := run(t, files)
	if report.Known || len(report.Faults) != 1 || !strings.Contains(report.Faults[0].Message, "nothing holds base.h and cover.h in line") {
		t.Errorf("known %v, faults %v", report.Known, report.Faults)
	}
}

// A part that is turned by an odd angle brings its sizes in by the cosine of that
// angle: what the gap of the placed machine moves by when one of them grows.
func TestAskew(t *testing.T) {
	plan := func(x, y float64) trial.Files {
		const turn = 30 * math.Pi / 180
		sin, cos := math.Sincos(turn)
		// The link is placed so that its first eye stays where the base's pin hole is:
		// its lowest corner, the link's own front left corner turned, is at ...
		ax, ay := 10*cos-10*sin, 10*sin+10*cos // the first eye from the corner
		low := -40 * sin                       // the box's corners: x from there, y from 0
		return trial.Files{
			"plan.yaml": rig,
			"parts/p.yaml": "base: {title: Base, made: machined, material: steel, shape: [{box: [200 mm, 200 mm, 10 mm]}], holes: {pin: {at: [80 mm, 60 mm], bore: 6 mm H7}}}\n" +
				fmt.Sprintf("link: {title: Link, made: machined, material: steel, shape: [{box: [90 mm, 40 mm, 10 mm]}], holes: {near: {at: [10 mm, 10 mm], bore: 6 mm H7}, far: {at: [%.6f mm, %.6f mm], bore: 6 mm H7}}}\n", x, y) +
				"pin_6x20: {standard: ISO 2338 6 m6 x 20, buy: any}\n",
			"assemblies/rig.yaml": fmt.Sprintf("title: Rig\nholds:\n  base: {part: base, at: [0 mm, 0 mm, 0 mm]}\n  link: {part: link, at: [%.9f mm, %.9f mm, 10 mm], turn: z 30 deg}\njoints:\n  held: {pin: pin_6x20, through: [link.near, base.pin]}\n", 80-ax+low, 60-ay),
			"calcs/gap.yaml":      "title: Gap\nchain: {along: x, from: base.left, through: [base.pin, link.near], to: link.far}\n",
		}
	}
	report := closed(t, plan(80, 25))
	moved := map[string]float64{"x": closed(t, plan(81, 25)).Measured - report.Measured, "y": closed(t, plan(80, 26)).Measured - report.Measured}
	sizes := map[string]float64{"x": 70, "y": 15}
	found := 0
	for _, c := range report.Contributors {
		for axis, size := range sizes {
			if c.Path == "link" && math.Abs(c.Size-size) < 1e-6 {
				found++
				if math.Abs(c.Sense-moved[axis]) > 1e-6 {
					t.Errorf("the size along the link's %s has the sense %.6f, the gap moves by %.6f", axis, c.Sense, moved[axis])
				}
			}
		}
	}
	if found != 2 {
		t.Errorf("%d sizes of the link among %+v, want two", found, report.Contributors)
	}
	if math.Abs(report.Gap.Nominal-report.Measured) > 1e-6 {
		t.Errorf("links add up to %.6f, measured are %.6f", report.Gap.Nominal, report.Measured)
	}
}

// What the plan adds by hand counts like a size.
func TestAlso(t *testing.T) {
	files := channel.With(trial.Files{"calcs/gap.yaml": "title: Gap\nchain:\n  along: x\n  from: d.right\n  to: {feature: housing.slot, towards: x}\n  also: {shim: {is: -0.002 in ± 0.001 in, because: pasted in}}\n"})
	report := closed(t, files)
	g := report.Gap
	if math.Abs(g.Mean/inch-0.003) > 1e-6 || math.Abs(g.High/inch-0.014) > 1e-6 || math.Abs(g.Low/inch+0.008) > 1e-6 || math.Abs(g.Spread/inch-math.Sqrt(37)/1000) > 1e-6 {
		t.Errorf("%+v in inches by %g", g, inch)
	}
	if math.Abs(report.Measured/inch-0.005) > 1e-6 {
		t.Errorf("measured %g in, want 0.005 without the shim", report.Measured/inch)
	}
}
