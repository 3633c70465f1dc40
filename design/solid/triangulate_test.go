package solid

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Plates with holes in rows and columns, whose sides and corners lie on common lines:
// the triangles fill the plate exactly once, none turned over.
func TestTriangulateHolesInLine(t *testing.T) {
	random := rand.New(rand.NewPCG(8, 1))
	for run := range 200 {
		var rings [][]corner
		v := 0
		ring := func(points ...[2]float64) {
			var r []corner
			for _, p := range points {
				r = append(r, corner{v, p[0], p[1]})
				v++
			}
			rings = append(rings, r)
		}
		columns, rows := 1+random.IntN(4), 1+random.IntN(4)
		wide, high := 20*float64(columns), 20*float64(rows)
		ring([2]float64{0, 0}, [2]float64{wide, 0}, [2]float64{wide, high}, [2]float64{0, high})
		want := 2 * wide * high
		for i := range columns * rows {
			if random.IntN(4) == 0 {
				continue
			}
			x, y := 20*float64(i%columns)+10, 20*float64(i/columns)+10
			long, n := 3+3*float64(random.IntN(2)), 4+2*random.IntN(5)
			var hole [][2]float64 // clockwise, with straight sides where it is long
			for k := range 2*n + 2 {
				half, step := k/(n+1), k%(n+1)
				sin, cos := math.Sincos(-math.Pi * float64(half*n+step) / float64(n))
				hole = append(hole, [2]float64{x + 4*cos, y + 4*sin + long*(float64(half)-0.5)})
			}
			ring(hole...)
			want += ringArea(rings[len(rings)-1])
		}
		at := make([]corner, v)
		for _, r := range rings {
			for _, c := range r {
				at[c.v] = c
			}
		}
		sum := 0.0
		for _, tri := range triangulate(rings) {
			area := turn(at[tri[0]], at[tri[1]], at[tri[2]])
			if area < -1e-9 {
				t.Errorf("run %d: a triangle is turned over, by twice %g mm²", run, -area)
			}
			sum += math.Abs(area)
		}
		if math.Abs(sum-want) > 1e-6*want {
			t.Errorf("run %d: triangles cover twice %g mm², want %g", run, sum, want)
		}
	}
}
