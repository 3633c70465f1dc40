package scene

import (
	"bytes"
	"slices"
	"testing"

	"plansheaf/publish/picture"
)

// Balloons stand for what has a spot within the frame, with the caller's letters, and
// leave the frame free.
func TestCallouts(t *testing.T) {
	frame := picture.Box{Max: picture.Point{X: 60, Y: 40}}
	at := func(x, y float64) []picture.Point { return []picture.Point{{X: x, Y: y}} }
	c := Arranged(frame, [][]picture.Point{at(10, 10), nil, at(50, 10), at(30, 30)})
	if got, want := c.Shown(), []int{0, 2, 3}; !slices.Equal(got, want) {
		t.Fatalf("balloons for %v, want %v", got, want)
	}
	for i, b := range c.list {
		if frame.Grow(balloonRadius).Overlaps(picture.BoxAround(b.centre).Grow(1e-6)) {
			t.Errorf("balloon %d stands on the frame, at %v", i, b.centre)
		}
		for k, other := range c.list {
			if i != k && b.disturbs(other) {
				t.Errorf("balloons %d and %d disturb each other", i, k)
			}
		}
	}
	pic := &picture.Picture{Name: "callouts", Title: "Callouts", Width: 60 + 2*c.Margin, Height: 40 + 2*c.Margin}
	c.Draw(pic, picture.Point{X: c.Margin, Y: c.Margin}, []string{"1+", "2−", "3→", "4≠"})
	if box := picture.Bounds(pic.Marks); box.Min.X < 0 || box.Min.Y < 0 || box.Max.X > pic.Width || box.Max.Y > pic.Height {
		t.Errorf("balloons reach beyond the paper: %v", box)
	}
	svg, err := picture.SVG(pic)
	if err != nil {
		t.Fatal(err)
	}
	for letters, want := range map[string]bool{"1+": true, "2−": false, "3→": true, "4≠": true} {
		if got := bytes.Contains(svg, []byte(">"+letters+"<")); got != want {
			t.Errorf("the picture holds %q: %t, want %t", letters, got, want)
		}
	}
}
