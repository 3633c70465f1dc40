package proximity

import (
	"math"
	"testing"

	"plansheaf/design/solid"
)

// FuzzNear places two bodies of quarter millimetres by bytes, where all sorts of
// touching come up. Distance and overlap must agree with each other and both ways
// round, and a sweep from clear places must not begin with a hit.
func FuzzNear(f *testing.F) {
	f.Add([]byte{0, 40, 40, 40, 0, 40, 40, 40, 0, 40, 0, 0})
	f.Add([]byte{1, 40, 40, 0, 2, 60, 80, 0, 0, 0, 0, 0})
	f.Add([]byte{3, 40, 0, 20, 0, 10, 20, 30, 3, 12, 9, 200})
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) < 12 {
			return
		}
		body := func(b []byte) *Body {
			size := func(k int) float64 { return float64(b[k]%80+1) / 4 }
			switch b[0] % 4 {
			case 0:
				return box(t, size(1), size(2), size(3))
			case 1:
				return rod(t, size(1), size(2))
			case 2:
				return pipe(t, 2*size(1), size(1), size(2))
			}
			return cone(t, size(1), size(2)*float64(b[3]%2), size(3))
		}
		a, b := body(data[:4]), body(data[4:8])
		at := moved(float64(int8(data[9]))/4, float64(int8(data[10]))/4, float64(int8(data[11]))/4)
		if data[8]%8 > 0 {
			at = solid.Turned(solid.Vec{X: float64(data[8] & 1), Y: float64(data[8] >> 1 & 1), Z: float64(data[8] >> 2 & 1)}, float64(data[8]>>3)*15*degree).Then(at)
		}
		d, points := Distance(a, solid.Stay, b, at)
		back, _ := Distance(b, at, a, solid.Stay)
		if math.Abs(d-back) > 2*(a.stray+b.stray)+1e-6 || !(d >= 0) || math.Abs(points[0].Dist(points[1])-d) > 1e-6 {
			t.Errorf("%g one way, %g the other, points %v", d, back, points)
		}
		if v, _ := Overlap(a, solid.Stay, b, at); v > 0 && d > 0 || v < 0 {
			t.Errorf("distance %g, overlap %g", d, v)
		}
		if h, met := Sweep(b, at, []Motion{{Slide: solid.Vec{Z: 1}}}, a, solid.Stay, 0.3); met && h.T == 0 && d > 0.01 {
			t.Errorf("%g apart, and the way begins with a hit: %+v", d, h)
		}
	})
}
