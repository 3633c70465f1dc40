package reckon_test

import (
	"math"
	"os"
	"strings"
	"testing"

	"plansheaf/design/reckon"
	"plansheaf/design/trial"
)

// stl is a mesh that the tests of solid/mesh make: a lid of 20 x 10 x 5 mm with a
// post of 4 x 4 x 8 mm on it.
func stl(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile("../../testdata/mesh/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// A part's shape may come from a file, alone or with other shapes, and be drilled.
func TestMeshParts(t *testing.T) {
	const lid = 20*10*5 + 4*4*8
	for _, c := range []struct {
		name, file, shape, holes string
		want                     float64
	}{
		{name: "binary", file: "lid.stl", shape: "{mesh: {file: files/it.stl, unit: mm}}", want: lid},
		{name: "ascii", file: "lid_ascii.stl", shape: "{mesh: {file: files/it.stl, unit: mm}}", want: lid},
		{name: "inches", file: "lid_inches.stl", shape: "{mesh: {file: files/it.stl, unit: in}}", want: lid},
		{name: "centimetres", file: "lid.stl", shape: "{mesh: {file: files/it.stl, unit: cm}}", want: lid * 1000},
		{name: "drilled", file: "lid.stl", shape: "{mesh: {file: files/it.stl, unit: mm}}", holes: ", holes: {h: {at: [4 mm, 5 mm], bore: 3 mm}}", want: lid - disc(3)*5},
		{name: "drilled from the side through the post", file: "lid.stl", shape: "{mesh: {file: files/it.stl, unit: mm}}", holes: ", holes: {h: {face: front, at: [10 mm, 9 mm], bore: 2 mm}}", want: lid - disc(2)*4},
		{name: "with a cylinder", file: "lid.stl", shape: "{mesh: {file: files/it.stl, unit: mm}}, {cylinder: {d: 2 mm, l: 6 mm}, at: [1 mm, 1 mm, 5 mm]}", want: lid + disc(2)*6},
		{name: "a cylinder less a mesh", file: "lid.stl", shape: "{cylinder: {d: 60 mm, l: 30 mm}}, {mesh: {file: files/it.stl, unit: mm}, at: [20 mm, 25 mm, 5 mm], axis: x, cut: yes}", want: disc(60)*30 - lid},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := trial.Reckoning(t, trial.Files{
				"parts/all.yaml": "it: {title: It, made: printed, material: steel_s235, shape: [" + c.shape + "]" + c.holes + "}\n",
				"files/it.stl":   stl(t, c.file),
			})
			p := r.Part("it")
			trial.Clean(t, r.Findings())
			if math.Abs(p.Measures.Volume-c.want) > 1e-6*c.want {
				t.Errorf("volume %.6f mm³, want %.6f", p.Measures.Volume, c.want)
			}
			if p.Solid == nil || p.Solid.Check() != nil {
				t.Error("no sound solid")
			}
		})
	}
}

// What is wrong with a mesh is found at the file's name or at the unit.
func TestMeshFaults(t *testing.T) {
	for _, c := range []struct{ name, file, unit, at, says string }{
		{name: "open", file: "open.stl", unit: "mm", at: "files/it.stl", says: "open"},
		{name: "inside out", file: "inside_out.stl", unit: "mm", at: "files/it.stl", says: "inside out"},
		{name: "its header says inches", file: "lid_inches.stl", unit: "mm", at: "mm", says: "header says in"},
	} {
		t.Run(c.name, func(t *testing.T) {
			files := trial.Files{
				"parts/all.yaml": "it: {title: It, made: printed, material: steel_s235, shape: [{mesh: {file: files/it.stl, unit: " + c.unit + "}}]}\n",
				"files/it.stl":   stl(t, c.file),
			}
			p := trial.Plan(t, files)
			r := reckon.New(p, reckon.Default(p), nil)
			if r.Part("it").Solid != nil {
				t.Error("a broken mesh gave a solid")
			}
			found := r.Findings()
			if len(found) != 1 || found[0].Rule != reckon.BadShape.Name || !strings.Contains(found[0].Message, c.says) {
				t.Fatalf("findings:\n%s", said(found))
			}
			if got := trial.Covered(files, found[0]); got != c.at {
				t.Errorf("marks %q, want %q", got, c.at)
			}
		})
	}
}
