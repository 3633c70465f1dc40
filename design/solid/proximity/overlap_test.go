package proximity

import (
	"math"
	"math/rand"
	"testing"

	"plansheaf/design/solid"
)

// TestOverlap compares with closed forms.
func TestOverlap(t *testing.T) {
	z := solid.Vec{Z: 1}
	cube, plate := box(t, 10, 10, 10), box(t, 60, 40, 8)
	d10 := rod(t, 10, 100)
	disc := math.Pi * 25
	for _, c := range []struct {
		name string
		a    *Body
		pa   solid.Placement
		b    *Body
		pb   solid.Placement
		want float64
		size solid.Vec // of the box around it
	}{
		{name: "boxes", a: cube, pa: solid.Stay, b: cube, pb: moved(8, 7, 6), want: 2 * 3 * 4, size: solid.Vec{X: 2, Y: 3, Z: 4}},
		{name: "the same", a: cube, pa: solid.Stay, b: cube, pb: solid.Stay, want: 1000, size: solid.Vec{X: 10, Y: 10, Z: 10}},
		{name: "within", a: plate, pa: solid.Stay, b: box(t, 2, 3, 4), pb: moved(5, 5, 2), want: 24, size: solid.Vec{X: 2, Y: 3, Z: 4}},
		{name: "rod through plate", a: plate, pa: solid.Stay, b: d10, pb: axial(10, solid.Vec{X: 20, Y: 20, Z: -50}, z), want: disc * 8, size: solid.Vec{X: 10, Y: 10, Z: 8}},
		{name: "rod through plate, both turned", a: plate, pa: solid.Turned(solid.Vec{X: 1, Y: 2, Z: 3}, 1), b: d10, pb: axial(10, solid.Vec{X: 20, Y: 20, Z: -50}, z).Then(solid.Turned(solid.Vec{X: 1, Y: 2, Z: 3}, 1)), want: disc * 8},
		{name: "rod pressed into a bore", a: pipe(t, 30, 9.98, 20), pa: solid.Stay, b: d10, pb: axial(10, solid.Vec{X: 15, Y: 15, Z: -40}, z), want: math.Pi * (25 - 4.99*4.99) * 20, size: solid.Vec{X: 10, Y: 10, Z: 20}},
		{name: "crossed rods of one size", a: d10, pa: axial(10, solid.Vec{Z: -50}, z), b: d10, pb: axial(10, solid.Vec{X: -50}, solid.Vec{X: 1}), want: 16.0 / 3 * 125}, // Steinmetz's solid
		{name: "apart", a: cube, pa: solid.Stay, b: cube, pb: moved(11, 0, 0)},
		{name: "face on face", a: cube, pa: solid.Stay, b: cube, pb: moved(10, 3, 2)},
		{name: "face on face, turned", a: cube, pa: solid.Turned(z, 0.3), b: cube, pb: moved(10, 3, 2).Then(solid.Turned(z, 0.3))},
		{name: "rod in a bore that fits", a: pipe(t, 30, 10, 20), pa: solid.Stay, b: d10, pb: axial(10, solid.Vec{X: 15, Y: 15, Z: -40}, z)},
		{name: "rod in a bore with play", a: pipe(t, 30, 10.004, 20), pa: solid.Stay, b: d10, pb: axial(10, solid.Vec{X: 15, Y: 15, Z: -40}, z)},
		{name: "in the hollow", a: pipe(t, 30, 20, 20), pa: solid.Stay, b: cube, pb: moved(10, 10, 5)},
	} {
		t.Run(c.name, func(t *testing.T) {
			v, where := Overlap(c.a, c.pa, c.b, c.pb)
			if math.Abs(v-c.want) > 1e-6*c.want {
				t.Errorf("overlap is %.9g, want %.9g", v, c.want)
			}
			if back, _ := Overlap(c.b, c.pb, c.a, c.pa); math.Abs(v-back) > 1e-6*v {
				t.Errorf("overlap is %.9g one way, %.9g the other", v, back)
			}
			if where.Empty() != (c.want == 0) {
				t.Errorf("box is %v", where)
			}
			if c.size != (solid.Vec{}) && where.Size().Dist(c.size) > 1e-6 {
				t.Errorf("box measures %v, want %v", where.Size(), c.size)
			}
		})
	}
}

