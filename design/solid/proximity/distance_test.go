package proximity

import (
	"math"
	"math/rand"
	"testing"

	"plansheaf/design/solid"
)

// TestDistance compares with closed forms.
func TestDistance(t *testing.T) {
	x, y, z := solid.Vec{X: 1}, solid.Vec{Y: 1}, solid.Vec{Z: 1}
	cube := box(t, 10, 10, 10)
	d10, d6 := rod(t, 10, 100), rod(t, 6, 100)
	tilted := solid.TurnedAt(solid.Vec{}, y, 45*degree)
	for _, c := range []struct {
		name string
		a    *Body
		pa   solid.Placement
		b    *Body
		pb   solid.Placement
		want float64
	}{
		{name: "boxes face to face", a: cube, pa: solid.Stay, b: cube, pb: moved(13, 2, 3), want: 3},
		{name: "boxes edge to edge", a: cube, pa: solid.Stay, b: cube, pb: moved(13, 14, 3), want: 5},
		{name: "boxes corner to corner", a: cube, pa: solid.Stay, b: cube, pb: moved(12, 13, 16), want: 7},
		// Stood on an edge, 10 mm high above its lowest one.
		{name: "edge over face", a: cube, pa: solid.Stay, b: cube, pb: tilted.Then(moved(-3, 0, 10+4+10*math.Sqrt2/2)), want: 4},
		{name: "corner over face", a: cube, pa: solid.Stay, b: cube, pb: solid.Turned(solid.Vec{X: 1, Y: -1}, math.Acos(1/math.Sqrt(3))).Then(moved(5, 5, 12)), want: 2},
		{name: "crossed edges", a: cube, pa: tilted.Then(moved(0, -5, -5*math.Sqrt2)), b: cube, pb: solid.Turned(x, 45*degree).Then(moved(0, 0, 7)), want: 7},
		{name: "crossed rods", a: d10, pa: axial(10, solid.Vec{X: -50}, x), b: d6, pb: axial(6, solid.Vec{Y: -40, Z: 20}, y), want: 20 - 5 - 3},
		{name: "crossed rods at an angle", a: d10, pa: axial(10, solid.Vec{X: -50}, x), b: d6, pb: axial(6, solid.Vec{X: -30, Y: -30, Z: 8.5}, solid.Vec{X: 1, Y: 1}), want: 0.5},
		{name: "parallel rods", a: d10, pa: axial(10, solid.Vec{}, z), b: d6, pb: axial(6, solid.Vec{X: 9, Y: 12, Z: 30}, z), want: 15 - 8},
		{name: "rod over face", a: cube, pa: solid.Stay, b: d6, pb: axial(6, solid.Vec{X: -30, Y: 5, Z: 13.01}, x), want: 0.01},
		{name: "slanted rod's rim over face", a: box(t, 200, 200, 10), pa: moved(-100, -100, -10), b: d6, pb: axial(6, solid.Vec{Z: 20}, solid.Vec{X: 1, Z: 1}), want: 20 - 3*math.Sqrt2/2},
		{name: "shaft in a bore", a: pipe(t, 20, 10.02, 40), pa: solid.Stay, b: d10, pb: moved(5, 5, -30), want: 0.01},
		{name: "shaft off the middle of a bore", a: pipe(t, 20, 10.5, 40), pa: solid.Stay, b: d10, pb: moved(5.2, 5, -30), want: 0.05},
		{name: "cone's tip over face", a: cube, pa: moved(-5, -5, 12), b: cone(t, 10, 0, 8), pb: moved(-5, -5, 0), want: 4},
		{name: "cone's side beside a rod", a: cone(t, 20, 0, 20), pa: moved(-10, -10, 0), b: d10, pb: axial(10, solid.Vec{X: 20, Y: -50, Z: 20}, y), want: 40/math.Sqrt(5) - 5},
		{name: "rim to rim", a: d10, pa: axial(10, solid.Vec{Z: -100}, z), b: d6, pb: axial(6, solid.Vec{X: 11, Z: 4}, z), want: 5},
		{name: "a ball's worth apart in the bore of a tube", a: pipe(t, 100, 80, 30), pa: moved(-50, -50, 0), b: cube, pb: moved(-5, -5, 10), want: 40 - math.Sqrt(50)},
		{name: "one within the other", a: box(t, 30, 30, 30), pa: solid.Stay, b: cube, pb: moved(10, 10, 10), want: 0},
		{name: "touching faces", a: cube, pa: solid.Stay, b: cube, pb: moved(10, 3, 3), want: 0},
		{name: "touching edges", a: cube, pa: solid.Stay, b: cube, pb: moved(10, 10, 3), want: 0},
		{name: "rod lying on a face", a: cube, pa: solid.Stay, b: d6, pb: axial(6, solid.Vec{X: -30, Y: 5, Z: 13}, x), want: 0},
		{name: "shaft that fits tight", a: pipe(t, 20, 10, 40), pa: solid.Stay, b: d10, pb: moved(5, 5, -30), want: 0},
		{name: "overlapping by little", a: cube, pa: solid.Stay, b: cube, pb: moved(9.99, 3, 3), want: 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, at := Distance(c.a, c.pa, c.b, c.pb)
			if math.Abs(d-c.want) > 1e-8 {
				t.Errorf("distance is %.12g, want %.12g at %v", d, c.want, at)
			}
			if math.Abs(at[0].Dist(at[1])-d) > 1e-8 {
				t.Errorf("the points are %.12g apart", at[0].Dist(at[1]))
			}
			if pa, pb := c.pa.Inverse().Point(at[0]), c.pb.Inverse().Point(at[1]); d > 0 && (c.a.Solid.Where(pa) != solid.OnFace || c.b.Solid.Where(pb) != solid.OnFace) {
				t.Errorf("points %v are not on the bodies", at)
			}
		})
	}
}

