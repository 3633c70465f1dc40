package dxf

import (
	"bytes"
	"cmp"
	"maps"
	"math"
	"strings"
	"testing"

	"plansheaf/publish/picture"
)

// sample holds one of everything, on paper of 200 by 100 mm.
func sample() *picture.Picture {
	p := &picture.Picture{Name: "sample", Title: "Sample", Width: 200, Height: 100}
	line := func(t picture.LineType, y float64) picture.Path {
		return picture.Path{Line: t, Curves: picture.Polyline(picture.Point{X: 10, Y: y}, picture.Point{X: 60, Y: y})}
	}
	for i, l := range lineLayers {
		p.Add(line(l.line, 5+float64(i)*4))
	}
	p.Add(
		picture.Path{Line: picture.Visible, Curves: picture.Circle(picture.Point{X: 100, Y: 30}, 12)},
		// A quarter, clockwise on the paper from the right: to the bottom.
		picture.Path{Line: picture.Hidden, Curves: []picture.Curve{picture.Arc{Centre: picture.Point{X: 100, Y: 30}, RX: 8, RY: 8, Sweep: math.Pi / 2}}},
		picture.Path{Line: picture.Thin, Curves: []picture.Curve{
			picture.Arc{Centre: picture.Point{X: 150, Y: 30}, RX: 20, RY: 10, Tilt: 0.3, Start: 0.2, Sweep: 2},
			picture.Arc{Centre: picture.Point{X: 150, Y: 30}, RX: 5, RY: 10, Tilt: 0.3, Start: 1, Sweep: -4},
			picture.Arc{Centre: picture.Point{X: 150, Y: 30}, RX: 6, Tilt: math.Pi / 2, Sweep: 2 * math.Pi},
		}},
		picture.Path{Line: picture.Break, Curves: []picture.Curve{
			picture.Bezier{A: picture.Point{X: 10, Y: 80}, C1: picture.Point{X: 20, Y: 70}, C2: picture.Point{X: 30, Y: 90}, B: picture.Point{X: 40, Y: 80}},
			picture.Bezier{A: picture.Point{X: 40, Y: 80}, C1: picture.Point{X: 50, Y: 70}, C2: picture.Point{X: 60, Y: 90}, B: picture.Point{X: 70, Y: 80}},
		}},
		picture.Path{Fill: picture.Ink, Curves: picture.Polygon(picture.Point{X: 80, Y: 80}, picture.Point{X: 83, Y: 79}, picture.Point{X: 83, Y: 81})},
		picture.Path{Fill: picture.Accent, Curves: append(picture.RoundRectangle(picture.Point{X: 90, Y: 70}, 20, 20, 3), picture.Circle(picture.Point{X: 100, Y: 80}, 4)...)},
		picture.Path{Fill: picture.Shade1, Curves: []picture.Curve{picture.Arc{Centre: picture.Point{X: 130, Y: 80}, RX: 8, RY: 4, Sweep: 2 * math.Pi}}},
		picture.Path{Fill: picture.Paper, Curves: picture.Rectangle(picture.Point{X: 150, Y: 70}, 5, 5)},
		picture.Group{Shift: picture.Point{X: 100}, Marks: []picture.Mark{
			picture.Text{At: picture.Point{X: 50, Y: 90}, Words: "turned", Height: 3.5, Anchor: picture.Middle, Rise: picture.MidCapital, Turn: math.Pi / 2},
		}},
	)
	return p
}

func TestPictureIsReadAsDrawn(t *testing.T) {
	data, err := Picture(sample())
	if err != nil {
		t.Fatal(err)
	}
	r := readOne(t, data)
	want := map[string]int{"CIRCLE visible": 1, "ARC hidden": 1, "ELLIPSE dimension": 2, "LWPOLYLINE dimension": 1,
		"SPLINE break": 1, "SOLID fill": 1, "HATCH fill": 2, "TEXT text": 1}
	for _, l := range lineLayers {
		want["LINE "+l.layer]++
	}
	if got := r.kinds(); !maps.Equal(got, want) {
		t.Errorf("holds %v, want %v", got, want)
	}
	// Widths of line group 0.5 (ISO 128-2): wide 0.5, narrow 0.25, hair half of
	// that, which the format has as 0.13, frame 0.7.
	for name, want := range map[string][2]any{
		"visible": {"Continuous", 50.0}, "hidden": {"dashed", 25.0}, "centre": {"chain", 25.0}, "neighbour": {"double-chain", 25.0},
		"dimension": {"Continuous", 25.0}, "hatching": {"Continuous", 25.0}, "frame": {"Continuous", 70.0}, "fine": {"Continuous", 13.0},
	} {
		if r.Layers[name] != want {
			t.Errorf("layer %s is %v, want %v", name, r.Layers[name], want)
		}
	}
	if math.Abs(r.Low[0]-10) > 1e-9 || math.Abs(r.High[1]-95) > 1e-9 {
		t.Errorf("extents %v to %v", r.Low, r.High)
	}
}

