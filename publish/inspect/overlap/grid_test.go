package overlap

import (
	"math/rand/v2"
	"slices"
	"testing"

	"plansheaf/publish/picture"
)

// TestTheGridLosesNothing compares what the grid finds near boxes with a look at all
// strokes.
func TestTheGridLosesNothing(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	at := func() point { return point{X: r.Float64() * 300, Y: r.Float64() * 200} }
	g := grid{}
	var strokes []stroke
	for i := range 400 {
		s := stroke{a: at(), b: at()}
		if i%3 == 0 { // level, at times along the cells' edges
			s.b = point{X: s.b.X, Y: s.a.Y}
		}
		if i%7 == 0 {
			s.a.Y, s.b.Y = 5*cell, 5*cell
		}
		strokes = append(strokes, s)
		g.putStroke(i, s)
	}
	met := 0
	for range 500 {
		from := at()
		box := picture.Box{Min: from, Max: from.Plus(point{X: 20 * r.Float64(), Y: 4 * r.Float64()})}
		near := g.near(box)
		for i, s := range strokes {
			if !s.meets(box) {
				continue
			}
			met++
			if !slices.Contains(near, i) {
				t.Fatalf("the stroke %v meets %v, but is not found", s, box)
			}
		}
	}
	if met < 100 {
		t.Errorf("only %d meetings compared", met)
	}
}
