package clash

import (
	"math"
	"testing"

	"plansheaf/design/solid"
)

// FuzzCourse recovers an even motion from displacements at the shares at which a
// machine is laid out.
func FuzzCourse(f *testing.F) {
	f.Add(10.0, 0.0, 0.0, 0.0, 0.0, 1.0, 5.0, -3.0, 0.0, 0.0)
	f.Add(0.0, 0.0, -120.0, 0.0, 0.0, 1.0, 5.0, -3.0, 0.0, 188.5)
	f.Add(40.0, 3.0, 1.0, 1.0, 1.0, 0.2, 50.0, 20.0, -7.0, 2.5)
	f.Add(0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 0.0, 0.0, 3.1415926535)
	f.Fuzz(func(t *testing.T, sx, sy, sz, ax, ay, az, px, py, pz, angle float64) {
		for _, x := range []float64{sx, sy, sz, ax, ay, az, px, py, pz} {
			if !(math.Abs(x) < 1000) {
				return // nothing is promised there
			}
		}
		axis := solid.Vec{X: ax, Y: ay, Z: az}
		if !(axis.Len() > 0.01) || !(math.Abs(angle) < 2000*math.Pi) {
			return // nothing is promised there
		}
		want := motion{at: solid.Vec{X: px, Y: py, Z: pz}, axis: axis.Unit(), angle: angle, slide: solid.Vec{X: sx, Y: sy, Z: sz}}
		shares := []float64{tiny, 1}
		for k := range evenSamples {
			_, share := math.Modf(float64(k+1) * golden)
			shares = append(shares, share)
		}
		var moved []solid.Placement
		for _, u := range shares {
			moved = append(moved, want.over(u))
		}
		far := []solid.Vec{{X: 30}, {Y: 30}, {Z: 30}, {X: -30, Y: -30, Z: -30}}
		c := courseOf(shares, moved, far)
		for _, u := range []float64{0.1, 0.5, 0.77} {
			if d := off(c.over(u), want.over(u), far); c.even && d > 0.01 {
				t.Errorf("even, and %g off at %g: %+v", d, u, c.motion)
			}
		}
		// What turns enough to be told from standing still, and not by half a turn in the
		// tiny share, is even.
		if a := math.Abs(angle); !c.even && (a == 0 || a > 1e-3) && a < 1000*math.Pi {
			t.Errorf("not found to be even: %+v", want)
		}
	})
}
