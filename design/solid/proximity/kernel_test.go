package proximity

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"plansheaf/design/solid"
)

// between is a rod or cone from a point along a direction, by radii as the
// kernel's script has them.
func between(t *testing.T, p, dir solid.Vec, r, to, l float64) Placed {
	if r == to {
		return Placed{rod(t, 2*r, l), axial(2*r, p, dir)}
	}
	return Placed{cone(t, 2*r, 2*to, l), axial(2*max(r, to), p, dir)}
}

// TestAgainstKernel compares with distances and volumes that an independent
// geometry kernel gave for the same bodies: testdata/kernel/near.tcl.
func TestAgainstKernel(t *testing.T) {
	v := func(x, y, z float64) solid.Vec { return solid.Vec{X: x, Y: y, Z: z} }
	up := v(0, 0, 1)
	at := func(b *Body, p solid.Placement) Placed { return Placed{b, p} }
	cases := []struct {
		name string
		a, b Placed
	}{
		{"box_box", at(box(t, 10, 20, 30), solid.Stay), at(box(t, 8, 8, 8), moved(14, 23, 18))},
		{"box_turned_box", at(box(t, 10, 20, 30), solid.Stay), at(box(t, 8, 8, 8), solid.Turned(v(1, 2, 3), 40*degree).Then(moved(19, 9, 8)))},
		{"rod_slanted_rod", between(t, v(0, 0, 0), up, 5, 5, 40), between(t, v(15, -20, 10), v(1, 3, 1), 4, 4, 50)},
		{"rod_end_of_rod", between(t, v(0, 0, 0), up, 5, 5, 40), between(t, v(12, 6, 30), v(2, 1, 2), 3, 3, 30)},
		{"cone_rod", between(t, v(0, 0, 0), up, 12, 3, 25), between(t, v(15, -30, 24), v(0, 1, -0.1), 4, 4, 60)},
		{"cone_cone", between(t, v(0, 0, 0), up, 12, 0, 25), between(t, v(9, 5, 40), v(-0.2, 0.1, -1), 8, 0, 14)},
		{"plate_slanted_rod", at(box(t, 60, 40, 8), solid.Stay), between(t, v(20, 15, -5), v(0.3, 0.2, 1), 6, 6, 30)},
		{"rod_cross_rod", between(t, v(0, 0, 0), up, 10, 10, 40), between(t, v(-20, 3, 20), v(1, 0, 0), 6, 6, 40)},
		{"cone_box", between(t, v(0, 0, 0), up, 12, 3, 25), at(box(t, 20, 20, 6), moved(-4, 2, 5))},
		{"bore_tilted_rod", at(pipe(t, 40, 28, 30), moved(-20, -20, 0)), between(t, v(3, 2, -10), v(0.02, -0.03, 1), 8, 8, 50)},
	}
	f, err := os.Open("../../../testdata/kernel/near.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != len(cases)+1 {
		t.Fatalf("%d cases recorded, %d here", len(rows)-1, len(cases))
	}
	for i, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			row := rows[i+1]
			if row[0] != c.name {
				t.Fatalf("recorded case is %s", row[0])
			}
			var want [2]float64
			for k := range want {
				if want[k], err = strconv.ParseFloat(row[k+1], 64); err != nil {
					t.Fatal(err)
				}
			}
			if d, _ := Distance(c.a.Body, c.a.At, c.b.Body, c.b.At); math.Abs(d-want[0]) > 1e-6 {
				t.Errorf("distance is %.10g, the kernel says %.10g", d, want[0])
			}
			if v, _ := Overlap(c.a.Body, c.a.At, c.b.Body, c.b.At); math.Abs(v-want[1]) > 1e-5*want[1] {
				t.Errorf("overlap is %.10g, the kernel says %.10g", v, want[1])
			}
		})
	}
}
