package sheet

import (
	"errors"
	"math"
	"testing"

	"plansheaf/design/solid"
	"plansheaf/publish/picture"
)

func TestTemplateTiles(t *testing.T) {
	big := build(t, solid.Shape{Base: solid.Sheet{Outline: solid.RectangleOutline(480, 320), Thickness: 12},
		Holes: []solid.Hole{{Name: "a", At: []solid.Vec2{{X: 100, Y: 100}, {X: 380, Y: 200}}, Pattern: true, D: 8}}})
	huge := build(t, solid.Shape{Base: solid.Sheet{Outline: solid.RectangleOutline(3000, 3000), Thickness: 12}})
	for _, test := range []struct {
		name  string
		solid *solid.Solid
		tiles int
	}{
		{name: "one sheet", solid: drilled(t).Solid, tiles: 1},
		{name: "turned to save sheets", solid: big, tiles: 4}, // 2 × 2 lying, 3 × 2 upright
		{name: "too large", solid: huge, tiles: 0},
		{name: "nothing", tiles: 0},
	} {
		t.Run(test.name, func(t *testing.T) {
			pages, err := Template(titled("plate", "Plate", test.solid, Plate))
			if (err == nil) != (test.tiles > 0) || len(pages) != test.tiles {
				t.Fatalf("%d tiles, want %d; error %v", len(pages), test.tiles, err)
			}
			if test.solid == nil && !errors.Is(err, ErrNoSolid) {
				t.Errorf("error %v", err)
			}
			for _, p := range pages {
				if _, err := picture.SVG(p); err != nil {
					t.Error(err)
				}
			}
		})
	}
}

// TestTemplateTilesFit moves each tile back to its place: crosses of neighbours
// must fall on each other, and every hole centre stand where the solid has it.
func TestTemplateTilesFit(t *testing.T) {
	s := build(t, solid.Shape{Base: solid.Sheet{Outline: solid.RectangleOutline(330, 480), Thickness: 12},
		Holes: []solid.Hole{{Name: "a", At: []solid.Vec2{{X: 170, Y: 250}}, D: 8}}})
	pages, err := Template(titled("plate", "Plate", s, Plate))
	if err != nil {
		t.Fatal(err)
	}
	if len(pages) != 4 {
		t.Fatalf("%d tiles", len(pages))
	}
	var centres []point // of crosses, in the template's own axes
	for i, p := range pages {
		from := point{X: float64(i%2) * (190 - tileOverlap), Y: float64(i/2) * (261 - tileOverlap)}
		for _, m := range p.Marks {
			path, ok := m.(picture.Path)
			if !ok || path.Ink != picture.Accent {
				continue
			}
			for k := 0; k < len(path.Curves); k += 2 {
				a, b := path.Curves[k].Ends()
				centres = append(centres, a.Plus(b).Times(0.5).Minus(point{X: tileMargin, Y: tileMargin}).Plus(from))
			}
		}
	}
	if len(centres) != 24 { // six on each of four tiles
		t.Fatalf("%d crosses", len(centres))
	}
	for i, c := range centres {
		partners := 0
		for j, d := range centres {
			if i != j && c.Distance(d) < 1e-9 {
				partners++
			}
		}
		if partners != 1 {
			t.Errorf("the cross at %v has %d partners on other tiles", c, partners)
		}
	}
}

func TestTemplateBarIsTrue(t *testing.T) {
	pages, err := Template(drilled(t))
	if err != nil {
		t.Fatal(err)
	}
	longest := 0.0
	for _, m := range pages[0].Marks {
		if path, ok := m.(picture.Path); ok && path.Line == picture.Thin {
			for _, c := range path.Curves {
				longest = max(longest, c.Length())
			}
		}
	}
	if math.Abs(longest-100) > 1e-9 {
		t.Errorf("the bar measures %v mm", longest)
	}
}

// Every tile says whose it is, its revision and its date, so that an old one is told
// from a new one.
func TestTemplateIsDated(t *testing.T) {
	r := drilled(t)
	r.Number, r.Revision, r.Date = "plate", "C", "2026-05-02"
	pages, err := Template(r)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range pages {
		dated := false
		for _, m := range p.Marks {
			words, ok := m.(picture.Text)
			dated = dated || ok && words.Words == "plate, revision C, 2026-05-02"
		}
		if !dated {
			t.Errorf("%s does not say its revision and date", p.Name)
		}
	}
}
