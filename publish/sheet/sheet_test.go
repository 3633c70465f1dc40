package sheet

import (
	"errors"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"plansheaf/design/golden"
	"plansheaf/design/solid"
	"plansheaf/publish/picture"
)

// build makes a solid or stops the test.
func build(t testing.TB, shape solid.Shape) *solid.Solid {
	t.Helper()
	s, err := solid.Build(shape)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func roundedPlate(t testing.TB, w, h, r float64) solid.Outline {
	t.Helper()
	o, err := solid.RectangleOutline(w, h).Rounded(r)
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// words of the title block that all test parts share.
func titled(name, title string, s *solid.Solid, body Body) Request {
	return Request{Name: name, Title: title, Number: "TP-" + name, Revision: "C", Date: "2026-05-02",
		Author: "M. Okafor-Lind", Owner: "Bench tile press", License: "CERN-OHL-S-2.0",
		Material: "Aluminium 6082", Mass: "0.80 kg [1.76 lb]", Tolerances: "ISO 2768-m", Solid: s, Body: body}
}

var m8 = &solid.Thread{Designation: "M8", Major: 8, Minor: 6.647, Pitch: 1.25}

func headPlate(t testing.TB) Request {
	s := build(t, solid.Shape{Base: solid.Sheet{Outline: roundedPlate(t, 260, 120, 8), Thickness: 10}, Holes: []solid.Hole{
		{Name: "screw", At: []solid.Vec2{{X: 130, Y: 60}}, D: 22},
		{Name: "rods", At: solid.Grid(solid.Vec2{X: 40, Y: 60}, solid.Vec2{X: 180}, [2]int{2, 1}), Pattern: true, D: 12},
		{Name: "posts", At: solid.Grid(solid.Vec2{X: 15, Y: 15}, solid.Vec2{X: 230, Y: 90}, [2]int{2, 2}), Pattern: true, D: 9, Kind: solid.Clearance},
	}})
	r := titled("head_plate", "Head plate", s, Plate)
	r.Stock = "Aluminium plate 10 mm"
	r.Called = map[string]HoleWord{"screw": {Fit: "H7"}, "rods": {Fit: "H7"}}
	r.Notes = []string{"Break sharp edges."}
	return r
}

func post(t testing.TB) Request {
	s := build(t, solid.Shape{
		Base: solid.Bar{Section: solid.Slotted{W: 30, H: 30, Slot: 8, Lip: 2, Depth: 9.2, Pocket: 16, Core: 6.8}, Length: 440, Lies: solid.AxisZ},
		Holes: []solid.Hole{
			{Name: "foot", Face: "bottom", At: []solid.Vec2{{X: 15, Y: 15}}, Kind: solid.Tapped, D: 6.8, Depth: 25, Thread: m8},
			{Name: "crown", Face: "top", At: []solid.Vec2{{X: 15, Y: 15}}, Kind: solid.Tapped, D: 6.8, Depth: 25, Thread: m8},
			{Name: "side", Face: "front", At: solid.Row(solid.Vec2{X: 15, Y: 100}, solid.Vec2{Y: 60}, 4), Pattern: true, D: 9, ThroughAll: true},
		}})
	r := titled("post", "Upright post", s, Bar)
	r.Along, r.Stock = solid.AxisZ, "Slotted bar 30×30, slot 8"
	return r
}

func shaft(t testing.TB) Request {
	s := build(t, solid.Shape{Base: solid.Group{{Along: solid.AxisX, Shape: solid.Lathed{
		{D: 12, L: 20, Thread: &solid.Thread{Designation: "M12", Major: 12, Minor: 10.106, Pitch: 1.75}},
		{D: 20, L: 45}, {D: 28, L: 6}, {D: 20, L: 60}, {D: 20, To: 14, L: 12}, {D: 14, L: 25}}}}})
	return titled("shaft", "Drive shaft", s, Free)
}

func bracket(t testing.TB) Request {
	s := build(t, solid.Shape{Base: solid.Group{
		{Shape: solid.Block{Size: solid.Vec{X: 60, Y: 40, Z: 6}}}, {Shape: solid.Block{Size: solid.Vec{X: 6, Y: 40, Z: 50}}}},
		Holes: []solid.Hole{
			{Name: "base", At: solid.Grid(solid.Vec2{X: 25, Y: 10}, solid.Vec2{X: 22, Y: 20}, [2]int{2, 2}), Pattern: true, D: 5.5,
				Countersink: &solid.Countersink{D: 11, Angle: 1.5707963}},
			{Name: "wall", Face: "left", At: []solid.Vec2{{X: 20, Y: 32}}, Kind: solid.Obround, D: 8, Long: 20, Along: solid.AxisZ}}})
	return titled("bracket", "Corner bracket", s, Free)
}

func flange(t testing.TB) Request {
	s := build(t, solid.Shape{Base: solid.Sheet{Outline: solid.CircleOutline(90), Thickness: 8}, Holes: []solid.Hole{
		{Name: "bore", At: []solid.Vec2{{X: 45, Y: 45}}, D: 30},
		{Name: "bolts", At: solid.Ring(solid.Vec2{X: 45, Y: 45}, 66, 6, 0.3), Pattern: true, D: 6.6, Counterbore: &solid.Counterbore{D: 11, Depth: 4}}}})
	return titled("flange", "Screw flange", s, Plate)
}

func drilled(t testing.TB) Request {
	s := build(t, solid.Shape{Base: solid.Sheet{Outline: roundedPlate(t, 180, 140, 6), Thickness: 8}, Holes: []solid.Hole{
		{Name: "pins", At: []solid.Vec2{{X: 12, Y: 13}, {X: 33, Y: 51}, {X: 77, Y: 22}, {X: 120, Y: 100}, {X: 160, Y: 31}}, Pattern: true, D: 5.5},
		{Name: "taps", At: []solid.Vec2{{X: 60, Y: 110}, {X: 90, Y: 70}, {X: 140, Y: 60}}, Pattern: true, D: 6.8, Kind: solid.Tapped, Thread: m8},
		{Name: "cable", At: []solid.Vec2{{X: 30, Y: 120}}, D: 20},
		{Name: "strap", At: []solid.Vec2{{X: 150, Y: 122}}, Kind: solid.Obround, D: 6.6, Long: 18, Along: solid.AxisX}}})
	return titled("drilled", "Drilled plate", s, Plate)
}

func rod(t testing.TB) Request {
	s := build(t, solid.Shape{Base: solid.Bar{Section: solid.Round{D: 12}, Length: 300}})
	r := titled("rod", "Guide rod", s, Bar)
	r.Stock = "Ground rod 12 mm"
	return r
}

// samples are the parts whose sheets are kept as golden files.
func samples(t testing.TB) []Request {
	draft := headPlate(t)
	draft.Name, draft.Draft, draft.Sheet, draft.Projection = "head_plate_draft", true, "A3", FirstAngle
	draft.History = []Revision{
		{"C", "2026-05-02", "Guide rods 12 mm instead of 10: the platen no longer sways."},
		{"B", "2026-02-11", "Posts moved out by 5 mm."}}
	inches := headPlate(t)
	inches.Name, inches.System, inches.Family = "head_plate_inch", Inch, US
	detailed := bracket(t)
	detailed.Name = "bracket_detailed"
	detailed.Views = []ViewRequest{{Kind: "front"}, {Kind: "top"}, {Kind: "detail", Letter: "B", Around: "base.1", Scale: "2:1"}, {Kind: "pictorial"}}
	cutFlange := flange(t)
	cutFlange.Name = "flange_section"
	cutFlange.Views = []ViewRequest{{Kind: "top"}, {Kind: "section", Letter: "A", Through: []string{"bore"}}}
	return []Request{headPlate(t), draft, inches, cutFlange, post(t), shaft(t), bracket(t), detailed, flange(t), drilled(t), rod(t)}
}

func draw(t testing.TB, r Request) *Result {
	t.Helper()
	result, err := Draw(r)
	if err != nil {
		t.Fatal(err)
	}
	return result
}

// texts of a result's dimensions of some kinds.
func dimensionTexts(r *Result, kinds ...Kind) []string {
	var list []string
	for _, d := range r.Dimensions {
		if slices.Contains(kinds, d.Kind) {
			list = append(list, d.Text)
		}
	}
	return list
}

func TestSamplesAreCompleteAndClear(t *testing.T) {
	for _, request := range samples(t) {
		t.Run(request.Name, func(t *testing.T) {
			result := draw(t, request)
			for _, f := range result.Faults {
				t.Errorf("fault: %s", f.Message)
			}
			for _, f := range faultsOf(result) {
				t.Error(f)
			}
			for _, o := range Audit(result.Facts, result.Ties, result.Dimensions) {
				t.Error(o)
			}
			if missing := missingGlyphs(result); len(missing) > 0 {
				t.Errorf("no glyph for %q", missing)
			}
		})
	}
}

// TestGolden keeps the samples' sheets as files that were looked at.
func TestGolden(t *testing.T) {
	for _, request := range samples(t) {
		t.Run(request.Name, func(t *testing.T) {
			got, err := picture.SVG(draw(t, request).Picture)
			if err != nil {
				t.Fatal(err)
			}
			golden.Compare(t, filepath.Join("testdata", request.Name+".svg"), got)
		})
	}
	t.Run("thumbnail", func(t *testing.T) {
		thumb, err := Thumbnail("bracket", "Corner bracket", bracket(t).Solid)
		if err != nil {
			t.Fatal(err)
		}
		got, err := picture.SVG(thumb)
		if err != nil {
			t.Fatal(err)
		}
		golden.Compare(t, filepath.Join("testdata", "bracket_thumbnail.svg"), got)
	})
	files, err := filepath.Glob("testdata/*.svg")
	if err != nil {
		t.Fatal(err)
	}
	if want := len(samples(t)) + 1; len(files) != want {
		t.Errorf("%d golden files for %d pictures: %v", len(files), want, files)
	}
}

func missingGlyphs(r *Result) []rune {
	texts := readSheet(r.Picture.Marks)
	var all strings.Builder
	for _, text := range texts {
		all.WriteString(text.words)
	}
	return picture.MissingGlyphs(all.String())
}

func TestDimensionsComeFromTheSolid(t *testing.T) {
	for _, test := range []struct {
		name    string
		request Request
		kinds   []Kind
		want    []string
	}{
		{name: "callouts of a plate", request: headPlate(t), kinds: []Kind{Callout},
			want: []string{"⌀22 H7 (+0.021/0) through", "2× ⌀12 H7 (+0.018/0) through", "4× ⌀9 through"}},
		{name: "places along a plate", request: headPlate(t), kinds: []Kind{Linear},
			want: []string{"260 [10.236]", "120 [4.724]", "15 [0.591]", "40 [1.575]", "130 [5.118]", "220 [8.661]", "245 [9.646]",
				"15 [0.591]", "60 [2.362]", "105 [4.134]"}},
		{name: "corners", request: headPlate(t), kinds: []Kind{Radius}, want: []string{"4× R8 [0.315]"}},
		{name: "blind taps of a bar", request: post(t), kinds: []Kind{Callout}, want: []string{"M8 ↧25, each end", "4× ⌀9 through all"}},
		{name: "equal steps", request: post(t), kinds: []Kind{Pitch}, want: []string{"3× 60 [2.362] (= 180)"}},
		{name: "countersinks and slot", request: bracket(t), kinds: []Kind{Callout}, want: []string{"4× ⌀5.5 through ⌵⌀11×90°", "slot 20×8 through"}},
		{name: "ring", request: flange(t), kinds: []Kind{Ring}, want: []string{"6× 60° on ⌀66 [2.598], first 17.19° from x"}},
		{name: "counterbores", request: flange(t), kinds: []Kind{Callout}, want: []string{"⌀30 through", "6× ⌀6.6 through ⌴⌀11 ↧4"}},
		{name: "round steps", request: shaft(t), kinds: []Kind{Diameter},
			want: []string{"M12", "⌀20 [0.787]", "⌀28 [1.102]", "⌀20 [0.787]", "⌀14 [0.551]"}},
		{name: "inches first", request: samples(t)[2], kinds: []Kind{Radius}, want: []string{"4× R0.315 [8]"}},
		{name: "a rod needs its length alone", request: rod(t), kinds: []Kind{Linear, Diameter, Radius, Callout}, want: []string{"300 [11.811]"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			if got := dimensionTexts(draw(t, test.request), test.kinds...); !slices.Equal(got, test.want) {
				t.Errorf("got  %q\nwant %q", got, test.want)
			}
		})
	}
}

// TestRoundPartsAreMeasuredFromTheirAxis: a rim is no place to measure from.
func TestRoundPartsAreMeasuredFromTheirAxis(t *testing.T) {
	s := build(t, solid.Shape{Base: solid.Group{{Along: solid.AxisZ, Shape: solid.Lathed{{D: 40, L: 28}}}}, Holes: []solid.Hole{
		{Name: "bore", At: []solid.Vec2{{X: 20, Y: 20}}, D: 12},
		{Name: "pins", At: []solid.Vec2{{X: 7, Y: 20}, {X: 33, Y: 20}}, Pattern: true, D: 5, Depth: 16}}})
	r := draw(t, titled("hub", "Hub", s, Free))
	if got, want := dimensionTexts(r, Linear), []string{"28 [1.102]", "13 [0.512]", "13 [0.512]"}; !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
	for _, o := range Audit(r.Facts, r.Ties, r.Dimensions) {
		t.Error(o)
	}
	for _, f := range faultsOf(r) {
		t.Error(f)
	}
}

func TestHoleTable(t *testing.T) {
	r := draw(t, drilled(t))
	if got := dimensionTexts(r, Callout); len(got) > 0 {
		t.Errorf("callouts beside the table: %q", got)
	}
	texts := readSheet(r.Picture.Marks)
	for _, want := range []string{"A1", "A5", "B3", "C", "D", "Hole", "x mm", "y in", "slot 18×6.6 along x through", "slot 0.709×0.260", "M8 through"} {
		if !slices.ContainsFunc(texts, func(d drawnText) bool { return d.words == want }) {
			t.Errorf("the sheet lacks %q", want)
		}
	}
	// Each label stands in the table and beside its hole.
	count := 0
	for _, text := range texts {
		if text.words == "A1" {
			count++
		}
	}
	if count != 2 {
		t.Errorf("the label A1 stands %d times on the sheet, want 2", count)
	}
}

func TestViewsStandByProjection(t *testing.T) {
	for _, test := range []struct {
		name       string
		projection Projection
		above      bool // the top view stands above the front view
	}{
		{name: "third angle", projection: ThirdAngle, above: true},
		{name: "first angle", projection: FirstAngle, above: false},
	} {
		t.Run(test.name, func(t *testing.T) {
			request := bracket(t)
			request.Projection = test.projection
			request.Views = []ViewRequest{{Kind: "front"}, {Kind: "top"}}
			boxes := map[string]picture.Box{}
			for _, m := range draw(t, request).Picture.Marks {
				if g, ok := m.(picture.Group); ok && g.Class == "view" {
					boxes[g.ID] = picture.Bounds(g.Marks)
				}
			}
			front, top := boxes["view-front"], boxes["view-top"]
			if above := top.Max.Y < front.Min.Y; above != test.above {
				t.Errorf("top view at %v, front view at %v", top, front)
			}
			if off := top.Min.X - front.Min.X; off > 0.01 || off < -0.01 {
				t.Errorf("the views are out of line by %.3f mm", off)
			}
		})
	}
}

func TestAuthorsDimensionsComeFirst(t *testing.T) {
	request := headPlate(t)
	request.Dimensions = []DimensionRequest{
		{From: "rods.1", To: "rods.2", Along: "x", Tolerance: "± 0.05 mm"},
		{Diameter: "screw", Fit: "H8"},
	}
	r := draw(t, request)
	if got := r.Dimensions[0].Text; got != "180 ± 0.05 mm [7.087]" {
		t.Errorf("first dimension %q", got)
	}
	if got := dimensionTexts(r, Callout)[0]; got != "⌀22 H8 (+0.033/0) through" {
		t.Errorf("callout %q", got)
	}
	if slices.Contains(dimensionTexts(r, Linear), "220 [8.661]") {
		t.Error("the second rod hole is placed twice: from the first and from the edge")
	}
	if o := Audit(r.Facts, r.Ties, r.Dimensions); len(o) > 0 {
		t.Errorf("audit: %v", o)
	}
}

func TestOnlyGivenDimensionsAreAudited(t *testing.T) {
	request := headPlate(t)
	request.OnlyGiven = true
	request.Dimensions = []DimensionRequest{
		{From: "left", To: "right"}, {From: "left", To: "screw", Along: "x"}, {From: "screw", To: "right", Along: "x"},
		{Diameter: "rods"}, {Diameter: "rods"},
	}
	r := draw(t, request)
	var missing, doubled []string
	for _, o := range Audit(r.Facts, r.Ties, r.Dimensions) {
		if o.Doubled {
			doubled = append(doubled, o.String())
		} else {
			missing = append(missing, o.Axis+" "+o.Feature)
		}
	}
	for _, want := range []string{"x posts.1", "x rods.1", "y back", "y screw", " screw", " posts.1", " R8"} {
		if !slices.Contains(missing, want) {
			t.Errorf("audit misses that %q is open; found %q", want, missing)
		}
	}
	if len(doubled) != 3 { // left-screw-right closes a ring with left-right; both rods' size
		t.Errorf("doubled: %q", doubled)
	}
}

func TestFaultsOfTheRequest(t *testing.T) {
	for _, test := range []struct {
		name string
		edit func(*Request)
		item string
		says string
	}{
		{name: "unknown sheet", edit: func(r *Request) { r.Sheet = "A9" }, item: "sheet", says: "A9"},
		{name: "scale outside the series", edit: func(r *Request) { r.Scale = "1:3" }, item: "scale", says: "1:3"},
		{name: "unknown view", edit: func(r *Request) { r.Views = []ViewRequest{{Kind: "inside"}} }, item: "views", says: "inside"},
		{name: "view twice", edit: func(r *Request) { r.Views = []ViewRequest{{Kind: "top"}, {Kind: "top"}} }, item: "views", says: "twice"},
		{name: "detail of nothing", edit: func(r *Request) { r.Views = []ViewRequest{{Kind: "top"}, {Kind: "detail", Around: "nose"}} }, item: "views", says: "nose"},
		{name: "section of nothing", edit: func(r *Request) { r.Views = []ViewRequest{{Kind: "top"}, {Kind: "section", Through: []string{"nose"}}} }, item: "views", says: "nose"},
		{name: "unknown feature", edit: func(r *Request) { r.Dimensions = []DimensionRequest{{From: "left", To: "nose", Along: "x"}} }, item: "dimensions", says: "nose"},
		{name: "unknown axis", edit: func(r *Request) { r.Dimensions = []DimensionRequest{{From: "left", To: "screw", Along: "w"}} }, item: "dimensions", says: `"w"`},
		{name: "no way between", edit: func(r *Request) { r.Dimensions = []DimensionRequest{{From: "rods.1", To: "rods.2", Along: "y"}} }, item: "dimensions", says: "along y"},
		{name: "axis left open", edit: func(r *Request) { r.Dimensions = []DimensionRequest{{From: "posts.1", To: "posts.4"}} }, item: "dimensions", says: "more than one axis"},
		{name: "nothing named", edit: func(r *Request) { r.Dimensions = []DimensionRequest{{}} }, item: "dimensions", says: "nothing"},
		{name: "diameter of nothing round", edit: func(r *Request) { r.Dimensions = []DimensionRequest{{Diameter: "left"}} }, item: "dimensions", says: "left"},
		{name: "too large a scale", edit: func(r *Request) { r.Sheet, r.Scale = "A4", "5:1" }, item: "sheet", says: "does not fit"},
	} {
		t.Run(test.name, func(t *testing.T) {
			request := headPlate(t)
			test.edit(&request)
			r := draw(t, request)
			if len(r.Faults) != 1 {
				t.Fatalf("faults %v", r.Faults)
			}
			if f := r.Faults[0]; f.Item != test.item || !strings.Contains(f.Message, test.says) || f.Remedy == "" {
				t.Errorf("fault %+v", f)
			}
		})
	}
}

func TestNotesWrapUnderTheirNumber(t *testing.T) {
	got := wrap("1  Turn the shoulder square to the journal; the thrust collar sits on it.", 45, 2.5)
	if len(got) < 2 {
		t.Fatalf("not wrapped: %q", got)
	}
	for i, line := range got {
		if indented := strings.HasPrefix(line, noteIndent); indented != (i > 0) {
			t.Errorf("line %d: %q", i, line)
		}
		if picture.TextWidth(line, 2.5, picture.Sans) > 45 {
			t.Errorf("line %d is too long: %q", i, line)
		}
	}
}

func TestTurnedPartsLieAsInTheLathe(t *testing.T) {
	s := build(t, solid.Shape{Base: solid.Group{{Along: solid.AxisZ, Shape: solid.Lathed{{D: 30, L: 12}, {D: 18, L: 10}}}}})
	r := draw(t, titled("collar", "Collar", s, Free))
	for _, m := range r.Picture.Marks {
		if g, ok := m.(picture.Group); ok && g.ID == "view-front" {
			if box := picture.Bounds(g.Marks); box.Height() < box.Width() {
				t.Errorf("the axis of 22 mm stands upright: %v", box)
			}
			return
		}
	}
	t.Error("no front view")
}

// TestManyHolesStayBounded draws a sieve: sizes are given, places are left to the
// data.
func TestManyHolesStayBounded(t *testing.T) {
	s := build(t, solid.Shape{Base: solid.Sheet{Outline: solid.RectangleOutline(220, 220), Thickness: 3}, Holes: []solid.Hole{
		{Name: "mesh", At: solid.Grid(solid.Vec2{X: 10, Y: 10}, solid.Vec2{X: 10, Y: 10}, [2]int{21, 21}), Pattern: true, D: 5}}})
	r := draw(t, titled("sieve", "Sieve", s, Plate))
	if got := dimensionTexts(r, Callout); !slices.Equal(got, []string{"441× ⌀5 through"}) {
		t.Errorf("callouts %q", got)
	}
	for _, f := range append(faultsOf(r), faultMessages(r)...) {
		t.Error(f)
	}
}

func faultMessages(r *Result) (list []string) {
	for _, f := range r.Faults {
		list = append(list, f.Message)
	}
	return list
}

func TestNoSolid(t *testing.T) {
	if _, err := Draw(Request{Name: "x"}); !errors.Is(err, ErrNoSolid) {
		t.Errorf("error %v", err)
	}
	if _, err := Thumbnail("x", "x", nil); !errors.Is(err, ErrNoSolid) {
		t.Errorf("error %v", err)
	}
}

func TestSameRequestSameBytes(t *testing.T) {
	for _, request := range []Request{drilled(t), shaft(t)} {
		first, err := picture.SVG(draw(t, request).Picture)
		if err != nil {
			t.Fatal(err)
		}
		for range 3 {
			again, _ := picture.SVG(draw(t, request).Picture)
			if string(again) != string(first) {
				t.Fatalf("%s: other bytes", request.Name)
			}
		}
	}
}
