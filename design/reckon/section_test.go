package reckon_test

import (
	"math"
	"strings"
	"testing"

	"plansheaf/design/trial"
)

// sectioned is a plan whose parts are cut across.
var sectioned = trial.Files{
	"plan.yaml": "title: Sections\nmachine: all\nrevision: A\n",
	"stock.yaml": `
slotted: {title: Slotted bar, section: {slotted: {size: [30 mm, 30 mm], slot: 8 mm, lip: 2 mm, depth: 9.2 mm, pocket: 16 mm, core: 6.8 mm}}, material: aluminium_6063}
flat: {title: Flat bar, section: {rectangle: {size: [20 mm, 30 mm]}}, material: steel_s235}
rod: {title: Threaded bar, section: {thread: M12}, material: steel_s235}
sheet: {title: Sheet, sheet: 10 mm, material: steel_s235}
`,
	"parts/all.yaml": `
post: {title: Post, made: cut, stock: slotted, length: 400 mm, lies: z}
rail: {title: Rail, made: cut, stock: flat, length: 200 mm, holes: {eye: {face: top, at: [50 mm, 10 mm], bore: 8 mm}}}
spindle: {title: Spindle, made: cut, stock: rod, length: 100 mm}
plate:
  title: Plate
  made: sheet
  stock: sheet
  outline: {rectangle: [100 mm, 60 mm]}
  holes: {rods: {line: {from: [20 mm, 30 mm], step: [60 mm, 0 mm], count: 2}, bore: 12 mm}, section: {at: [50 mm, 15 mm], bore: 6 mm}}
motor: {title: Motor, made: bought, shape: [{box: [40 mm, 40 mm, 40 mm]}]}
`,
	"assemblies/all.yaml": "title: All\nholds: {}\n",
}

func TestSectionsOfParts(t *testing.T) {
	rows := []struct {
		formula, unit string
		want          float64
	}{
		// The slotted bar by an independent geometry kernel (testdata/kernel), its core taken out.
		{"post.section.area", "mm^2", 439.2 - math.Pi*3.4*3.4},
		{"post.section.inertia_x", "mm^4", 37885.408 - math.Pi*math.Pow(3.4, 4)/4},
		{"post.section.inertia_y", "mm^4", 37885.408 - math.Pi*math.Pow(3.4, 4)/4},
		{"post.section.modulus_x", "mm^3", (37885.408 - math.Pi*math.Pow(3.4, 4)/4) / 15},
		{"slotted.section.area", "mm^2", 439.2 - math.Pi*3.4*3.4},
		// The flat bar lies along x: 20 along y, 30 along z.
		{"rail.section.area", "mm^2", 600},
		{"rail.section.inertia_y", "mm^4", 20 * 27000 / 12.0},
		{"rail.section.inertia_z", "mm^4", 30 * 8000 / 12.0},
		{"rail.section.modulus_y", "mm^3", 20 * 900 / 6.0},
		{"rail.section.radius_y", "mm", 30 / math.Sqrt(12)},
		{"rail.section.centre_z", "mm", 15},
		{"rail.section.least_inertia", "mm^4", 30 * 8000 / 12.0},
		{"rail.section.least_radius", "mm", 20 / math.Sqrt(12)},
		{"rail.section.polar", "mm^4", 45000 + 20000},
		// Through the hole of 8 there are two halves of 6 by 30.
		{"rail.eye.section_x.area", "mm^2", 12 * 30},
		{"rail.eye.section_x.inertia_y", "mm^4", 12 * 27000 / 12.0},
		{"rail.section_x.area", "mm^2", 600},
		// M12: the root, by ISO 724 and ISO 68-1.
		{"spindle.section.area", "mm^2", math.Pi / 4 * math.Pow(12-17*math.Sqrt(3)/24*1.75, 2)},
		{"plate.section_x.area", "mm^2", 54 * 10},
		{"plate.section_y.area", "mm^2", 76 * 10},
		{"plate.rods.section_x.area", "mm^2", 48 * 10},
		{"plate.rods.2.section_x.modulus_y", "mm^3", 48 * 100 / 6.0},
		{"plate.section.section_y.area", "mm^2", 94 * 10},
		{"plate.section.diameter", "mm", 6},
	}
	r := trial.Reckoning(t, sectioned)
	for _, row := range rows {
		t.Run(row.formula, func(t *testing.T) {
			v, err := r.Scope().Lookup(row.formula)
			if err != nil {
				t.Fatal(err)
			}
			got, err := v.In(row.unit)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(got/row.want-1) > 1e-6 {
				t.Errorf("got %.9g %s, want %.9g", got, row.unit, row.want)
			}
		})
	}
}

func TestSectionsThatCannotBe(t *testing.T) {
	rows := []struct{ formula, says string }{
		{"plate.section_x.inertia_x", `nothing is named "plate.section_x.inertia_x"`},
		{"rail.section.inertia_x", `nothing is named "rail.section.inertia_x"`},
		{"rail.eye.section.area", "which way it runs"},
		{"motor.section_x.area", "is bought"},
		{"motor.section.area", "no length of bar"},
		{"rail.rods.section_x.area", `nothing is named "rail.rods.section_x"`},
	}
	r := trial.Reckoning(t, sectioned)
	for _, row := range rows {
		if _, err := r.Scope().Lookup(row.formula); err == nil || !strings.Contains(err.Error(), row.says) {
			t.Errorf("%s: %v; it should say %q", row.formula, err, row.says)
		}
	}
}
