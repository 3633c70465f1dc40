package picture

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"plansheaf/design/golden"
	"plansheaf/publish/inspect"
)

// sampler holds every mark, line type and symbol.
func sampler() *Picture {
	p := &Picture{Name: "testing/sampler", Title: "Sampler", Description: "Every line type and symbol", Width: 150, Height: 100}
	y := 8.0
	for t := Visible; t <= Hair; t++ {
		p.Add(Path{Curves: []Curve{Line{Point{8, y}, Point{48, y}}}, Line: t},
			Text{At: Point{52, y}, Words: lineStyles[t].class, Height: 1.8, Rise: MidCapital})
		y += 5
	}
	p.Add(
		Path{Curves: RoundRectangle(Point{80, 6}, 60, 34, 5), Line: Visible, Fill: Shade1},
		Path{Curves: append(Circle(Point{95, 23}, 9), Circle(Point{95, 23}, 4)...), Line: Visible, Fill: Tint},
		Path{Curves: []Curve{Line{Point{83, 23}, Point{107, 23}}, Line{Point{95, 11}, Point{95, 35}}}, Line: Centre},
		Path{Curves: Circle(Point{122, 23}, 10), Line: Hidden},
		Path{Curves: []Curve{Arc{Centre: Point{122, 23}, RX: 14, RY: 6, Tilt: 0.5, Start: 1, Sweep: -4}}, Line: Accented},
		Path{Curves: []Curve{Bezier{Point{84, 38}, Point{100, 30}, Point{110, 46}, Point{136, 36}}}, Line: Phantom},
		Text{At: Point{8, 70}, Words: "4× ⌀5.5 ⌴⌀9 ↧5 ⌵⌀11×90° ⌖⟂⏥∥⌓", Height: 3.5},
		Text{At: Point{8, 80}, Words: "M8 ⌴ bold", Height: 5, Face: SansBold, Ink: Accent},
		Text{At: Point{60, 80}, Words: "mono ⌴ 12.50", Height: 2.5, Face: Mono},
		Text{At: Point{120, 82}, Words: "turned ⌴ 30°", Height: 2.5, Turn: math.Pi / 6, Anchor: Middle, Rise: MidCapital, Halo: true},
		Clip{Outline: Circle(Point{20, 92}, 6), Marks: []Mark{Path{Curves: Rectangle(Point{18, 80}, 20, 20), Fill: Shade3, Line: Thin}}},
		Group{ID: "shifted", Class: "piece", Title: `A "shifted" <group>`, Shift: Point{40, 86}, Marks: []Mark{
			Path{Curves: Rectangle(Point{}, 12, 10), Line: Thin, Fill: Caution}}},
	)
	return p
}

func TestSVGGolden(t *testing.T) {
	for _, test := range []struct {
		name  string
		write func(*Picture) ([]byte, error)
	}{
		{name: "sampler.svg", write: SVG},
		{name: "sampler-inline.svg", write: InlineSVG},
	} {
		t.Run(test.name, func(t *testing.T) {
			got, err := test.write(sampler())
			if err != nil {
				t.Fatal(err)
			}
			golden.Compare(t, filepath.Join("testdata", test.name), got)
			lint(t, got)
		})
	}
}

// lint runs xmllint, which sees duplicate attributes that encoding/xml lets by.
func lint(t *testing.T, svg []byte) {
	t.Helper()
	inspect.RunOn(t, svg, "xmllint", "--noout", "-")
}

func TestInlineLeavesStyleToThePage(t *testing.T) {
	svg, err := InlineSVG(sampler())
	if err != nil {
		t.Fatal(err)
	}
	for _, banned := range []string{`<\?xml`, `<style`, `style=`, `#[0-9a-f]{6}`, `xlink`} {
		if found := regexp.MustCompile(banned).Find(svg); found != nil {
			t.Errorf("inline SVG holds %q", found)
		}
	}
	for _, c := range colours {
		if !strings.Contains(StyleSheet(), "--pic-"+string(c)) {
			t.Errorf("style sheet lacks %s", c)
		}
	}
}