// TestSlantedFacesInOnePlane: faces that lie slanted in one plane, side by side, do not
// run through each other, whichever way rounding takes them off it.
func TestSlantedFacesInOnePlane(t *testing.T) {
	slotted := solid.Slotted{W: 30, H: 30, Slot: 8, Lip: 2, Depth: 9.2, Pocket: 16, Core: 6.8}
	for _, c := range []struct {
		lies  solid.Axis
		long  string
		aside solid.Vec
	}{
		{solid.AxisX, "top", solid.Vec{Y: 50}},
		{solid.AxisX, "bottom", solid.Vec{Y: 50}},
		{solid.AxisY, "right", solid.Vec{Z: 50}},
		{solid.AxisZ, "left", solid.Vec{Y: 50}},
	} {
		bar, err := solid.Build(solid.Shape{Base: solid.Bar{Section: slotted, Length: 400, Lies: c.lies, Start: solid.Mitre{Angle: 45 * degree, Long: c.long}}})
		if err != nil {
			t.Fatal(err)
		}
		b := New(bar)
		if d, at := Distance(b, solid.Stay, b, solid.Moved(c.aside)); math.Abs(d-20) > 1e-8 {
			t.Errorf("along %v, mitred from %s: %g mm apart at %v, want 20", c.lies, c.long, d, at)
		}
	}
}

// TestDistanceProperties: the same both ways round and wherever both stand
// together; what trying all pairs of triangles gives, as near as these stand for
// the faces; nothing just where the bodies overlap. Moved by almost the distance
// towards the other, a body still overlaps nothing; moved further it meets it.
func TestDistanceProperties(t *testing.T) {
	r := rand.New(rand.NewSource(5))
	apart, met := 0, 0
	for i := range 80 {
		a, b := anyBody(t, r), anyBody(t, r)
		pa, pb := anyPlace(r, 4), anyPlace(r, 18)
		d, at := Distance(a, pa, b, pb)
		back, _ := Distance(b, pb, a, pa)
		if math.Abs(d-back) > 1e-7 {
			t.Errorf("%d: %.10g one way, %.10g the other", i, d, back)
		}
		both := anyPlace(r, 100)
		if turned, _ := Distance(a, pa.Then(both), b, pb.Then(both)); math.Abs(d-turned) > 1e-7 {
			t.Errorf("%d: %.10g, both moved %.10g", i, d, turned)
		}
		v, _ := Overlap(a, pa, b, pb)
		if v > 0 != (d == 0) {
			t.Errorf("%d: distance %g and overlap %g", i, d, v)
		}
		if d == 0 {
			met++
			continue
		}
		apart++
		if s := sampled(a, pa, b, pb); math.Abs(d-s) > a.stray+b.stray+1e-9 {
			t.Errorf("%d: distance %.10g, all pairs of triangles come to %.10g", i, d, s)
		}
		way := at[0].Sub(at[1]).Unit()
		if v, _ := Overlap(a, pa, b, pb.Then(solid.Moved(way.Mul(d-1e-4)))); v > 0 {
			t.Errorf("%d: overlap of %g after moving almost the distance", i, v)
		}
		if x, _ := Distance(a, pa, b, pb.Then(solid.Moved(way.Mul(d+0.05)))); x > 0 {
			t.Errorf("%d: still %g apart after moving past the distance", i, x)
		}
	}
	if apart < 15 || met < 12 {
		t.Errorf("%d pairs apart, %d met: the cases say little", apart, met)
	}
}

// sampled returns the least distance of the triangles by trying all.
func sampled(a *Body, pa solid.Placement, b *Body, pb solid.Placement) float64 {
	best := math.Inf(1)
	for i := range a.triangles {
		t := a.triangles[i].placed(pa)
		for j := range b.triangles {
			u := b.triangles[j].placed(pb)
			if d, _, _ := apart(&t, &u); d < best {
				best = d
			}
		}
	}
	return best
}
