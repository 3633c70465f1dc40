package sheet

import (
	"math"
	"slices"
	"strings"
	"testing"

	"plansheaf/design/solid"
	"plansheaf/design/standards"
	"plansheaf/publish/picture"
)

// tray is a block with a pocket, open at the top.
func tray(t testing.TB) Request {
	return titled("tray", "Tray", build(t, solid.Shape{Base: solid.Group{
		{Shape: solid.Block{Size: solid.Vec{X: 120, Y: 80, Z: 30}}},
		{Shape: solid.Block{Size: solid.Vec{X: 108, Y: 68, Z: 30}}, At: solid.Vec{X: 6, Y: 6, Z: 5}, Cut: true}}}), Free)
}

// TestViewsAreChosenByWhatTheyShow: no view without which nothing goes unseen.
func TestViewsAreChosenByWhatTheyShow(t *testing.T) {
	blind := headPlate(t)
	blind.Solid = build(t, solid.Shape{Base: solid.Sheet{Outline: solid.RectangleOutline(90, 60), Thickness: 14}, Holes: []solid.Hole{
		{Name: "stop", At: []solid.Vec2{{X: 30, Y: 30}}, D: 6, Depth: 8}}})
	below := blind
	below.Solid = build(t, solid.Shape{Base: solid.Sheet{Outline: solid.RectangleOutline(90, 60), Thickness: 14}, Holes: []solid.Hole{
		{Name: "pin", At: []solid.Vec2{{X: 20, Y: 30}}, D: 6}, {Name: "screw", Face: "bottom", At: []solid.Vec2{{X: 60, Y: 30}}, D: 6, Depth: 8}}})
	for _, test := range []struct {
		name    string
		request Request
		want    []string
	}{
		{name: "a plate with holes through it", request: headPlate(t), want: []string{"top"}},
		{name: "a plate with a blind hole", request: blind, want: []string{"top", "section A"}},
		{name: "a plate with blind holes from below", request: below, want: []string{"bottom", "section A"}},
		{name: "a solid shaft", request: shaft(t), want: []string{"front"}},
		{name: "a sleeve", request: sleeve(t), want: []string{"section A"}},
		{name: "a round rod", request: rod(t), want: []string{"front"}},
		{name: "a bar with holes at both ends and one side", request: longPost(t), want: []string{"front", "bottom"}},
		{name: "a tray", request: tray(t), want: []string{"top", "section A"}},
		{name: "a bent bracket", request: bracket(t), want: []string{"front", "top", "right"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			if got := draw(t, test.request).Views; !slices.Equal(got, test.want) {
				t.Errorf("views %q, want %q", got, test.want)
			}
		})
	}
}

// TestSectionsCutWhatTheyShould compares the hatched areas with closed forms.
func TestSectionsCutWhatTheyShould(t *testing.T) {
	seats := titled("seats", "Seats", build(t, solid.Shape{Base: solid.Sheet{Outline: solid.RectangleOutline(120, 80), Thickness: 16}, Holes: []solid.Hole{
		{Name: "seat", At: []solid.Vec2{{X: 60, Y: 40}}, D: 20, Counterbore: &solid.Counterbore{D: 32, Depth: 7}},
		{Name: "screw", At: []solid.Vec2{{X: 14, Y: 14}}, D: 6.6, Counterbore: &solid.Counterbore{D: 11, Depth: 6.5}}}}), Plate)
	const whole, seat, screw = 120 * 16, 20*9 + 32*7, 6.6*9.5 + 11*6.5
	for _, test := range []struct {
		name    string
		request Request
		views   []ViewRequest
		area    float64 // mm²
	}{
		{name: "full", request: seats, views: []ViewRequest{{Kind: "top"}, {Kind: "section", Through: []string{"seat"}}}, area: whole - seat},
		{name: "stepped", request: seats, views: []ViewRequest{{Kind: "top"}, {Kind: "section", Through: []string{"seat", "screw"}}}, area: whole - seat - screw},
		{name: "half", request: seats, views: []ViewRequest{{Kind: "top"}, {Kind: "section", Through: []string{"seat"}, Half: true}}, area: (whole - seat) / 2},
		{name: "through a face", request: seats, views: []ViewRequest{{Kind: "top"}, {Kind: "section", Through: []string{"top"}}}, area: whole - seat},
		// Rings of the sleeve: flange, rest of the counterbore, bore.
		{name: "half, unasked", request: sleeve(t), area: 8*(22-11) + 4*(15-11) + 30*(15-8)},
		{name: "round, asked for", request: sleeve(t), views: []ViewRequest{{Kind: "front"}, {Kind: "section", Through: []string{"bore"}}},
			area: 2 * (8*(22-11) + 4*(15-11) + 30*(15-8))},
	} {
		t.Run(test.name, func(t *testing.T) {
			r := test.request
			r.Views = test.views
			p := study(r.Solid, r.Body, r.Along)
			for _, q := range p.choose(&r, func(f Fault) { t.Error(f.Message) }) {
				if q.cut == nil {
					continue
				}
				if err := p.project(&q); err != nil {
					t.Fatal(err)
				}
				if got := areaWithin(q.curves.cut); math.Abs(got-test.area) > 1e-6*test.area {
					t.Errorf("hatched area %.4f mm², want %.4f", got, test.area)
				}
				return
			}
			t.Error("no section")
		})
	}
}

