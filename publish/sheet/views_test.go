package sheet

import (
	"path/filepath"
	"strings"
	"testing"

	"plansheaf/design/golden"
	"plansheaf/design/solid"
	"plansheaf/publish/picture"
)

var m6 = &solid.Thread{Designation: "M6", Major: 6, Minor: 4.917, Pitch: 1}

// longPost is a slotted bar of a metre with its holes at its ends.
func longPost(t testing.TB) Request {
	s := build(t, solid.Shape{
		Base: solid.Bar{Section: solid.Slotted{W: 40, H: 40, Slot: 8, Lip: 2, Depth: 12, Pocket: 20, Core: 6.8}, Length: 1000, Lies: solid.AxisZ},
		Holes: []solid.Hole{
			{Name: "foot", Face: "bottom", At: []solid.Vec2{{X: 20, Y: 20}}, Kind: solid.Tapped, D: 6.8, Depth: 25, Thread: m8},
			{Name: "low", Face: "front", At: solid.Row(solid.Vec2{X: 20, Y: 20}, solid.Vec2{Y: 40}, 2), Pattern: true, D: 9, ThroughAll: true},
			{Name: "high", Face: "front", At: []solid.Vec2{{X: 20, Y: 975}}, D: 6.6, ThroughAll: true},
		}})
	r := titled("long_post", "Long post", s, Bar)
	r.Along, r.Stock = solid.AxisZ, "Slotted bar 40×40, slot 8"
	return r
}

// sleeve is turned and stepped outside, bored and counterbored inside.
func sleeve(t testing.TB) Request {
	s := build(t, solid.Shape{
		Base: solid.Group{{Along: solid.AxisX, Shape: solid.Lathed{{D: 44, L: 8}, {D: 30, L: 34}}}},
		Holes: []solid.Hole{{Name: "bore", Face: "left", At: []solid.Vec2{{X: 22, Y: 22}}, D: 16, ThroughAll: true,
			Counterbore: &solid.Counterbore{D: 22, Depth: 12}}}})
	r := titled("sleeve", "Flanged sleeve", s, Free)
	r.Called = map[string]HoleWord{"bore": {Fit: "H7"}}
	return r
}

// cover is a plate whose inner forms do not stand on one line.
func cover(t testing.TB) Request {
	s := build(t, solid.Shape{Base: solid.Sheet{Outline: roundedPlate(t, 120, 80, 6), Thickness: 16}, Holes: []solid.Hole{
		{Name: "seat", At: []solid.Vec2{{X: 60, Y: 40}}, D: 20, Counterbore: &solid.Counterbore{D: 32, Depth: 7}},
		{Name: "screws", At: solid.Grid(solid.Vec2{X: 14, Y: 14}, solid.Vec2{X: 92, Y: 52}, [2]int{2, 2}), Pattern: true, D: 6.6, Counterbore: &solid.Counterbore{D: 11, Depth: 6.5}},
		{Name: "stop", At: []solid.Vec2{{X: 96, Y: 40}}, D: 5, Depth: 10, Kind: solid.Tapped, Thread: m6},
	}})
	r := titled("cover", "Bearing cover", s, Plate)
	r.Views = []ViewRequest{{Kind: "top"}, {Kind: "section", Letter: "A", Through: []string{"screws.1", "seat", "stop"}}}
	return r
}

// halfCover is the same plate with a half section asked for.
func halfCover(t testing.TB) Request {
	r := cover(t)
	r.Name, r.Projection = "half_cover", FirstAngle
	r.Views = []ViewRequest{{Kind: "top"}, {Kind: "section", Letter: "B", Through: []string{"seat"}, Half: true}}
	return r
}

// viewSamples are parts for each kind of view.
func viewSamples(t testing.TB) []Request {
	return []Request{longPost(t), sleeve(t), cover(t), halfCover(t), spindle(t), rail(t), tray(t)}
}

// TestViewsGolden keeps a sheet of each kind of view, that was looked at, and audits
// it.
func TestViewsGolden(t *testing.T) {
	for _, request := range viewSamples(t) {
		t.Run(request.Name, func(t *testing.T) {
			result := draw(t, request)
			for _, f := range append(faultsOf(result), faultMessages(result)...) {
				t.Error(f)
			}
			for _, o := range Audit(result.Facts, result.Ties, result.Dimensions) {
				t.Error(o)
			}
			got, err := picture.SVG(result.Picture)
			if err != nil {
				t.Fatal(err)
			}
			golden.Compare(t, filepath.Join("testdata", "views", request.Name+".svg"), got)
		})
	}
}