// The reader works out points on curves by itself; the picture says where they are
// on the paper.
func TestCurvesStandWhereTheyWereDrawn(t *testing.T) {
	curves := sample().Marks
	data, err := Picture(sample())
	if err != nil {
		t.Fatal(err)
	}
	on := func(c picture.Curve, q picture.Point) bool {
		a, isArc := c.(picture.Arc)
		best := math.Inf(1)
		for i := range 20001 {
			k := float64(i) / 20000
			if isArc {
				best = min(best, a.At(a.Start+a.Sweep*k).Distance(q))
			} else {
				best = min(best, at(c, k).Distance(q))
			}
		}
		return best < 3e-3 // a step along the longest of these curves
	}
	drawn := map[string][]picture.Curve{}
	for _, m := range curves {
		if p, ok := m.(picture.Path); ok && p.Line != picture.NoLine {
			drawn[layerOf(p.Line)] = append(drawn[layerOf(p.Line)], p.Curves...)
		}
	}
	seen := map[string]int{}
	for _, e := range readOne(t, data).Entities {
		switch e.Kind {
		case "ARC":
			e.Points = e.Points[1:]
		case "ELLIPSE":
			e.Points = e.Points[1:]
		case "SPLINE", "LINE", "LWPOLYLINE":
		default:
			continue
		}
		seen[e.Kind]++
		for _, p := range e.Points {
			q := picture.Point{X: p[0], Y: 100 - p[1]}
			found := false
			for _, c := range drawn[e.Layer] {
				found = found || on(c, q)
			}
			if !found {
				t.Errorf("%s on %s goes through %v on the paper, where nothing is drawn", e.Kind, e.Layer, q)
			}
		}
		if e.Kind == "SPLINE" && e.Control != 7 {
			t.Errorf("two Béziers have %d control points as one spline, want 7", e.Control)
		}
	}
	if seen["ELLIPSE"] != 2 || seen["ARC"] != 1 || seen["SPLINE"] != 1 {
		t.Errorf("looked at %v", seen)
	}
}

func TestWordsAreReadAsWritten(t *testing.T) {
	cases := []struct{ name, words, want string }{
		{"plain", "Head plate", "Head plate"},
		{"trade signs", "4× ⌀5.5 ±0.1 45°", "4× Ø5.5 ±0.1 45°"}, // the reader's sign for %%c
		{"scripts", "Größe Ωμέγα Пресс", "Größe Ωμέγα Пресс"},
		{"per cent", "100 %, 5% ±1 %", "100 %, 5% ±1 %"},
		{"rune by number", `\U+2300 \P C:\x`, `\U+2300 \P C:\x`},
		{"caret", "2^3 ^J ^ 4", "2^3 ^J ^ 4"},
		{"line ends", "one\n  0\nEOF", "one   0 EOF"},
	}
	p := &picture.Picture{Name: "words", Width: 100, Height: 100}
	for i, c := range cases {
		p.Add(picture.Text{At: picture.Point{X: 5, Y: 5 + 10*float64(i)}, Words: c.words, Height: 2.5})
	}
	data, err := Picture(p)
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range data {
		if b > '~' {
			t.Fatalf("byte %#x is no ASCII", b)
		}
	}
	read := readOne(t, data).Entities
	if len(read) != len(cases) {
		t.Fatalf("%d texts, want %d", len(read), len(cases))
	}
	for i, c := range cases {
		if read[i].Words != c.want {
			t.Errorf("%s: %q is read as %q, want %q", c.name, c.words, read[i].Words, c.want)
		}
	}
}

