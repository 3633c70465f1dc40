package sign

import (
	"fmt"
	"io/fs"
	"math"
	"strings"
	"testing"

	"plansheaf/publish/picture"
	"plansheaf/themes"
)

func TestEverySignIsDrawnInsideItsSquare(t *testing.T) {
	for _, code := range Codes() {
		const size = 20.0
		p, ok := Picture(code, size)
		if !ok {
			t.Errorf("%s: not drawn", code)
			continue
		}
		if p.Name != "signs/"+code || p.Title == "" || p.Description == "" {
			t.Errorf("%s: named %q, %q, %q", code, p.Name, p.Title, p.Description)
		}
		square := picture.Box{Max: picture.Point{X: size, Y: size}}
		if box := picture.Bounds(p.Marks); !square.Contains(box) {
			t.Errorf("%s: covers %v, outside %v", code, box, square)
		}
	}
}

func TestEverySymbolFileHasItsMeaning(t *testing.T) {
	files, err := fs.Glob(themes.Signs, "signs/*.svg")
	if err != nil {
		t.Fatal(err)
	}
	if len(files) != len(Codes()) {
		t.Errorf("%d symbol files, %d meanings", len(files), len(Codes()))
	}
	for _, file := range files {
		code := strings.TrimSuffix(strings.TrimPrefix(file, "signs/"), ".svg")
		if Meaning(code) == "" {
			t.Errorf("%s: no meaning for %s", file, code)
		}
	}
}

func TestSizeScalesLinesToo(t *testing.T) {
	small, _ := Picture("W024", 10)
	large, _ := Picture("W024", 40)
	if got, want := large.LineGroup()/small.LineGroup(), 4.0; got != want {
		t.Errorf("line group grows by %v, want %v", got, want)
	}
	if got, want := picture.Bounds(large.Marks).Width(), 4*picture.Bounds(small.Marks).Width(); !near(got, want) {
		t.Errorf("width %v, want %v", got, want)
	}
}

func TestNearest(t *testing.T) {
	for _, row := range []struct{ name, code, want string }{
		{name: "drawn", code: "W024", want: "W024"},
		{name: "warning without symbol", code: "W089", want: "W001"},
		{name: "mandatory without symbol", code: "M031", want: "M001"},
		{name: "prohibition without symbol", code: "P031", want: "P001"},
		{name: "none given", code: "", want: "W001"},
		{name: "nonsense", code: "<script>", want: "W001"},
	} {
		if got := Nearest(row.code); got != row.want {
			t.Errorf("%s: Nearest(%q) = %q, want %q", row.name, row.code, got, row.want)
		}
	}
}

func TestUnknownSignIsNotDrawn(t *testing.T) {
	if _, ok := Picture("W999", 10); ok {
		t.Error("W999 was drawn")
	}
	if _, ok := Picture("W001", 0); ok {
		t.Error("a sign of no size was drawn")
	}
}

func TestReadPath(t *testing.T) {
	for _, row := range []struct {
		name, d string
		box     picture.Box
		curves  int
	}{
		{name: "lines, closed", d: "M10 10 H30 V40 Z", curves: 3,
			box: picture.Box{Min: picture.Point{X: 10, Y: 10}, Max: picture.Point{X: 30, Y: 40}}},
		{name: "repeated command", d: "M0 0 L10 0 10 10", curves: 2,
			box: picture.Box{Max: picture.Point{X: 10, Y: 10}}},
		// SVG 2, 9.3.8: with sweep-flag 1 the arc runs in the direction of
		// growing angle, clockwise on the screen: over the top from left to right.
		{name: "half circle, clockwise", d: "M0 0 A10 10 0 0 1 20 0", curves: 1,
			box: picture.Box{Min: picture.Point{Y: -10}, Max: picture.Point{X: 20}}},
		{name: "half circle, anticlockwise", d: "M0 0 A10 10 0 0 0 20 0", curves: 1,
			box: picture.Box{Max: picture.Point{X: 20, Y: 10}}},
		{name: "large arc", d: "M10 0 A10 10 0 1 1 0 -10", curves: 1,
			box: picture.Box{Min: picture.Point{X: -10, Y: -10}, Max: picture.Point{X: 10, Y: 10}}},
	} {
		curves, err := readPath(row.d)
		if err != nil {
			t.Errorf("%s: %v", row.name, err)
			continue
		}
		box := picture.CurveBounds(curves)
		if len(curves) != row.curves || !near(box.Min.X, row.box.Min.X) || !near(box.Min.Y, row.box.Min.Y) ||
			!near(box.Max.X, row.box.Max.X) || !near(box.Max.Y, row.box.Max.Y) {
			t.Errorf("%s: %d curves in %v, want %d in %v", row.name, len(curves), box, row.curves, row.box)
		}
	}
}

func TestReadSymbolRefusesWhatItCannotDraw(t *testing.T) {
	for _, row := range []struct{ name, svg string }{
		{name: "text", svg: `<svg><text>hot</text></svg>`},
		{name: "odd stroke width", svg: `<svg><circle r="3" stroke-width="4"/></svg>`},
		{name: "relative command", svg: `<svg><path d="m1 1"/></svg>`},
		{name: "missing number", svg: `<svg><path d="M1"/></svg>`},
		{name: "not XML", svg: `<svg><path`},
	} {
		if _, err := readSymbol([]byte(row.svg)); err == nil {
			t.Errorf("%s: read without an error", row.name)
		}
	}
}

func near(a, b float64) bool { return a-b < 1e-9 && b-a < 1e-9 }

// A symbol that runs into the black edge of its triangle cannot be read.
func TestWarningSymbolsKeepClearOfTheEdge(t *testing.T) {
	read, err := symbols()
	if err != nil {
		t.Fatal(err)
	}
	const inradius, clear = 31.25 - edge, 0.5
	for code, strokes := range read {
		if code[0] != 'W' {
			continue
		}
		for _, s := range strokes {
			half := s.line.Width(wide) / 2
			for _, c := range s.curves {
				from, to := c.Ends()
				for _, p := range []picture.Point{from, to} {
					for _, out := range []float64{math.Pi / 2, -math.Pi / 6, 7 * math.Pi / 6} {
						reach := (p.X-50)*math.Cos(out) + (p.Y-62)*math.Sin(out)
						if gap := inradius - reach - half; gap < clear {
							t.Errorf("%s: %.1f, %.1f comes within %.1f of the edge", code, p.X, p.Y, gap)
						}
					}
				}
			}
		}
	}
}

func ExamplePicture() {
	p, ok := Picture(Nearest("W024"), 20)
	fmt.Println(ok, p.Name, p.Width, Alt("W024"))
	// Output: true signs/W024 20 Warning sign: crushing of hands
}