func TestHostileWordsStayWords(t *testing.T) {
	words := `</text><script>alert("1")</script> & ' ]]> ` + "\x00\x1b\xff"
	p := &Picture{Name: `x" onload="1`, Title: words, Description: words, Width: 10, Height: 10}
	p.Add(Text{At: Point{1, 5}, Words: words, Height: 2.5}, Group{Title: words, Marks: []Mark{Text{Words: words, Height: 1, Halo: true}}})
	svg, err := SVG(p)
	if err != nil {
		t.Fatal(err)
	}
	lint(t, svg)
	d := xml.NewDecoder(bytes.NewReader(svg))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		if e, ok := token.(xml.StartElement); ok {
			if e.Name.Local == "script" {
				t.Error("words became an element")
			}
			for _, a := range e.Attr {
				if strings.HasPrefix(a.Name.Local, "on") {
					t.Errorf("words became the attribute %s", a.Name.Local)
				}
			}
		}
	}
}

func TestCheckRefusesWhatWouldBreakAFile(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	nested := Mark(Text{Words: "deep", Height: 1})
	for range deepest + 2 {
		nested = Group{Marks: []Mark{nested}}
	}
	for _, test := range []struct {
		name string
		mark Mark
	}{
		{name: "line to nowhere", mark: Path{Curves: []Curve{Line{Point{nan, 0}, Point{}}}, Line: Visible}},
		{name: "line without end", mark: Path{Curves: []Curve{Line{Point{inf, 0}, Point{}}}, Line: Visible}},
		{name: "arc of negative radius", mark: Path{Curves: []Curve{Arc{RX: -1, RY: 1, Sweep: 1}}, Line: Visible}},
		{name: "arc swept more than once", mark: Path{Curves: []Curve{Arc{RX: 1, RY: 1, Sweep: 7}}, Line: Visible}},
		{name: "unknown line type", mark: Path{Curves: Circle(Point{}, 1), Line: 99}},
		{name: "unknown colour", mark: Path{Curves: Circle(Point{}, 1), Fill: `red" onclick="x`}},
		{name: "class with a quote", mark: Path{Curves: Circle(Point{}, 1), Line: Thin, Class: `a"b`}},
		{name: "id with a blank", mark: Group{ID: "a b"}},
		{name: "text of no height", mark: Text{Words: "a"}},
		{name: "text of unknown face", mark: Text{Words: "a", Height: 1, Face: 17}},
		{name: "empty clip", mark: Clip{}},
		{name: "no mark", mark: nil},
		{name: "no curve", mark: Path{Curves: []Curve{nil}, Line: Thin}},
		{name: "nested too deep", mark: nested},
	} {
		t.Run(test.name, func(t *testing.T) {
			p := &Picture{Name: "x", Width: 10, Height: 10, Marks: []Mark{test.mark}}
			if _, err := SVG(p); err == nil {
				t.Error("written without complaint")
			}
		})
	}
	if _, err := SVG(&Picture{Name: "x", Width: 0, Height: 10}); err == nil {
		t.Error("a picture without paper was written")
	}
	twice := &Picture{Name: "x", Width: 9, Height: 9, Marks: []Mark{Group{ID: "a"}, Group{ID: "a"}}}
	if _, err := SVG(twice); err == nil {
		t.Error("an id was used twice")
	}
}

func TestFitDashes(t *testing.T) {
	for _, line := range []LineType{Hidden, Centre, Phantom} {
		pattern := lineStyles[line].dashes
		for _, closed := range []bool{false, true} {
			for length := 1.0; length < 300; length *= 1.07 {
				dashes, phase := fitDashes(pattern, 0.25, length, closed)
				if dashes == nil {
					if length > 12 {
						t.Errorf("%s of %.1f mm is not dashed", lineStyles[line].class, length)
					}
					continue
				}
				period := 0.0
				for _, d := range dashes {
					period += d
				}
				rest := math.Mod(length-dashes[0]+period*1e-9, period)
				if closed {
					rest = math.Mod(length+period*1e-9, period)
					if phase != dashes[0]/2 {
						t.Errorf("closed line begins %v into a dash of %v", phase, dashes[0])
					}
				}
				if rest > period*1e-6 {
					t.Errorf("%s of %.2f mm (closed %v): the last dash is cut by %.3f mm", lineStyles[line].class, length, closed, rest)
				}
			}
		}
	}
}

