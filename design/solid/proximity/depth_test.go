package proximity

import (
	"math"
	"math/rand"
	"testing"

	"plansheaf/design/solid"
)

// TestDepth compares with depths that follow from the shapes, and Clear with them.
func TestDepth(t *testing.T) {
	z := solid.Vec{Z: 1}
	cube := box(t, 10, 10, 10)
	for _, c := range []struct {
		name string
		a    *Body
		pa   solid.Placement
		b    *Body
		pb   solid.Placement
		want float64
		off  float64 // share by which it may be too small
	}{
		{name: "apart", a: cube, pa: solid.Stay, b: cube, pb: moved(11, 0, 0)},
		{name: "touching", a: cube, pa: solid.Stay, b: cube, pb: moved(10, 2, 3)},
		{name: "pressed on by a hundredth", a: box(t, 200, 60, 8), pa: solid.Stay, b: box(t, 30, 30, 400), pb: moved(20, 20, 7.99), want: 0.01, off: 1e-6},
		{name: "corner in", a: cube, pa: solid.Stay, b: cube, pb: moved(9, 9, 9), want: 1, off: 1e-6},
		{name: "bar through a plate", a: box(t, 60, 60, 8), pa: solid.Stay, b: box(t, 20, 20, 60), pb: moved(20, 20, -20), want: 10, off: 0.1},
		{name: "press fit", a: pipe(t, 30, 10, 20), pa: moved(-15, -15, 0), b: rod(t, 10.02, 30), pb: axial(10.02, solid.Vec{Z: -5}, z), want: 0.01, off: 1e-3},
		{name: "thread in its tap drill", a: pipe(t, 30, 6.8, 20), pa: moved(-15, -15, 0), b: rod(t, 8, 30), pb: axial(8, solid.Vec{Z: 5}, z), want: 0.6, off: 1e-3},
		{name: "swallowed", a: cube, pa: moved(-5, -5, -5), b: rod(t, 4, 4), pb: axial(4, solid.Vec{Z: -2}, z), want: 5, off: 0.5},
	} {
		t.Run(c.name, func(t *testing.T) {
			for _, turned := range []solid.Placement{solid.Stay, solid.Turned(solid.Vec{X: 1, Y: 2, Z: -1}, 0.7).Then(moved(5, -3, 2))} {
				pa, pb := c.pa.Then(turned), c.pb.Then(turned)
				d, at := Depth(c.a, pa, c.b, pb)
				if d > c.want*(1+1e-6)+1e-6 || d < c.want*(1-c.off)-1e-6 {
					t.Errorf("depth %.6g, want %g", d, c.want)
				}
				if d > 0 && (!c.a.Solid.Contains(pa.Inverse().Point(at)) || !c.b.Solid.Contains(pb.Inverse().Point(at))) {
					t.Errorf("%v is not in both", at)
				}
				if got := Clear(c.a, pa, c.b, pb, 0); got != (c.want == 0) {
					t.Errorf("clear %v", got)
				}
				if c.want > 0 {
					if Clear(c.a, pa, c.b, pb, -0.9*d) || !Clear(c.a, pa, c.b, pb, -1.1*d) {
						t.Errorf("the depth of %g is not where clear changes", d)
					}
				}
			}
		})
	}
}

// TestClearIsDistance asks about random bodies at random places in all three ways.
func TestClearIsDistance(t *testing.T) {
	r := rand.New(rand.NewSource(8))
	near := 0
	for i := range 90 {
		a, b := anyBody(t, r), anyBody(t, r)
		pa, pb := anyPlace(r, 10), anyPlace(r, 22)
		d, _ := Distance(a, pa, b, pb)
		if d > 0 && d < 3 {
			near++
		}
		for _, within := range []float64{d * 0.99, d * 1.01, d - 0.01, d + 0.01, 1} {
			if within > 0 && Clear(a, pa, b, pb, within) != (d >= within) {
				t.Errorf("%d: %g apart, clear by %g is %v", i, d, within, d < within)
			}
		}
		v, _ := Overlap(a, pa, b, pb)
		if Clear(a, pa, b, pb, 0) != (v == 0) {
			t.Errorf("%d: overlap %g, clear %v", i, v, v > 0)
		}
		if deep, _ := Depth(a, pa, b, pb); (deep > 0) != (v > 0) || deep > math.Cbrt(v)*20+1 {
			t.Errorf("%d: overlap %g, depth %g", i, v, deep)
		}
	}
	if near < 10 {
		t.Errorf("only %d of the pairs are near each other", near)
	}
}
