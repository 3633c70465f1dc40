package reckon_test

import (
	"reflect"
	"strings"
	"testing"

	"plansheaf/design/memo"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
	"plansheaf/design/trial"
)

// What a shape measures is taken over from an earlier run, a hole that hangs on the part's
// own size included.
func TestSizesKept(t *testing.T) {
	files := trial.Files{
		"stock.yaml": "board: {title: Board, sheet: 10 mm, material: birch_plywood}\n",
		"parts/all.yaml": `shelf:
  title: Shelf
  made: sheet
  stock: board
  outline: {rectangle: [100 mm, 50 mm]}
  holes:
    mid: {at: [shelf.width / 2, shelf.depth / 2], bore: 8 mm}
    off: {at: [10 mm, 10 mm], bore: shelf.section_x.area / (100 mm)}
box: {title: Box, made: printed, material: pla, shape: [{box: [20 mm, 30 mm, 10 mm]}], print: {face: bottom, walls: 3, infill: 20 %}}
bent: {title: Bent, made: sheet, stock: board, outline: {rectangle: [10 mm, 10 mm]}, holes: {out: {at: [100 mm, 5 mm], bore: 3 mm}}}
`,
	}
	type told struct {
		Measures solid.Measures
		Box      solid.Box
		Mass     float64
		Faces    int
	}
	work := func(files trial.Files, kept *memo.Store) (out []told, said []string) {
		p, shapes := trial.Plan(t, files), reckon.NewShapes()
		shapes.Kept = kept
		r := reckon.New(p, reckon.Default(p), shapes)
		r.All()
		for _, one := range p.Parts {
			part := r.Part(one.ID.Text)
			out = append(out, told{part.Measures, part.Solid.Box(), part.Mass, len(part.Solid.Faces)})
		}
		for _, f := range r.Findings() {
			said = append(said, f.At.String()+f.Message)
		}
		return out, said
	}
	kept := memo.New()
	if _, said := work(files, kept); len(said) != 1 || !strings.Contains(said[0], "out") {
		t.Errorf("found %q, want the hole beside its part alone", said)
	}
	for _, c := range []struct {
		old, new string
		anew     int
	}{
		{"made: sheet", "made: sheet # so", 0},
		{"[100 mm, 50 mm]", "[120 mm, 50 mm]", 5}, // body and size without holes, and with them; the section
		{"10 mm]}], print", "12 mm]}], print", 3}, // body, size, and what stands up of it
		{"infill: 20 %", "infill: 30 %", 0},
		{"[100 mm, 5 mm]", "[5 mm, 5 mm]", 2},
	} {
		edited := files.With(trial.Files{"parts/all.yaml": strings.Replace(files["parts/all.yaml"], c.old, c.new, 1)})
		before := kept.Uses().New
		got, says := work(edited, kept)
		if anew := kept.Uses().New - before; anew != c.anew {
			t.Errorf("%s: %d worked out anew, want %d", c.new, anew, c.anew)
		}
		if want, said := work(edited, nil); !reflect.DeepEqual(got, want) || !reflect.DeepEqual(says, said) {
			t.Errorf("%s: got %+v %q, want %+v %q", c.new, got, says, want, said)
		}
	}
	kept.Doubt = true
	work(files, kept)
	if faults := kept.Faults(); len(faults) > 0 {
		t.Errorf("faults %q", faults)
	}
}