// The reader above knows no code for a per cent sign, so what the format documents
// for text (%%c diameter, %%d degree, %%p plus-minus, %%% per cent) is checked here.
func TestCodesOfTheFormatAreSpelledOut(t *testing.T) {
	cases := []struct{ words, want string }{
		{"⌀5 ±0.1 30°", "%%c5 %%p0.1 30%%d"},
		{"%%c", "%%%%%%c"},
		{"100%", "100%"},
		{"5%°", "5%%%%%d"},
		{"°%", "%%d%%%"},
		{`\U+0041`, `\U+005CU+0041`},
		{"Ω", `\U+03A9`},
		{"a\nb", "a b"},
		{"^", "^ "},
	}
	for _, c := range cases {
		if got := spelled(c.words); got != c.want {
			t.Errorf("%q is spelled %q, want %q", c.words, got, c.want)
		}
	}
}

func TestTextIsHeldWhereItStands(t *testing.T) {
	at := picture.Point{X: 50, Y: 40}
	cases := []struct {
		name   string
		text   picture.Text
		held   string
		turn   float64
		pieces int
	}{
		{name: "left", text: picture.Text{}, held: "LEFT", pieces: 1},
		{name: "middle", text: picture.Text{Anchor: picture.Middle}, held: "CENTER", pieces: 1},
		{name: "right, top", text: picture.Text{Anchor: picture.End, Rise: picture.TopCapital}, held: "TOP_RIGHT", pieces: 1},
		{name: "turned", text: picture.Text{Anchor: picture.Middle, Rise: picture.MidCapital, Turn: -math.Pi / 2}, held: "MIDDLE_CENTER", turn: 270, pieces: 1},
		{name: "symbol", text: picture.Text{Words: "⌀6.6 ⌴ ⌀11", Anchor: picture.End}, held: "LEFT", pieces: 2},
	}
	files := map[string][]byte{}
	for i := range cases {
		text := &cases[i].text
		text.At, text.Height, text.Words = at, 3.5, cmp.Or(text.Words, "Words")
		data, err := Picture(&picture.Picture{Name: "held", Width: 100, Height: 100, Marks: []picture.Mark{*text}})
		if err != nil {
			t.Fatal(err)
		}
		files[cases[i].name] = data
	}
	readings := read(t, files)
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var texts []item
			for _, e := range readings[c.name].Entities {
				if e.Kind == "TEXT" {
					texts = append(texts, e)
				}
			}
			if len(texts) != c.pieces {
				t.Fatalf("%d texts, want %d", len(texts), c.pieces)
			}
			e := texts[0]
			if e.Held != c.held || e.Height != 3.5 || math.Abs(e.Turn-c.turn) > 1e-9 || e.Style != "sans" {
				t.Errorf("held %s, %v mm high, turned %v, style %s", e.Held, e.Height, e.Turn, e.Style)
			}
			where := e.Points[len(e.Points)-1]
			want := [2]float64{50, 60}
			if c.pieces > 1 {
				want[0] -= c.text.Width()
			}
			if math.Hypot(where[0]-want[0], where[1]-want[1]) > 1e-9 {
				t.Errorf("stands at %v, want %v", where, want)
			}
		})
	}
}