// TestOverlapSampled counts points in both bodies, at random places.
func TestOverlapSampled(t *testing.T) {
	r := rand.New(rand.NewSource(9))
	const points = 4000
	met := 0
	for i := range 25 {
		a, b := anyBody(t, r), anyBody(t, r)
		pa, pb := anyPlace(r, 4), anyPlace(r, 10)
		v, where := Overlap(a, pa, b, pb)
		around := a.Solid.BoxUnder(pa)
		size := around.Size()
		full := size.X * size.Y * size.Z
		inside := 0
		for range points {
			p := around.Min.Add(solid.Vec{X: size.X * r.Float64(), Y: size.Y * r.Float64(), Z: size.Z * r.Float64()})
			if a.Solid.Contains(pa.Inverse().Point(p)) && b.Solid.Contains(pb.Inverse().Point(p)) {
				inside++
				if !where.Grow(1e-6).Holds(p) {
					t.Fatalf("%d: common point %v is outside the box %v", i, p, where)
				}
			}
		}
		share := v / full
		if got := float64(inside) / points; math.Abs(got-share) > 5*math.Sqrt(max(share, 1.0/points)/points) {
			t.Errorf("%d: overlap is %.4g of the box, points say %.4g", i, share, got)
		}
		if inside > 0 {
			met++
		}
	}
	if met < 8 {
		t.Errorf("only %d pairs met", met)
	}
}

// TestCounted: the way out where an intersection cannot be worked out.
func TestCounted(t *testing.T) {
	c := newMeeting(box(t, 10, 10, 10), solid.Stay, rod(t, 6, 20), moved(2, 2, 4)).counted()
	if want := math.Pi * 9 * 6; math.Abs(c.volume-want) > 0.02*want {
		t.Errorf("counted %g, want about %g", c.volume, want)
	}
}

// TestPairs compares with trying all.
func TestPairs(t *testing.T) {
	r := rand.New(rand.NewSource(3))
	var bodies []Placed
	for range 120 {
		bodies = append(bodies, Placed{anyBody(t, r), anyPlace(r, 120)})
	}
	bodies = append(bodies, Placed{New(&solid.Solid{}), solid.Stay})
	for _, within := range []float64{0, 5} {
		got := Pairs(bodies, within)
		seen := map[[2]int]bool{}
		for k, p := range got {
			if p[0] >= p[1] || k > 0 && !(got[k-1][0] < p[0] || got[k-1][0] == p[0] && got[k-1][1] < p[1]) {
				t.Fatalf("pair %v is out of order", p)
			}
			seen[p] = true
		}
		for i := range bodies {
			for j := i + 1; j < len(bodies); j++ {
				a, b := bodies[i].Body.boxUnder(bodies[i].At), bodies[j].Body.boxUnder(bodies[j].At)
				near := !a.Empty() && !b.Empty() && a.Grow(within/2).Meets(b.Grow(within/2))
				if near != seen[[2]int{i, j}] {
					t.Errorf("within %g: pair %d %d is given %v, should be %v", within, i, j, !near, near)
				}
			}
		}
		if len(got) == 0 {
			t.Error("no pairs at all")
		}
	}
}

// TestBoxUnder: the box from the triangles holds the exact one, and little more.
func TestBoxUnder(t *testing.T) {
	r := rand.New(rand.NewSource(4))
	for range 30 {
		b, p := anyBody(t, r), anyPlace(r, 50)
		got, want := b.boxUnder(p), b.Solid.BoxUnder(p)
		if !got.Grow(1e-9).Holds(want.Min) || !got.Grow(1e-9).Holds(want.Max) || got.Size().Dist(want.Size()) > 4*b.stray+1e-9 {
			t.Errorf("box is %v, the exact one %v", got, want)
		}
	}
}
