package scene

import (
	"testing"

	"plansheaf/publish/picture"
	"plansheaf/publish/view"
)

// rule is a straight line of a body.
func rule(body int, x1, y1, x2, y2 float64) view.Line {
	return view.Line{Body: body, Curves: []picture.Curve{picture.Line{A: picture.Point{X: x1, Y: y1}, B: picture.Point{X: x2, Y: y2}}}}
}

func TestThinned(t *testing.T) {
	for _, c := range []struct {
		name  string
		lines []view.Line
		scale float64
		want  []int // indices that stay
	}{
		{"flutes of a bar: its outline stays", []view.Line{rule(0, 0, 0, 0, 50), rule(0, 0.3, 0, 0.3, 50), rule(0, 2.7, 0, 2.7, 50), rule(0, 3, 0, 3, 50)}, 1, []int{0, 3}},
		{"drawn larger, all of them", []view.Line{rule(0, 0, 0, 0, 50), rule(0, 0.3, 0, 0.3, 50), rule(0, 3, 0, 3, 50)}, 2, []int{0, 1, 2}},
		{"of two bodies", []view.Line{rule(0, 0, 0, 0, 50), rule(1, 0.3, 0, 0.3, 50)}, 1, []int{0, 1}},
		{"one after the other", []view.Line{rule(0, 0, 0, 0, 20), rule(0, 0.1, 20, 0.1, 50)}, 1, []int{0, 1}},
		{"across", []view.Line{rule(0, 0, 0, 0, 0.4), rule(0, 0, 0, 0.4, 0), rule(0, 5, 5, 9, 5)}, 1, []int{0, 1, 2}},
		{"the other way round", []view.Line{rule(0, 0, 0, 10, 0), rule(0, 10, 0.2, 0, 0.2)}, 1, []int{0}},
	} {
		got := thinned(c.lines, c.scale)
		if len(got) != len(c.want) {
			t.Errorf("%s: %d lines stay, want %d", c.name, len(got), len(c.want))
			continue
		}
		for i, k := range c.want {
			if got[i].Curves[0] != c.lines[k].Curves[0] {
				t.Errorf("%s: line %d is %v, want %v", c.name, i, got[i].Curves[0], c.lines[k].Curves[0])
			}
		}
	}
}
