package chain_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"plansheaf/design/chain"
	"plansheaf/design/trial"
)

// plate is a plan of one plate on a base, with a chain along an axis in which the plate
// has the sizes to look at.
func plate(part, drawing, use, links string) trial.Files {
	files := trial.Files{
		"plan.yaml":           rig,
		"stock.yaml":          "sheet_8: {title: Sheet, sheet: 8 mm ± 0.3 mm, material: steel, buy: any}\nbar: {title: Bar, section: {rectangle: {size: [20 mm ± 0.15 mm, 10 mm]}}, material: steel, buy: any}\n",
		"parts/p.yaml":        "base: {title: Base, made: machined, material: steel, shape: [{box: [200 mm, 200 mm, 10 mm]}, {box: [1 mm, 1 mm, 90 mm], at: [199 mm, 199 mm, 0 mm], name: mast}], holes: {pins: {line: {from: [20 mm, 20 mm], step: [60 mm, 0 mm], count: 2}, bore: 6 mm H7}}}\n" + part,
		"assemblies/rig.yaml": "title: Rig\nholds:\n  base: {part: base, at: [0 mm, 0 mm, 0 mm]}\n  it: {part: it, " + use + "}\n",
		"calcs/gap.yaml":      "title: Gap\nchain: " + links + "\n",
	}
	if drawing != "" {
		files["drawings/it.yaml"] = "title: It\nof: it\ndimensions:\n" + drawing
	}
	return files
}

