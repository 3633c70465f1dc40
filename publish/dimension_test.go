package publish_test

import (
	"cmp"
	"slices"
	"strings"
	"testing"

	"plansheaf/design/check"
	"plansheaf/design/finding"
	"plansheaf/design/trial"
	"plansheaf/publish"
	"plansheaf/publish/release"
)

// bracketPlan is a machine of one plate with a slanted side and round corners, and a
// drawing of it that asks for the dimensions given.
func bracketPlan(dimensions string) trial.Files {
	return trial.Files{
		"assemblies/rig.yaml": "title: Rig\nholds: {plate: {part: plate, at: [0 mm, 0 mm, 0 mm]}}\nsteps: {lay: {title: Lay it down, adds: [plate], text: Lay the plate down.}}\n",
		"stock.yaml":          "sheet_6: {title: Aluminium plate 6 mm, sheet: 6 mm, material: aluminium_6082, sold: [{size: [1000 mm, 500 mm], price: 50 EUR}], buy: any}\n",
		"parts/plate.yaml": `plate:
  title: Plate
  made: sheet
  stock: sheet_6
  outline: {polygon: [[0 mm, 0 mm], [120 mm, 0 mm], [120 mm, 30 mm], [70 mm, 80 mm], [0 mm, 80 mm]], corners: {round: 4 mm}}
  holes:
    pin: {at: [60 mm, 40 mm], bore: 8 mm}
    blind: {at: [30 mm, 20 mm], bore: 6 mm, depth: 4 mm}
`,
		"drawings/plate.yaml": "title: Plate\nof: plate\n" + dimensions,
	}
}

// drawn makes the plan's publication and returns what its drawings brought to light.
func drawn(t *testing.T, dimensions string) []finding.Finding {
	t.Helper()
	made, err := publish.Make(check.Out(trial.Plan(t, bracketPlan(dimensions))), nil, publish.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return slices.DeleteFunc(made.Problems, func(f finding.Finding) bool {
		return f.Rule != publish.NotDrawable.Name && f.Rule != publish.NotDimensioned.Name && f.Rule != publish.DimensionedTwice.Name
	})
}

// Dimensions of every kind are followed, and leave nothing open.
func TestDimensionsOfEveryKindAreDrawn(t *testing.T) {
	for _, f := range drawn(t, `dimensions:
  - {from: left, to: pin, along: x, tolerance: ± 0.05 mm}
  - {diameter: pin, fit: H7}
  - {radius: corner_1, tolerance: ± 1 mm}
  - {angle: side_3, tolerance: ± 0.5 deg}
  - {depth: blind, tolerance: ± 0.1 mm}
  - {from: pin, to: right, along: x, reference: yes}
`) {
		t.Errorf("%s: %s [%s]", f.At, f.Message, f.Rule)
	}
}

// What a drawing asks for and cannot have is found at the words that ask for it.
func TestDimensionsThatCannotBeAreFoundWhereTheyStand(t *testing.T) {
	for _, test := range []struct {
		name, dimensions string
		rule             string
		file             string // not given: the drawing
		line             int
		says             string
	}{
		{name: "radius of a hole", dimensions: "dimensions:\n  - {diameter: pin}\n  - {radius: blind}\n", rule: publish.NotDrawable.Name, line: 5, says: `"blind" is a hole`},
		{name: "depth of a through hole", dimensions: "dimensions:\n  - {depth: pin}\n", rule: publish.NotDrawable.Name, line: 4, says: "goes through"},
		{name: "chamfer of a round corner", dimensions: "dimensions:\n  - {chamfer: corner_1}\n", rule: publish.NotDrawable.Name, line: 4, says: "no chamfer"},
		{name: "angle of a straight side", dimensions: "dimensions:\n  - {angle: side_1}\n", rule: publish.NotDrawable.Name, line: 4, says: "nothing that slants"},
		{name: "angle as tolerance of a length", dimensions: "dimensions:\n  - {diameter: pin, tolerance: ± 1 deg}\n", rule: publish.NotDrawable.Name, line: 4, says: "is an angle"},
		{name: "twice", dimensions: "dimensions:\n  - {from: left, to: pin, along: x}\n  - {from: pin, to: left, along: x}\n", rule: publish.DimensionedTwice.Name, line: 5, says: "fixed twice"},
		{name: "left open", dimensions: "only_these: yes\ndimensions:\n  - {from: left, to: pin, along: x}\n", rule: publish.NotDimensioned.Name, file: "parts/plate.yaml", line: 7, says: "size of pin is not fixed"},
	} {
		t.Run(test.name, func(t *testing.T) {
			found := drawn(t, test.dimensions)
			if !slices.ContainsFunc(found, func(f finding.Finding) bool {
				return f.Rule == test.rule && f.At.File == cmp.Or(test.file, "drawings/plate.yaml") && f.At.Line == test.line && strings.Contains(f.Message, test.says) && f.Remedy != ""
			}) {
				t.Errorf("found %+v", found)
			}
		})
	}
}

// TestTolerancesOfThePlanAreDrawn: a fit or a tolerance that stands with a diameter in
// the plan stands behind it on the drawing, of holes and of round shapes.
func TestTolerancesOfThePlanAreDrawn(t *testing.T) {
	files := bracketPlan("views: [top]\n")
	files["parts/plate.yaml"] = `plate:
  title: Spindle
  made: turned
  material: steel_c45
  shape:
    - {cylinder: {d: 20 mm ± 0.05 mm, l: 40 mm}, name: collar}
    - {cylinder: {d: 12 mm h6, l: 30 mm}, at: [4 mm, 4 mm, 40 mm], name: journal}
  holes:
    pin: {face: top, at: [10 mm, 10 mm], bore: 6 mm H7, depth: 12 mm}
`
	delete(files, "drawings/plate.yaml")
	made, err := publish.Make(check.Out(trial.Plan(t, files)), nil, publish.Options{})
	if err != nil {
		t.Fatal(err)
	}
	at := slices.IndexFunc(made.Files, func(f release.File) bool { return f.Path == "drawings/plate.svg" })
	if at < 0 {
		t.Fatal("there is no drawing")
	}
	svg := string(made.Files[at].Data)
	for _, want := range []string{"⌀12 h6 (0/−0.011)", "⌀20 ± 0.05", "⌀6 H7 (+0.012/0)"} {
		if !strings.Contains(svg, want) {
			t.Errorf("the drawing lacks %q", want)
		}
	}
}
