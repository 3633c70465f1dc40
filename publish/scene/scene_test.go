package scene_test

import (
	"bytes"
	"testing"

	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/trial"
	"plansheaf/design/way"
	"plansheaf/publish/picture"
	"plansheaf/publish/scene"
)

// stool is put together in steps that add parts, screws, a repeated use, nothing
// with a shape, and what another choice has.
var stool = trial.Files{
	"plan.yaml":  "title: Stool\nmachine: stool\nrevision: A\nchoices: {feet: {title: Feet, options: {bare: Bare, padded: Padded}, default: bare}}\n",
	"stock.yaml": "bar: {title: Bar, section: {square: {side: 20 mm}}, material: steel_s235}\nplate: {title: Plate, sheet: 10 mm, material: steel_s235}\n",
	"parts/all.yaml": `post: {title: Post, made: cut, stock: bar, length: 100 mm, lies: z, holes: {crown: {face: top, at: [10 mm, 10 mm], tap: M8, depth: 20 mm}}}
lid: {title: Lid, made: sheet, stock: plate, outline: {rectangle: [200 mm, 60 mm]}, holes: {ends: {line: {from: [15 mm, 30 mm], step: [170 mm, 0 mm], count: 2}, for: M8}}}
pad: {title: Pad, made: bought, shape: [{box: [20 mm, 20 mm, 5 mm]}]}
cap: {standard: ISO 4762 M8x25 - 8.8}
`,
	"assemblies/stool.yaml": `title: Stool
holds:
  posts: {part: post, at: [5 mm, 20 mm, 0 mm], count: 2, step: [170 mm, 0 mm, 0 mm]}
  lid: {part: lid, at: [0 mm, 0 mm, 100 mm]}
  pads: {part: pad, at: [5 mm, 20 mm, -5 mm], count: 2, step: [170 mm, 0 mm, 0 mm], only: {feet: padded}}
joints:
  hold: {screw: cap, through: [lid.ends, posts.crown]}
steps:
  first: {title: First, adds: [posts.1], text: T}
  second: {title: Second, adds: [posts.2, lid], text: T}
  screws: {title: Screws, fastens: [hold], text: T, picture: {from: front left above}}
  look: {title: Look, text: T}
  pads: {title: Pads, adds: [pads], text: T, only: {feet: padded}}
`,
}

// inked tells which lines a picture has: new ones in the accent colour, and others.
// All marks must lie within the picture.
func inked(t *testing.T, pic *picture.Picture) (accented, old bool) {
	t.Helper()
	if err := picture.Check(pic); err != nil {
		t.Error(err)
	}
	for _, m := range pic.Marks {
		b := picture.Bounds([]picture.Mark{m})
		if b.Min.X < 0 || b.Min.Y < 0 || b.Max.X > pic.Width || b.Max.Y > pic.Height {
			t.Errorf("%s: a mark reaches to %v..%v of %g × %g mm", pic.Name, b.Min, b.Max, pic.Width, pic.Height)
		}
		if p, ok := m.(picture.Path); ok {
			accented = accented || p.Line == picture.Accented
			old = old || p.Line != picture.Accented
		}
	}
	return accented, old
}

func svg(t *testing.T, pic *picture.Picture) []byte {
	t.Helper()
	b, err := picture.SVG(pic)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func all(*plan.Step) bool { return true }

func TestSteps(t *testing.T) {
	steps := func() map[string]*picture.Picture {
		r := trial.Reckoning(t, stool)
		pics, err := scene.NewStudio(way.NewMemory()).Steps(layout.Of(r), r.Plan.Assembly("stool"), r.Case.Options, all)
		if err != nil {
			t.Fatal(err)
		}
		return pics
	}
	pics, again := steps(), steps()
	want := []struct {
		step                 string
		drawn, accented, old bool
	}{
		{step: "first", drawn: true, accented: true},
		{step: "second", drawn: true, accented: true, old: true},
		{step: "screws", drawn: true, accented: true, old: true},
		{step: "look"}, // adds nothing with a shape
		{step: "pads"}, // of another choice
	}
	for _, w := range want {
		pic := pics[w.step]
		if (pic != nil) != w.drawn {
			t.Errorf("%s: drawn is %v, want %v", w.step, pic != nil, w.drawn)
		}
		if pic == nil {
			continue
		}
		if accented, old := inked(t, pic); accented != w.accented || old != w.old {
			t.Errorf("%s: new lines %v, old lines %v: want %v, %v", w.step, accented, old, w.accented, w.old)
		}
		if !bytes.Equal(svg(t, pic), svg(t, again[w.step])) {
			t.Errorf("%s: two pictures of one plan differ", w.step)
		}
	}
}

func TestWhole(t *testing.T) {
	r := trial.Reckoning(t, stool)
	a := r.Plan.Assembly("stool")
	together, err := scene.NewStudio(way.NewMemory()).Together(layout.Of(r), a, r.Case.Options, scene.Items(r, a))
	if err != nil || together.Whole == nil {
		t.Fatalf("picture %v, error %v", together.Whole, err)
	}
	if accented, old := inked(t, together.Whole); accented || !old {
		t.Errorf("new lines %v, old lines %v: want old ones alone", accented, old)
	}
}
