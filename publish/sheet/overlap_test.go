package sheet

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"plansheaf/design/solid"
	"plansheaf/publish/picture"
)

// drawnText is a text of a finished sheet with the box that it fills.
type drawnText struct {
	words string
	box   picture.Box
}

// readSheet collects texts and strokes of a picture, watermark left out: it lies
// under everything and is meant to be written over.
func readSheet(marks []picture.Mark) (texts []drawnText, lines []stretch) {
	b := newBoard(picture.Box{})
	var walk func([]picture.Mark)
	walk = func(marks []picture.Mark) {
		for _, m := range marks {
			switch m := m.(type) {
			case picture.Path:
				b.draw(m.Curves...)
			case picture.Text:
				if m.Class != "watermark" {
					texts = append(texts, drawnText{m.Words, m.Bounds()})
				}
			case picture.Group:
				walk(m.Marks)
			case picture.Clip: // what it cuts off is not there: its outline stands for it
				b.draw(m.Outline...)
			}
		}
	}
	walk(marks)
	return texts, b.lines
}

// faultsOf lists texts on texts, texts on lines, and what leaves the paper's
// border.
func faultsOf(r *Result) (faults []string) {
	texts, lines := readSheet(r.Picture.Marks)
	paper := picture.Box{Max: point{X: r.Picture.Width, Y: r.Picture.Height}}
	border := paper.Grow(-5 + 1e-9)
	for i, t := range texts {
		if !border.Contains(t.box) {
			faults = append(faults, fmt.Sprintf("%q leaves the border", t.words))
		}
		for _, o := range texts[i+1:] {
			if t.box.Overlaps(o.box) {
				faults = append(faults, fmt.Sprintf("%q lies on %q", t.words, o.words))
			}
		}
		for _, line := range lines {
			if line.meets(t.box) {
				faults = append(faults, fmt.Sprintf("%q lies on the line %v %v", t.words, line.a, line.b))
				break
			}
		}
	}
	for _, line := range lines {
		if !border.Contains(picture.BoxAround(line.a, line.b)) {
			faults = append(faults, fmt.Sprintf("the line %v %v leaves the border", line.a, line.b))
		}
	}
	return faults
}

// randomPart makes a plate or a bar with random holes; the seed tells it apart.
func randomPart(t *testing.T, seed uint64) Request {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 7))
	between := func(low, high float64) float64 { return math.Round(low + r.Float64()*(high-low)) }
	request := Request{Name: fmt.Sprintf("random%d", seed), Title: "Random part", Number: "TP-random", Revision: "A",
		Date: "2026-05-02", Author: "A. Author", Material: "Steel", Tolerances: "ISO 2768-m", Notes: []string{"Break sharp edges."}}
	if r.IntN(2) == 0 {
		request.System = Inch
	}
	if r.IntN(2) == 0 {
		request.Projection = FirstAngle
	}
	shape := solid.Shape{}
	if r.IntN(3) == 0 {
		length := between(60, 900)
		shape.Base = solid.Bar{Section: solid.Rectangle{W: 30, H: 20}, Length: length}
		for i := range 1 + r.IntN(4) {
			face, across := "top", 30.0
			if r.IntN(2) == 0 {
				face, across = "front", 20
			}
			shape.Holes = append(shape.Holes, solid.Hole{Name: fmt.Sprintf("h%d", i), Face: face, D: between(3, 8), ThroughAll: true,
				At: []solid.Vec2{{X: (float64(i) + 0.5) * length / 5, Y: between(8, across-8)}}})
		}
		request.Body = Bar
	} else {
		w, h := between(40, 400), between(30, 300)
		outline := solid.RectangleOutline(w, h)
		if rounded, err := outline.Rounded(between(1, 6)); err == nil && r.IntN(2) == 0 {
			outline = rounded
		}
		shape.Base = solid.Sheet{Outline: outline, Thickness: between(3, 15)}
		columns, rows := 2+r.IntN(3), 1+r.IntN(3)
		for i := range columns {
			for j := range rows {
				if r.IntN(4) == 0 {
					continue
				}
				x, y := (float64(i)+0.3+0.4*r.Float64())*w/float64(columns), (float64(j)+0.3+0.4*r.Float64())*h/float64(rows)
				d := min(between(3, 20), 0.25*w/float64(columns), 0.25*h/float64(rows))
				hole := solid.Hole{Name: fmt.Sprintf("h%d_%d", i, j), At: []solid.Vec2{{X: math.Round(x), Y: math.Round(y)}}, D: math.Round(d*10) / 10}
				if r.IntN(5) == 0 {
					hole.Kind, hole.Long, hole.Along = solid.Obround, 2*hole.D, solid.AxisX
				}
				shape.Holes = append(shape.Holes, hole)
			}
		}
		request.Body = Plate
	}
	s, err := solid.Build(shape)
	if err != nil {
		t.Fatalf("seed %d: %v", seed, err)
	}
	request.Solid = s
	return request
}

// TestNothingOverlaps is the overlap audit over random parts.
func TestNothingOverlaps(t *testing.T) {
	for seed := range uint64(50) {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			t.Parallel()
			request := randomPart(t, seed)
			result, err := Draw(request)
			if err != nil {
				t.Fatal(err)
			}
			if _, err := picture.SVG(result.Picture); err != nil {
				t.Error(err)
			}
			for _, f := range result.Faults {
				t.Errorf("fault: %s", f.Message)
			}
			for _, f := range faultsOf(result) {
				t.Error(f)
			}
			for _, o := range Audit(result.Facts, result.Ties, result.Dimensions) {
				t.Error(o)
			}
		})
	}
}