func TestCentreLinesCrossInDashes(t *testing.T) {
	for length := 8.0; length < 200; length *= 1.1 {
		dashes, _ := fitDashes(lineStyles[Centre].dashes, 0.25, length, false)
		period := dashes[0] + dashes[1] + dashes[2] + dashes[3]
		if periods := math.Round((length - dashes[0]) / period); periods > 1 && math.Mod(periods, 2) != 0 {
			t.Errorf("%.1f mm: the middle falls between dashes (%v periods)", length, periods)
		}
	}
}

func TestArcBounds(t *testing.T) {
	for _, tilt := range []float64{0, 0.3, 2} {
		for _, sweep := range []float64{0.5, -2, 4, 2 * math.Pi} {
			a := Arc{Centre: Point{3, -2}, RX: 7, RY: 2.5, Tilt: tilt, Start: 1, Sweep: sweep}
			sampled := Nothing
			for i := range 20001 {
				p := a.At(a.Start + sweep*float64(i)/20000)
				sampled = sampled.Join(BoxAround(p))
			}
			got := a.Bounds()
			if !got.Grow(1e-9).Contains(sampled) || !sampled.Grow(1e-5).Contains(got) {
				t.Errorf("tilt %v sweep %v: bounds %v, sampled %v", tilt, sweep, got, sampled)
			}
		}
	}
}

func TestArcLength(t *testing.T) {
	// Circumference of an ellipse with half axes 5 and 3: 25.52699886339813
	// (complete elliptic integral of the second kind, 4·5·E(0.8)).
	got := Arc{RX: 5, RY: 3, Sweep: 2 * math.Pi}.Length()
	if want := 25.52699886339813; math.Abs(got-want) > 1e-8 {
		t.Errorf("circumference %v, want %v", got, want)
	}
}

func TestArcBeziersStayOnTheCircle(t *testing.T) {
	for _, sweep := range []float64{0.2, math.Pi / 4, 3.1, -5, 2 * math.Pi} {
		a := Arc{Centre: Point{10, 10}, RX: 100, RY: 100, Start: 0.7, Sweep: sweep}
		worst := 0.0
		for _, b := range ArcBeziers(a) {
			for i := range 101 {
				worst = max(worst, math.Abs(b.At(float64(i)/100).Distance(a.Centre)-100))
			}
		}
		if worst > 0.001 {
			t.Errorf("sweep %v: off by %.5f mm at r = 100 mm", sweep, worst)
		}
	}
}

func FuzzSVGText(f *testing.F) {
	f.Add("4× ⌀5.5 ⌴⌀9", "plate", "id")
	f.Add("]]><x a='\"'>", "\xff\x00", "a b")
	f.Fuzz(func(t *testing.T, words, title, id string) {
		p := &Picture{Name: title, Title: title, Description: words, Width: 50, Height: 10}
		p.Add(Group{ID: id, Title: title, Marks: []Mark{Text{At: Point{1, 5}, Words: words, Height: 2.5, Halo: true}}})
		svg, err := SVG(p)
		if err != nil {
			return
		}
		d := xml.NewDecoder(bytes.NewReader(svg))
		for {
			if _, err := d.Token(); errors.Is(err, io.EOF) {
				return
			} else if err != nil {
				t.Fatalf("not well-formed: %v", err)
			}
		}
	})
}

func BenchmarkSVG(b *testing.B) {
	p := sampler()
	for range 50 {
		p.Marks = append(p.Marks, sampler().Marks[:20]...)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := SVG(p); err != nil {
			b.Fatal(err)
		}
	}
}