// spindle has a groove too narrow to read at the sheet's scale.
func spindle(t testing.TB) Request {
	s := build(t, solid.Shape{Base: solid.Group{{Along: solid.AxisX, Shape: solid.Lathed{
		{D: 24, L: 90}, {D: 22.9, L: 1.3}, {D: 24, L: 40}, {D: 16, L: 60}}}}})
	return titled("spindle", "Spindle", s, Free)
}

// rail has a rebate and a step that its outer views show too small.
func rail(t testing.TB) Request {
	s := build(t, solid.Shape{Base: solid.Group{
		{Along: solid.AxisZ, Shape: solid.Extruded{L: 20, Outline: solid.Outline{
			{From: solid.Vec2{X: 0, Y: 0}, To: solid.Vec2{X: 240, Y: 0}}, {From: solid.Vec2{X: 240, Y: 0}, To: solid.Vec2{X: 240, Y: 60}},
			{From: solid.Vec2{X: 240, Y: 60}, To: solid.Vec2{X: 122, Y: 60}}, {From: solid.Vec2{X: 122, Y: 60}, To: solid.Vec2{X: 122, Y: 58.5}},
			{From: solid.Vec2{X: 122, Y: 58.5}, To: solid.Vec2{X: 120, Y: 58.5}}, {From: solid.Vec2{X: 120, Y: 58.5}, To: solid.Vec2{X: 120, Y: 60}},
			{From: solid.Vec2{X: 120, Y: 60}, To: solid.Vec2{X: 0, Y: 60}}, {From: solid.Vec2{X: 0, Y: 60}, To: solid.Vec2{X: 0, Y: 0}}}}}},
		Holes: []solid.Hole{{Name: "bolts", Face: "front", At: solid.Row(solid.Vec2{X: 30, Y: 10}, solid.Vec2{X: 90}, 3), Pattern: true, D: 9, ThroughAll: true}}})
	return titled("rail", "Grooved rail", s, Free)
}

// TestSectionsSpareHolesBesideTheirPlane: a plane through one hole that would cut
// another far off its axis steps to that one's axis; one that it cuts near enough, or
// not at all, it passes by.
func TestSectionsSpareHolesBesideTheirPlane(t *testing.T) {
	for _, test := range []struct {
		name  string
		off   float64
		steps int
	}{
		{name: "in the plane", off: 0, steps: 1},
		{name: "nearly in the plane", off: 1, steps: 1},
		{name: "cut near its rim", off: 4, steps: 2},
		{name: "clear of the plane", off: 9, steps: 1},
	} {
		t.Run(test.name, func(t *testing.T) {
			s := build(t, solid.Shape{Base: solid.Sheet{Outline: solid.RectangleOutline(120, 60), Thickness: 12}, Holes: []solid.Hole{
				{Name: "seat", At: []solid.Vec2{{X: 30, Y: 30}}, D: 8, Counterbore: &solid.Counterbore{D: 14, Depth: 5}},
				{Name: "vent", At: []solid.Vec2{{X: 90, Y: 30 + test.off}}, D: 10}}})
			r := titled("spared", "Spared", s, Plate)
			r.Views = []ViewRequest{{Kind: "top"}, {Kind: "section", Letter: "A", Through: []string{"seat"}}}
			complete(t, draw(t, r))
			p := study(r.Solid, r.Body, r.Along)
			for _, q := range p.choose(&r, func(f Fault) { t.Error(f.Message) }) {
				if q.cut != nil && len(q.cut.steps) != test.steps {
					t.Errorf("the section has %d planes, want %d", len(q.cut.steps), test.steps)
				}
			}
		})
	}
}

// TestOneDetailForOneGroove: narrow and low at once, a groove is still one thing.
func TestOneDetailForOneGroove(t *testing.T) {
	s := build(t, solid.Shape{Base: solid.Group{{Along: solid.AxisX, Shape: solid.Lathed{{D: 24, L: 60}, {D: 23, L: 1.3}, {D: 24, L: 40}}}}})
	rings := 0
	for _, text := range readSheet(draw(t, titled("once", "Once", s, Free)).Picture.Marks) {
		if strings.Contains(text.words, ":1)") {
			rings++
		}
	}
	if rings != 1 {
		t.Errorf("%d details of one groove", rings)
	}
}
