package view

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"plansheaf/design/solid"
)

// kernelBodies are the shapes of testdata/kernel/views_bodies.tcl. Groups are moved to
// stand at the origin when built, which changes no length.
func kernelBodies(t testing.TB) map[string][]Body {
	quarter := math.Pi / 2
	one := func(sh solid.Shape) []Body { return []Body{{Solid: build(t, sh), At: solid.Stay}} }
	rod := func(x, y, z, r, l float64, along solid.Axis, cut bool) solid.Member {
		at := solid.Vec{X: x - r, Y: y - r, Z: z - r}
		switch along {
		case solid.AxisX:
			at.X = x
		case solid.AxisY:
			at.Y = y
		default:
			at.Z = z
		}
		return solid.Member{Shape: solid.Rod{D: 2 * r, L: l}, At: at, Along: along, Cut: cut}
	}
	block := func(x, y, z float64) solid.Member {
		return solid.Member{Shape: solid.Block{Size: solid.Vec{X: x, Y: y, Z: z}}}
	}
	x, y, z := solid.AxisX, solid.AxisY, solid.AxisZ
	return map[string][]Body{
		"plate_hole": one(solid.Shape{Base: solid.Group{block(100, 60, 10), rod(20, 30, -10, 4, 30, z, true)}}),
		"bracket":    one(solid.Shape{Base: solid.Group{block(60, 40, 8), block(8, 40, 50), rod(40, 20, -1, 4.5, 20, z, true), rod(-1, 20, 32, 6, 20, x, true)}}),
		"rod_before_box": {
			{Solid: build(t, solid.Shape{Base: solid.Group{block(60, 10, 40)}}), At: solid.Moved(solid.Vec{Y: 20})},
			{Solid: build(t, solid.Shape{Base: solid.Group{rod(6, 6, 0, 6, 30, z, false)}}), At: solid.Moved(solid.Vec{X: 24, Y: -1, Z: 5})},
		},
		"drilled_block": one(solid.Shape{Base: solid.Group{block(50, 40, 30), rod(25, 20, 15, 5, 20, z, true), rod(-1, 20, 20, 4, 52, x, true)},
			Holes: []solid.Hole{{Name: "sink", At: []solid.Vec2{{X: 25, Y: 20}}, D: 10, Depth: 15, Countersink: &solid.Countersink{D: 20, Angle: quarter}}}}),
		"pipe": one(solid.Shape{Base: solid.Group{rod(15, 0, 15, 15, 50, y, false), rod(15, 0, 15, 10, 50, y, true), rod(15, 25, 15, 4, 20, z, true)}}),
		"peg": one(solid.Shape{Base: solid.Group{block(40, 40, 10),
			{Shape: solid.Taper{D: 20, To: 8, L: 20}, At: solid.Vec{X: 10, Y: 10, Z: 10}, Along: z}, rod(20, 20, 30, 4, 12, z, false)}}),
	}
}

// TestAgainstKernel compares summed visible lengths with those that an
// independent geometry kernel worked out: see testdata/kernel/views.tcl.
func TestAgainstKernel(t *testing.T) {
	f, err := os.Open("../../testdata/kernel/views.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	bodies := kernelBodies(t)
	checked := map[string]bool{}
	for _, row := range rows[1:] {
		var v [7]float64
		for i := range v {
			if v[i], err = strconv.ParseFloat(row[i+1], 64); err != nil {
				t.Fatal(err)
			}
		}
		dir, err := Look(solid.Vec{X: v[0], Y: v[1], Z: v[2]}, solid.Vec{X: v[3], Y: v[4], Z: v[5]})
		if err != nil {
			t.Fatal(err)
		}
		d, err := Project(bodies[row[0]], dir, Options{})
		if err != nil {
			t.Fatal(err)
		}
		checked[row[0]] = true
		// Both draw the curves of two round surfaces by approximation.
		if got := d.Length(true); math.Abs(got-v[6]) > 1e-6*v[6] {
			t.Errorf("%s from %v: visible %.5f mm, the kernel says %.5f", row[0], v[:3], got, v[6])
		}
	}
	if len(checked) != len(bodies) {
		t.Errorf("%d of %d shapes are recorded", len(checked), len(bodies))
	}
}
