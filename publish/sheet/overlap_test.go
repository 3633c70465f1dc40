package sheet

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"plansheaf/design/solid"
	"plansheaf/publish/inspect/overlap"
	"plansheaf/publish/picture"
)

// drawnText is a text of a finished sheet with the box that it fills.
type drawnText struct {
	words string
	box   picture.Box
}

// readSheet collects the texts of a picture.
func readSheet(marks []picture.Mark) (texts []drawnText) {
	for _, m := range marks {
		switch m := m.(type) {
		case picture.Text:
			texts = append(texts, drawnText{m.Words, m.Bounds()})
		case picture.Group:
			texts = append(texts, readSheet(m.Marks)...)
		}
	}
	return texts
}

// faultsOf lists texts on texts, texts on lines, and what leaves the frame.
func faultsOf(r *Result) []string { return overlap.Faults(r.Picture) }

// randomPart makes a part of some kind; the seed tells it apart: plates with through,
// blind and counterbored holes, bars short and long, turned parts, blocks with
// pockets and grooves. Some ask for sections and details.
func randomPart(t *testing.T, seed uint64) Request {
	t.Helper()
	r := random{rand.New(rand.NewPCG(seed, 7))}
	request := Request{Name: fmt.Sprintf("random%d", seed), Title: "Random part", Number: "TP-random", Revision: "A",
		Date: "2026-05-02", Author: "A. Author", Material: "Steel", Tolerances: "ISO 2768-m", Notes: []string{"Break sharp edges."}}
	if r.IntN(2) == 0 {
		request.System = Inch
	}
	if r.IntN(2) == 0 {
		request.Projection = FirstAngle
	}
	kinds := [](func() (solid.Shape, Body)){r.plate, r.plate, r.bar, r.turned, r.block}
	shape, body := kinds[r.IntN(len(kinds))]()
	s, err := solid.Build(shape)
	if err != nil {
		t.Fatalf("seed %d: %v", seed, err)
	}
	request.Solid, request.Body = s, body
	if len(shape.Holes) > 0 && body == Plate && r.IntN(3) == 0 {
		first := shape.Holes[0].Name
		request.Views = []ViewRequest{{Kind: "top"}, {Kind: "section", Letter: "A", Through: []string{first}, Half: r.IntN(3) == 0}}
		if r.IntN(2) == 0 {
			request.Views = append(request.Views, ViewRequest{Kind: "detail", Letter: "B", Around: first})
		}
	}
	return request
}

// random makes random shapes, sizes in whole millimetres.
type random struct{ *rand.Rand }

func (r random) between(low, high float64) float64 { return math.Round(low + r.Float64()*(high-low)) }

func (r random) bar() (solid.Shape, Body) {
	length := r.between(60, 1400)
	shape := solid.Shape{Base: solid.Bar{Section: solid.Rectangle{W: 30, H: 20}, Length: length}}
	for i := range 1 + r.IntN(4) {
		face, across := "top", 30.0
		if r.IntN(2) == 0 {
			face, across = "front", 20
		}
		shape.Holes = append(shape.Holes, solid.Hole{Name: fmt.Sprintf("h%d", i), Face: face, D: r.between(3, 8), ThroughAll: true,
			At: []solid.Vec2{{X: (float64(i) + 0.5) * length / 5, Y: r.between(8, across-8)}}})
	}
	return shape, Bar
}

func (r random) plate() (solid.Shape, Body) {
	w, h, thick := r.between(40, 400), r.between(30, 300), r.between(3, 15)
	outline := solid.RectangleOutline(w, h)
	if rounded, err := outline.Rounded(r.between(1, 6)); err == nil && r.IntN(2) == 0 {
		outline = rounded
	}
	shape := solid.Shape{Base: solid.Sheet{Outline: outline, Thickness: thick}}
	columns, rows := 2+r.IntN(3), 1+r.IntN(3)
	for i := range columns {
		for j := range rows {
			if r.IntN(4) == 0 {
				continue
			}
			x, y := (float64(i)+0.3+0.4*r.Float64())*w/float64(columns), (float64(j)+0.3+0.4*r.Float64())*h/float64(rows)
			d := min(r.between(3, 20), 0.25*w/float64(columns), 0.25*h/float64(rows))
			hole := solid.Hole{Name: fmt.Sprintf("h%d_%d", i, j), At: []solid.Vec2{{X: math.Round(x), Y: math.Round(y)}}, D: math.Round(d*10) / 10}
			switch r.IntN(8) {
			case 0:
				hole.Kind, hole.Long, hole.Along = solid.Obround, 2*hole.D, solid.AxisX
			case 1:
				hole.Depth = math.Round(thick * 0.6)
			case 2:
				hole.Counterbore = &solid.Counterbore{D: math.Round(hole.D * 1.7), Depth: math.Round(thick * 0.4)}
			}
			shape.Holes = append(shape.Holes, hole)
		}
	}
	return shape, Plate
}

// turned is stepped, now and then with a groove, and bored.
func (r random) turned() (solid.Shape, Body) {
	var steps solid.Lathed
	most := 0.0
	for range 1 + r.IntN(4) {
		d := r.between(16, 60)
		most = max(most, d)
		steps = append(steps, solid.TurnedStep{D: d, L: r.between(6, 60)})
		if r.IntN(3) == 0 {
			steps = append(steps, solid.TurnedStep{D: d - 2, L: 1.6})
		}
	}
	shape := solid.Shape{Base: solid.Group{{Along: solid.AxisX, Shape: steps}}}
	middle := []solid.Vec2{{X: most / 2, Y: most / 2}}
	switch r.IntN(3) {
	case 0:
		shape.Holes = []solid.Hole{{Name: "bore", Face: "left", At: middle, D: 8, ThroughAll: true}}
	case 1:
		shape.Holes = []solid.Hole{{Name: "centre", Face: "right", At: middle, D: 6, Depth: 5}}
	}
	return shape, Free
}

// block has a pocket from above, and now and then a narrow groove and feet.
func (r random) block() (solid.Shape, Body) {
	size := solid.Vec{X: r.between(60, 200), Y: r.between(50, 140), Z: r.between(20, 60)}
	wall := r.between(4, 12)
	base := solid.Group{{Shape: solid.Block{Size: size}},
		{Shape: solid.Block{Size: solid.Vec{X: size.X - 2*wall, Y: size.Y - 2*wall, Z: size.Z}}, At: solid.Vec{X: wall, Y: wall, Z: r.between(4, 10)}, Cut: true}}
	if r.IntN(2) == 0 {
		base = append(base, solid.Member{Shape: solid.Block{Size: solid.Vec{X: 1.5, Y: size.Y, Z: 1.2}}, At: solid.Vec{X: r.between(10, size.X-10), Z: 0}, Cut: true})
	}
	shape := solid.Shape{Base: base}
	if r.IntN(2) == 0 {
		shape.Holes = []solid.Hole{{Name: "feet", Face: "bottom", Pattern: true, D: 5,
			At: solid.Grid(solid.Vec2{X: wall + 8, Y: wall + 8}, solid.Vec2{X: size.X - 2*wall - 16, Y: size.Y - 2*wall - 16}, [2]int{2, 2})}}
	}
	return shape, Free
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