func TestClipCutsOffWhatLiesOutside(t *testing.T) {
	across := picture.Path{Line: picture.Visible, Curves: picture.Polyline(picture.Point{X: 0, Y: 50}, picture.Point{X: 100, Y: 50})}
	corner := picture.Path{Line: picture.Hidden, Curves: []picture.Curve{picture.Line{A: picture.Point{X: 30, Y: 39.9}, B: picture.Point{X: 39.9, Y: 30}}}}
	round := picture.Path{Line: picture.Thin, Curves: picture.Circle(picture.Point{X: 70, Y: 50}, 10)}
	bend := picture.Path{Line: picture.Break, Curves: []picture.Curve{picture.Bezier{A: picture.Point{X: 50, Y: 0}, C1: picture.Point{X: 52, Y: 30}, C2: picture.Point{X: 48, Y: 70}, B: picture.Point{X: 50, Y: 100}}}}
	far := picture.Path{Line: picture.Centre, Curves: picture.Circle(picture.Point{X: 10, Y: 10}, 5)}
	words := picture.Text{At: picture.Point{X: 95, Y: 95}, Words: "outside", Height: 2.5}
	in := picture.Text{At: picture.Point{X: 45, Y: 50}, Words: "inside", Height: 2.5}
	cases := []struct {
		name    string
		outline []picture.Curve
		lows    map[string]float64 // by layer: the least x on the paper
		highs   map[string]float64
	}{
		{name: "circle", outline: picture.Circle(picture.Point{X: 50, Y: 50}, 20),
			// 17.5 from the middle, two circles of radii 20 and 10 whose middles
			// lie 20 apart meet: (20² + 20² - 10²) / (2 · 20).
			lows: map[string]float64{"visible": 30, "dimension": 60}, highs: map[string]float64{"visible": 70, "dimension": 67.5}},
		{name: "rectangle", outline: picture.Rectangle(picture.Point{X: 34, Y: 34}, 32, 32),
			lows: map[string]float64{"visible": 34, "hidden": 34, "dimension": 60}, highs: map[string]float64{"visible": 66, "hidden": 35.9, "dimension": 66}},
	}
	files := map[string][]byte{}
	for _, c := range cases {
		data, err := Picture(&picture.Picture{Name: "clip", Width: 100, Height: 100, Marks: []picture.Mark{
			picture.Clip{Outline: c.outline, Marks: []picture.Mark{across, corner, round, bend, far, words, in}}}})
		if err != nil {
			t.Fatal(err)
		}
		files[c.name] = data
	}
	readings := read(t, files)
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			lows, highs := map[string]float64{}, map[string]float64{}
			for _, e := range readings[c.name].Entities {
				if e.Kind == "TEXT" {
					if e.Words != "inside" {
						t.Errorf("%q is not cut off", e.Words)
					}
					continue
				}
				if e.Kind == "ARC" {
					e.Points = e.Points[1:]
				}
				if e.Kind == "SPLINE" {
					continue
				}
				for _, q := range e.Points {
					if _, known := lows[e.Layer]; !known {
						lows[e.Layer], highs[e.Layer] = q[0], q[0]
					}
					lows[e.Layer], highs[e.Layer] = min(lows[e.Layer], q[0]), max(highs[e.Layer], q[0])
				}
			}
			for layer, want := range c.highs {
				if math.Abs(highs[layer]-want) > 1e-6 {
					t.Errorf("%s reaches to %v, want %v", layer, highs[layer], want)
				}
			}
			if math.Abs(lows["visible"]-c.lows["visible"]) > 1e-6 || math.Abs(lows["hidden"]-c.lows["hidden"]) > 1e-6 {
				t.Errorf("begin at %v, want %v", lows, c.lows)
			}
			if _, there := lows["centre"]; there {
				t.Error("a circle outside is not cut off")
			}
		})
	}
}

func TestSamePictureSameBytes(t *testing.T) {
	first, err := Picture(sample())
	if err != nil {
		t.Fatal(err)
	}
	for range 3 {
		if again, _ := Picture(sample()); !bytes.Equal(first, again) {
			t.Fatal("two runs differ")
		}
	}
}

func TestPictureRefusesWhatNoFileCanHold(t *testing.T) {
	for name, p := range map[string]*picture.Picture{
		"no paper": {Name: "a"},
		"not a number": {Name: "b", Width: 10, Height: 10, Marks: []picture.Mark{
			picture.Path{Line: picture.Visible, Curves: picture.Circle(picture.Point{X: math.NaN()}, 3)}}},
	} {
		if data, err := Picture(p); err == nil || data != nil || !strings.Contains(err.Error(), "DXF") {
			t.Errorf("%s: %d bytes, error %v", name, len(data), err)
		}
	}
}

func TestEmptyPictureIsAFile(t *testing.T) {
	data, err := Picture(&picture.Picture{Name: "empty", Width: 10, Height: 20})
	if err != nil {
		t.Fatal(err)
	}
	if r := readOne(t, data); len(r.Entities) != 0 || r.High != [2]float64{10, 20} {
		t.Errorf("%d entities, up to %v", len(r.Entities), r.High)
	}
}