// Each size takes its tolerance from where its drawing does. Numbers of ISO 2768-1 are
// those of its table 1, of ISO 286-1 those of its tables.
func TestTolerances(t *testing.T) {
	const up = "{along: z, from: {feature: base.mast, towards: z}, through: [base.top, it.bottom], to: it.top}"
	cases := []struct {
		name, part, drawing, use, links string
		want                            []string // of the plate's contributors: the size with its limits, and the basis
	}{
		{
			name: "general tolerance over 30 to 120 mm", part: "it: {title: It, made: machined, material: steel, shape: [{box: [50 mm, 50 mm, 40 mm]}]}", use: "at: [0 mm, 0 mm, 10 mm]", links: up,
			want: []string{"40 -0.300 +0.300 general"},
		},
		{
			name: "a size's own spread", part: "it: {title: It, made: machined, material: steel, shape: [{box: [50 mm, 50 mm, 40 mm +0.1/-0 mm]}]}", use: "at: [0 mm, 0 mm, 10 mm]", links: up,
			want: []string{"40 +0.000 +0.100 own"},
		},
		{
			name: "stock's thickness", part: "it: {title: It, made: sheet, stock: sheet_8, outline: {rectangle: [50 mm, 50 mm]}}", use: "at: [0 mm, 0 mm, 10 mm]", links: up,
			want: []string{"8 -0.300 +0.300 own"},
		},
		{
			name: "a bar's length, standing on its head", part: "it: {title: It, made: cut, stock: bar, lies: z, length: 60 mm ± 0.05 mm}", use: "at: [0 mm, 0 mm, 10 mm], turn: x 180 deg",
			links: "{along: z, from: {feature: base.mast, towards: z}, through: [base.top, it.top], to: it.bottom}",
			want:  []string{"60 -0.050 +0.050 own"},
		},
		{
			name: "across a bar", part: "it: {title: It, made: cut, stock: bar, lies: z, length: 60 mm}", use: "at: [0 mm, 0 mm, 10 mm], turn: y 90 deg",
			links: "{along: z, from: {feature: base.mast, towards: z}, through: [base.top, it.right], to: it.left}",
			want:  []string{"20 -0.150 +0.150 own"},
		},
		{
			name: "a bought part's own word", part: "it: {title: It, made: bought, buy: any, material: steel, shape: [{box: [50 mm, 50 mm, 9 mm]}], has: {width: 9 mm +0/-0.12 mm}}", use: "at: [0 mm, 0 mm, 10 mm]", links: up,
			want: []string{"9 -0.120 +0.000 own"},
		},
		{
			name: "a blind hole's depth", part: "it: {title: It, made: machined, material: steel, shape: [{box: [50 mm, 50 mm, 40 mm]}], holes: {seat: {at: [25 mm, 25 mm], bore: 20 mm, depth: 12 mm ± 0.02 mm}}}", use: "at: [0 mm, 0 mm, 10 mm]",
			links: "{along: z, from: it.seat, to: {feature: base.mast, towards: z}, through: [it.top, it.bottom, base.top]}",
			want:  []string{"12 -0.020 +0.020 own", "40 -0.300 +0.300 general"},
		},
		{
			name: "two dimensions of the drawing in a row", part: "it: {title: It, made: machined, material: steel, shape: [{box: [50 mm, 50 mm, 40 mm]}, {box: [50 mm, 20 mm, 10 mm], at: [0 mm, 0 mm, 40 mm], name: rib}], holes: {side: {face: front, at: [25 mm, 15 mm], bore: 6 mm}}}",
			drawing: "  - {from: bottom, to: side, along: z, tolerance: ± 0.07 mm}\n  - {from: side, to: top, along: z, tolerance: ± 0.02 mm}\n", use: "at: [0 mm, 0 mm, 10 mm]", links: up,
			want: []string{"15 -0.070 +0.070 drawn", "25 -0.020 +0.020 drawn"},
		},
		{
			name: "a dimension for information does not count", part: "it: {title: It, made: machined, material: steel, shape: [{box: [50 mm, 50 mm, 40 mm]}]}",
			drawing: "  - {from: bottom, to: top, along: z, reference: yes}\n", use: "at: [0 mm, 0 mm, 10 mm]", links: up,
			want: []string{"40 -0.300 +0.300 general"},
		},
		{
			name: "a dimension of the drawing without a tolerance has the general one", part: "it: {title: It, made: machined, material: steel, shape: [{box: [50 mm, 50 mm, 40 mm]}], holes: {side: {face: front, at: [25 mm, 4 mm], bore: 2 mm}}}",
			drawing: "  - {from: bottom, to: side, along: z}\n  - {from: side, to: top, along: z, tolerance: ± 0.02 mm}\n", use: "at: [0 mm, 0 mm, 10 mm]", links: up,
			want: []string{"36 -0.020 +0.020 drawn", "4 -0.100 +0.100 general"},
		},
		{
			name: "a hole's fit counts by half at its wall", part: "it: {title: It, made: machined, material: steel, shape: [{box: [50 mm, 50 mm, 40 mm]}], holes: {eye: {face: front, at: [25 mm, 20 mm], bore: 18 mm H7}}}", use: "at: [0 mm, 0 mm, 10 mm]",
			links: "{along: z, from: {feature: base.mast, towards: z}, through: [base.top, it.bottom], to: {feature: it.eye, towards: z}}",
			want:  []string{"18 +0.000 +0.018 fit", "20 -0.200 +0.200 general"},
		},
		{
			name: "a printed hole comes out smaller", part: "it: {title: It, made: printed, material: petg, print: {face: bottom, allowance: 0.2 mm}, shape: [{box: [50 mm, 50 mm, 40 mm]}], holes: {eye: {face: front, at: [25 mm, 20 mm], bore: 18 mm ± 0.1 mm}}}", use: "at: [0 mm, 0 mm, 10 mm]",
			links: "{along: z, from: {feature: base.mast, towards: z}, through: [base.top, it.bottom], to: {feature: it.eye, towards: z}}",
			want:  []string{"18 -0.300 -0.100 own", "20 -0.200 +0.200 general"},
		},
		{
			name: "a row's step", part: "it: {title: It, made: machined, material: steel, shape: [{box: [50 mm, 50 mm, 40 mm]}], holes: {eyes: {face: front, line: {from: [25 mm, 5 mm ± 0.03 mm], step: [0 mm, 10 mm ± 0.01 mm], count: 3}, bore: 4 mm}}}", use: "at: [0 mm, 0 mm, 10 mm]",
			links: "{along: z, from: {feature: base.mast, towards: z}, through: [base.top, it.bottom], to: it.eyes.3}",
			want:  []string{"10 -0.010 +0.010 own", "10 -0.010 +0.010 own", "5 -0.030 +0.030 own"},
		},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			report := run(t, plate(c.part+"\n", c.drawing, c.use, c.links))
			var got []string
			for _, one := range report.Contributors {
				if one.Path == "it" {
					got = append(got, fmt.Sprintf("%g %+.3f %+.3f %s", math.Round(one.Size*1e6)/1e6, math.Round(one.Lower*1e6)/1e6+0, one.Upper, basisName(one.Basis)))
				}
			}
			slices.Sort(got)
			if strings.Join(got, "; ") != strings.Join(c.want, "; ") {
				t.Errorf("got %q, want %q; faults %v", got, c.want, report.Faults)
			}
		})
	}
}

func basisName(b chain.Basis) string {
	return map[chain.Basis]string{chain.Own: "own", chain.Drawn: "drawn", chain.Fit: "fit", chain.General: "general", chain.Assumed: "assumed", chain.Unknown: "unknown"}[b]
}
