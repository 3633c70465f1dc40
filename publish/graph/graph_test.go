package graph

import (
	"math"
	"testing"

	"plansheaf/design/golden"
	"plansheaf/publish/notation"
	"plansheaf/publish/picture"
)

// sampled is a curve at 61 places.
func sampled(low, high float64, y func(x float64) float64) []Point {
	var out []Point
	for i := range 61 {
		x := low + (high-low)*float64(i)/60
		v := y(x)
		out = append(out, Point{X: x, Y: v, Known: finite(v)})
	}
	return out
}

func level(y float64) []float64 {
	out := make([]float64, 61)
	for i := range out {
		out[i] = y
	}
	return out
}

// requests are graphs of the kinds that a calculation gives.
func requests() map[string]Request {
	force := func(x float64) float64 { return 4.812 * 0.15 / x }
	open := func(x float64) float64 { return math.Sqrt(x - 20) }
	pole := func(x float64) float64 { return 1 / (x - 3) }
	return map[string]Request{
		"falls": {Title: "force against friction", X: Axis{Name: notation.Name("friction")}, Y: Axis{Name: notation.Name("force"), Unit: "kN"},
			Points: sampled(0.05, 0.25, force), At: Point{X: 0.15, Y: 4.812}, Low: 4.16, High: 5.66, Label: "4.812 kN",
			Limits: []Limit{{Name: notation.Limit("≥", notation.Beside(notation.Name("least"), "= 4 kN")), Sign: "≥", Y: level(4)}}},
		"open": {Title: "speed against drop", X: Axis{Name: notation.Name("drop"), Unit: "mm"}, Y: Axis{Name: notation.Name("v"), Unit: "m/s"},
			Points: sampled(0, 90, open), At: Point{X: 50, Y: open(50)}, Label: "5.477 m/s",
			Limits: []Limit{{Name: notation.Limit("≤", notation.Name("safe_speed")), Sign: "≤", Y: level(7)}, {Name: notation.Limit("<", notation.Name("slope")), Sign: "<", Y: func() []float64 {
				ys := level(0)
				for i := range ys {
					ys[i] = 2 + float64(i)/8
				}
				return ys
			}()}}},
		"pole": {Title: "y against x", X: Axis{Name: notation.Name("x")}, Y: Axis{Name: notation.Name("y")},
			Points: sampled(2, 6, pole), At: Point{X: 5, Y: 0.5}, Label: "0.5"},
		"large": {Title: "load against modulus", X: Axis{Name: notation.Name("post.material.modulus"), Unit: "MPa"}, Y: Axis{Name: notation.Name("load"), Unit: "N"},
			Points: sampled(100000, 300000, func(x float64) float64 { return x * 0.3 }), At: Point{X: 210000, Y: 63000}, Low: 60000, High: 66000, Label: "63 000 N"},
		"level": {Title: "nothing moves it", X: Axis{Name: notation.Name("x"), Unit: "mm"}, Y: Axis{Name: notation.Name("y"), Unit: "mm"},
			Points: sampled(-10, 10, func(float64) float64 { return -3 }), At: Point{X: 0, Y: -3}, Label: "−3 mm"},
	}
}

func TestDraw(t *testing.T) {
	for name, r := range requests() {
		t.Run(name, func(t *testing.T) {
			r.Name, r.Description = name, r.Title
			p := Draw(r)
			if p == nil {
				t.Fatal("no graph")
			}
			if err := picture.Check(p); err != nil {
				t.Fatal(err)
			}
			apart(t, p)
			svg, err := picture.SVG(p)
			if err != nil {
				t.Fatal(err)
			}
			golden.Compare(t, "testdata/"+name+".svg", svg)
		})
	}
}

// apart checks that no words lie on words, that all stand on the paper, and that the
// curve stays clear of words without a ground of their own.
func apart(t *testing.T, p *picture.Picture) {
	t.Helper()
	var boxes []picture.Box
	var said []string
	var walk func(marks []picture.Mark)
	walk = func(marks []picture.Mark) {
		for _, m := range marks {
			switch m := m.(type) {
			case picture.Text:
				boxes, said = append(boxes, m.Bounds()), append(said, m.Words)
			case picture.Clip:
				walk(m.Marks)
			}
		}
	}
	walk(p.Marks)
	paper := picture.Box{Max: picture.Point{X: p.Width, Y: p.Height}}
	for i, one := range boxes {
		if !paper.Contains(one) {
			t.Errorf("%s leaves the paper", said[i])
		}
		for j := range i {
			// An index may stand within the descender's room of its base.
			if one.Grow(-0.45).Overlaps(boxes[j].Grow(-0.45)) {
				t.Errorf("%s lies on %s", said[i], said[j])
			}
		}
	}
}

func TestDrawNothing(t *testing.T) {
	good := requests()["falls"]
	for name, change := range map[string]func(*Request){
		"no points":        func(r *Request) { r.Points = nil },
		"one known point":  func(r *Request) { r.Points = []Point{{X: 0, Y: 1, Known: true}, {X: 1}} },
		"no range":         func(r *Request) { r.Points = []Point{{X: 1, Y: 1, Known: true}, {X: 1, Y: 2, Known: true}} },
		"nowhere":          func(r *Request) { r.At.Y = math.NaN() },
		"an endless range": func(r *Request) { r.Points = []Point{{X: 1, Y: 1, Known: true}, {X: math.Inf(1), Y: 2, Known: true}} },
	} {
		r := good
		change(&r)
		if Draw(r) != nil {
			t.Errorf("%s: a graph is drawn", name)
		}
	}
}

func TestTicks(t *testing.T) {
	rows := []struct {
		low, high, step float64
		want            []string
	}{
		{low: 0, high: 10, step: 2, want: []string{"0", "2", "4", "6", "8", "10"}},
		{low: -0.1, high: 0.1, step: 0.05, want: []string{"−0.10", "−0.05", "0.00", "0.05", "0.10"}},
		{low: 0.07, high: 0.23, step: 0.05, want: []string{"0.10", "0.15", "0.20"}},
		{low: 9000, high: 21000, step: 5000, want: []string{"10\u202f000", "15\u202f000", "20\u202f000"}},
	}
	for _, row := range rows {
		s := scale{low: row.low, high: row.high, step: row.step}
		var got []string
		for _, v := range s.ticks() {
			got = append(got, s.label(v))
		}
		if len(got) != len(row.want) {
			t.Errorf("%g to %g: %v, want %v", row.low, row.high, got, row.want)
			continue
		}
		for i := range got {
			if got[i] != row.want[i] {
				t.Errorf("%g to %g: %v, want %v", row.low, row.high, got, row.want)
				break
			}
		}
	}
	for v, want := range map[float64]float64{1: 1, 1.1: 2, 2.1: 5, 5.1: 10, 0.03: 0.05, 700: 1000} {
		if got := nice(v); math.Abs(got-want) > 1e-12*want {
			t.Errorf("nice(%g) is %g, want %g", v, got, want)
		}
	}
}