// areaWithin is the area that outlines of straight lines, each run following itself,
// go around.
func areaWithin(curves []picture.Curve) float64 {
	sum := 0.0
	for _, c := range curves {
		a, b := c.Ends()
		sum += (a.X*b.Y - b.X*a.Y) / 2
	}
	return math.Abs(sum)
}

// TestSectionsStandByProjection: in third angle what is seen from below stands below,
// in first angle above.
func TestSectionsStandByProjection(t *testing.T) {
	for _, test := range []struct {
		projection Projection
		below      bool
	}{{ThirdAngle, true}, {FirstAngle, false}} {
		r := cover(t)
		r.Projection = test.projection
		var top, section picture.Box
		for _, m := range draw(t, r).Picture.Marks {
			if g, ok := m.(picture.Group); ok && g.ID == "view-top" {
				top = picture.Bounds(g.Marks)
			} else if ok && g.ID == "section-A" {
				section = picture.Bounds(g.Marks)
			}
		}
		if below := section.Min.Y > top.Max.Y; below != test.below {
			t.Errorf("projection %v: section at %v, top view at %v", test.projection, section, top)
		}
	}
}

// TestLongBarsAreBroken: a post of a metre stands on A4 at full size, its dimensions
// true.
func TestLongBarsAreBroken(t *testing.T) {
	r := draw(t, longPost(t))
	if r.Size != "A4 landscape" || r.Scale != "1:1" {
		t.Errorf("drawn on %s at %s", r.Size, r.Scale)
	}
	for _, m := range r.Picture.Marks {
		if g, ok := m.(picture.Group); ok && g.ID == "view-front" && picture.Bounds(g.Marks).Width() > 160 {
			t.Errorf("the front view is %.1f mm wide", picture.Bounds(g.Marks).Width())
		}
	}
	for _, want := range []string{"1000 [39.370]", "975 [38.386]"} {
		if !slices.ContainsFunc(readSheet(r.Picture.Marks), func(d drawnText) bool { return d.words == want }) {
			t.Errorf("the sheet lacks %q", want)
		}
	}
}

// TestDetailsAroundAnything: holes, slots, faces, named shapes.
func TestDetailsAroundAnything(t *testing.T) {
	lug := titled("lug", "Lug", build(t, solid.Shape{Base: solid.Group{
		{Shape: solid.Block{Size: solid.Vec{X: 120, Y: 60, Z: 12}}},
		{Shape: solid.Block{Size: solid.Vec{X: 4, Y: 60, Z: 3}}, At: solid.Vec{X: 40, Z: 12}, Name: "lip"},
		{Shape: solid.Block{Size: solid.Vec{X: 3, Y: 60, Z: 2}}, At: solid.Vec{X: 80, Z: 10}, Cut: true, Name: "groove"}}}), Free)
	for _, test := range []struct {
		name    string
		request Request
		around  string
	}{
		{name: "hole", request: bracket(t), around: "base.1"},
		{name: "slot", request: bracket(t), around: "wall"},
		{name: "slot of a bar", request: post(t), around: "slot_front"},
		{name: "added shape", request: lug, around: "lip"},
		{name: "cut away shape", request: lug, around: "groove"},
	} {
		t.Run(test.name, func(t *testing.T) {
			r := test.request
			r.Views = []ViewRequest{{Kind: "front"}, {Kind: "top"}, {Kind: "detail", Letter: "D", Around: test.around, Scale: "2:1"}}
			result := draw(t, r)
			for _, f := range append(faultsOf(result), faultMessages(result)...) {
				t.Error(f)
			}
			for _, m := range result.Picture.Marks {
				if g, ok := m.(picture.Group); ok && g.ID == "detail-D" {
					return
				}
			}
			t.Error("no detail")
		})
	}
}

