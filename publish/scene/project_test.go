package scene

import (
	"math/rand/v2"
	"testing"

	"plansheaf/design/layout"
	"plansheaf/design/trial"
	"plansheaf/design/way"
	"plansheaf/publish/picture"
	"plansheaf/publish/view"
)

// What is left out for being hidden altogether, or out of the picture, leaves no gap:
// as much is drawn as when all of it is looked at.
func TestProjectDrawsAllThatIsSeen(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 9))
	for run := range 8 {
		r := trial.Reckoning(t, heap(random, 3+random.IntN(30)))
		pieces := layout.Of(r).Pieces(r.Plan.Assembly("heap"))
		dir := sides[run%len(sides)].dir
		art, err := NewStudio(way.NewMemory()).project(pieces, dir, around(pieces, dir), wide, high, 0)
		if err != nil {
			t.Fatal(err)
		}
		var bodies []view.Body
		for _, p := range pieces {
			bodies = append(bodies, view.Body{Solid: p.Solid, At: p.At})
		}
		whole, err := view.Project(bodies, dir, view.Options{VisibleOnly: true, NoThreads: true})
		if err != nil {
			t.Fatal(err)
		}
		drawn := 0.0
		for _, line := range art.lines {
			drawn += line.Length()
			if want := pieces[line.Body].Solid; want == nil {
				t.Errorf("run %d: a line of no piece", run)
			}
		}
		if want := whole.Length(true); drawn < 0.999*want || drawn > 1.001*want {
			t.Errorf("run %d: %.1f mm of lines are drawn, of %.1f", run, drawn, want)
		}
	}
}

// A step's window holds what is new, lies within the whole, and is part of it only
// where it is much smaller.
func TestWindow(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 9))
	parts := 0
	for run := range 500 {
		whole := picture.Box{Min: picture.Point{X: -50, Y: 20}, Max: picture.Point{X: 50 + 400*random.Float64(), Y: 60 + 400*random.Float64()}}
		at := func(share float64, low, high float64) float64 { return low + share*(high-low) }
		x, y := random.Float64(), random.Float64()
		w, h := random.Float64()*(1-x), random.Float64()*(1-y)
		if run%2 == 0 {
			w, h = w/5, h/5
		}
		new := picture.Box{
			Min: picture.Point{X: at(x, whole.Min.X, whole.Max.X), Y: at(y, whole.Min.Y, whole.Max.Y)},
			Max: picture.Point{X: at(x+w, whole.Min.X, whole.Max.X), Y: at(y+h, whole.Min.Y, whole.Max.Y)},
		}
		box, part := window(whole, new)
		if part {
			parts++
		}
		slack := 1e-9
		if !box.Grow(slack).Contains(new) || !whole.Grow(slack).Contains(box) {
			t.Fatalf("run %d: of %v, with %v new, %v is shown", run, whole, new, box)
		}
		if !part && box != whole || box.Width() < nearShare*whole.Width()-slack || box.Height() < nearShare*whole.Height()-slack {
			t.Errorf("run %d: of %v, with %v new, %v is shown", run, whole, new, box)
		}
	}
	if parts < 100 || parts > 450 {
		t.Errorf("%d of 500 are parts: the cases say little", parts)
	}
}