// TestTitleBlockHasTheFields of ISO 7200 that are mandatory, and nothing where the plan
// says nothing.
func TestTitleBlockHasTheFields(t *testing.T) {
	labels := map[string]string{"legal owner": "Legal owner", "identification number": "Number", "date of issue": "Date of issue",
		"segment/sheet number": "Sheet", "title": "Title", "approval person": "Approved by", "creator": "Drawn by", "document type": "Document type"}
	l := newLayout(&Request{}, &part{}, &scheme{}, nil, ISO.smallest(), scales[0])
	cells := map[string]string{}
	for _, c := range l.cells() {
		cells[c.label] = c.value
	}
	for _, field := range standards.TitleFields() {
		if _, there := cells[labels[field.Name]]; field.Mandatory && !there {
			t.Errorf("the title block has no field for the %s", field.Name)
		}
	}
	for _, label := range []string{"Approved by", "Drawn by", "Legal owner", "Number", "Title", "Date of issue"} {
		if cells[label] != "" {
			t.Errorf("%s is %q without the plan saying so", label, cells[label])
		}
	}
}

// TestZonesCountAsTheTable: ISO 5457 gives how many fields a sheet has.
func TestZonesCountAsTheTable(t *testing.T) {
	for _, name := range []string{"A4", "A4 landscape", "A3", "A2", "A1", "A0"} {
		p, err := parsePaper(name)
		if err != nil {
			t.Fatal(err)
		}
		across, down := p.sheet.FieldsLong, p.sheet.FieldsShort
		if !p.sheet.Landscape() {
			across, down = down, across
		}
		space := p.space()
		if got := len(fields(space.Min.X, space.Max.X, p.width/2)) - 1; got != across {
			t.Errorf("%s: %d fields across, the table says %d", name, got, across)
		}
		if got := len(fields(space.Min.Y, space.Max.Y, p.height/2)) - 1; got != down {
			t.Errorf("%s: %d fields down, the table says %d", name, got, down)
		}
	}
}

// TestSymmetricViewsHaveTheirLine.
func TestSymmetricViewsHaveTheirLine(t *testing.T) {
	lone := headPlate(t)
	lone.Solid = build(t, solid.Shape{Base: solid.Sheet{Outline: solid.RectangleOutline(90, 60), Thickness: 4}, Holes: []solid.Hole{{Name: "a", At: []solid.Vec2{{X: 20, Y: 30}}, D: 6}}})
	for _, test := range []struct {
		name    string
		request Request
		lines   int
	}{
		{name: "both ways", request: headPlate(t), lines: 2},
		{name: "one way", request: lone, lines: 1},
		{name: "neither", request: drilled(t), lines: 0},
	} {
		p := study(test.request.Solid, test.request.Body, test.request.Along)
		q := pane{eye: p.turned(p.mainEye()), scale: 1}
		if err := p.project(&q); err != nil {
			t.Fatal(err)
		}
		if got := len(q.symmetry()); got != test.lines {
			t.Errorf("%s: %d lines of symmetry", test.name, got)
		}
	}
}

// TestFaultsOfSections says why a section cannot be had.
func TestFaultsOfSections(t *testing.T) {
	for _, test := range []struct {
		name    string
		through []string
		says    string
	}{
		{name: "nothing named", says: "nothing to cut through"},
		{name: "unknown", through: []string{"seat", "nose"}, says: "nose"},
		{name: "no step between", through: []string{"seat", "over", "screws.1"}, says: "stand over each other"},
	} {
		r := cover(t)
		r.Solid = build(t, solid.Shape{Base: solid.Sheet{Outline: solid.RectangleOutline(120, 120), Thickness: 16}, Holes: []solid.Hole{
			{Name: "seat", At: []solid.Vec2{{X: 60, Y: 60}}, D: 20}, {Name: "over", At: []solid.Vec2{{X: 60, Y: 20}}, D: 6},
			{Name: "screws", Pattern: true, At: []solid.Vec2{{X: 20, Y: 20}}, D: 6}}})
		r.Views = []ViewRequest{{Kind: "top"}, {Kind: "section", Letter: "A", Through: test.through}}
		if f := draw(t, r).Faults; len(f) != 1 || !strings.Contains(f[0].Message, test.says) || f[0].Remedy == "" {
			t.Errorf("%s: faults %+v", test.name, f)
		}
	}
}
