package proximity

import (
	"math"
	"math/rand"
	"testing"

	"plansheaf/design/solid"
)

func slide(x, y, z float64) Motion { return Motion{Slide: solid.Vec{X: x, Y: y, Z: z}} }

// TestSweep compares with closed forms: where the way is free up to, and that
// touching on the way is no hit.
func TestSweep(t *testing.T) {
	y, z := solid.Vec{Y: 1}, solid.Vec{Z: 1}
	const depth = 0.2
	cube, rail := box(t, 10, 10, 10), box(t, 400, 10, 10)
	d10 := rod(t, 10, 50)
	full := 2 * math.Pi
	for _, c := range []struct {
		name  string
		a     *Body
		from  solid.Placement
		way   []Motion
		b     *Body
		pb    solid.Placement
		hit   bool
		index int
		free  float64 // mm or radians of the stretch
		whole float64 // of the stretch, in the same
		arm   float64 // mm from the line of the turn, 1 for a slide
	}{
		{name: "box against box", a: cube, from: solid.Stay, way: []Motion{slide(40, 0, 0)}, b: cube, pb: moved(25, 3, 3), hit: true, free: 15, whole: 40, arm: 1},
		{name: "box past box", a: cube, from: solid.Stay, way: []Motion{slide(40, 0, 0)}, b: cube, pb: moved(25, 10.001, 3)},
		{name: "along the face that it touches", a: cube, from: moved(0, 0, 10), way: []Motion{slide(390, 0, 0)}, b: rail, pb: solid.Stay},
		{name: "along the rail and off it", a: cube, from: moved(0, 0, 10), way: []Motion{slide(390, 0, 0), slide(50, 0, 0)}, b: rail, pb: solid.Stay},
		{name: "lifted off", a: cube, from: moved(0, 0, 10), way: []Motion{slide(0, 0, 30)}, b: rail, pb: solid.Stay},
		{name: "pressed in", a: cube, from: moved(0, 0, 10), way: []Motion{slide(0, 0, -1)}, b: rail, pb: solid.Stay, hit: true, free: 0, whole: 1, arm: 1},
		{name: "fast through a thin plate", a: cube, from: moved(0, 0, -500), way: []Motion{slide(0, 0, 1000)}, b: box(t, 100, 100, 0.5), pb: moved(-50, -50, 0), hit: true, free: 490, whole: 1000, arm: 1},
		{name: "on the second stretch", a: cube, from: solid.Stay, way: []Motion{slide(0, 0, 50), slide(0, 100, 0)}, b: rail, pb: moved(-200, 60, 52), hit: true, index: 1, free: 50, whole: 100, arm: 1},
		{name: "shaft into a bore with play", a: d10, from: axial(10, solid.Vec{Z: 60}, z), way: []Motion{slide(0, 0, -100)}, b: pipe(t, 30, 10.02, 30), pb: moved(-15, -15, 0)},
		{name: "shaft into a bore that fits", a: d10, from: axial(10, solid.Vec{Z: 60}, z), way: []Motion{slide(0, 0, -100)}, b: pipe(t, 30, 10, 30), pb: moved(-15, -15, 0)},
		{name: "shaft into a bore too narrow", a: d10, from: axial(10, solid.Vec{Z: 60}, z), way: []Motion{slide(0, 0, -100)}, b: pipe(t, 30, 9, 30), pb: moved(-15, -15, 0), hit: true, free: 30, whole: 100, arm: 1},
		{name: "shaft turning in a bore", a: d10, from: axial(10, solid.Vec{Z: 0}, z), way: []Motion{{About: z, Angle: full / 8}}, b: pipe(t, 30, 10.02, 30), pb: moved(-15, -15, 0)},
		{name: "screwed in", a: d10, from: axial(10, solid.Vec{Z: 40}, z), way: []Motion{{About: z, Angle: full / 4, Slide: solid.Vec{Z: -20}}}, b: pipe(t, 30, 10.1, 30), pb: moved(-15, -15, 0)},
		// An arm 100 mm long turns from along x towards y; its side meets the face of
		// a post that stands 60 mm out at half a right angle.
		{name: "arm against post", a: box(t, 100, 4, 10), from: moved(0, -4, 0), way: []Motion{{About: z, Angle: math.Pi}}, b: rod(t, 0.5, 10), pb: axial(0.5, solid.Vec{X: 60 / math.Sqrt2, Y: 60 / math.Sqrt2}, z), hit: true, free: math.Pi/4 - math.Asin(0.25/60), whole: math.Pi, arm: 60},
		{name: "arm over post", a: box(t, 100, 4, 10), from: moved(0, -4, 0), way: []Motion{{About: z, Angle: full}}, b: rod(t, 0.5, 10), pb: axial(0.5, solid.Vec{X: 42, Y: 42, Z: 10}, z)},
		{name: "lid on its hinge", a: box(t, 60, 40, 3), from: moved(0, 0, 20), way: []Motion{{At: solid.Vec{Z: 20}, About: y, Angle: -110 * degree}}, b: box(t, 60, 40, 20), pb: solid.Stay},
		{name: "begins within", a: box(t, 2, 2, 2), from: moved(4, 4, 4), way: []Motion{slide(1, 0, 0)}, b: cube, pb: solid.Stay, hit: true, free: 0, whole: 1, arm: 1},
		{name: "begins around", a: cube, from: solid.Stay, way: []Motion{slide(1, 0, 0)}, b: box(t, 2, 2, 2), pb: moved(4, 4, 4), hit: true, free: 0, whole: 1, arm: 1},
		{name: "stays in the hollow", a: cube, from: moved(-5, -5, 5), way: []Motion{slide(10, 0, 0)}, b: pipe(t, 60, 40, 30), pb: moved(-30, -30, 0)},
		{name: "no way at all", a: cube, from: solid.Stay, b: cube, pb: moved(10, 0, 0)},
	} {
		t.Run(c.name, func(t *testing.T) {
			h, found := Sweep(c.a, c.from, c.way, c.b, c.pb, depth)
			if found != c.hit || h.Unsure {
				t.Fatalf("found %v (%+v), want %v", found, h, c.hit)
			}
			if !found {
				return
			}
			if gone := h.T * c.whole; h.Motion != c.index || gone < c.free-1e-9 || (gone-c.free)*c.arm > depth {
				t.Errorf("free for %g on stretch %d, want %g on %d, up to %g mm more", gone, h.Motion, c.free, c.index, depth)
			}
		})
	}
}

// TestSweepAgainstSteps goes along random ways in small steps. Wherever a sampled
// place of the one body lies deeper in the other than the depth, the sweep must
// have stopped before; where it stops, the bodies are together.
func TestSweepAgainstSteps(t *testing.T) {
	r := rand.New(rand.NewSource(21))
	const depth = 0.3
	hits, passes := 0, 0
	for i := range 40 {
		a, b := anyBody(t, r), anyBody(t, r)
		from, pb := anyPlace(r, 40), anyPlace(r, 10)
		m := Motion{Slide: from.Point(a.Solid.Box().Centre()).Mul(-2 * r.Float64())}
		if i%2 == 0 {
			m.At, m.About, m.Angle = anyPlace(r, 20).Move, anyPlace(r, 1).Turn[0], 4*r.Float64()
		}
		h, found := Sweep(a, from, []Motion{m}, b, pb, depth)
		if h.Unsure {
			t.Errorf("%d: given up", i)
		}
		limit := 1.0
		if found {
			hits++
			limit = h.T - 1e-9 // below 0 where the way begins within
			if d, _ := Distance(a, m.Place(from, h.T), b, pb); d > depth {
				t.Errorf("%d: stops %g mm apart", i, d)
			}
		} else {
			passes++
		}
		inner := points(b, r)
		for k := 0; k <= 100 && limit > 0; k++ {
			at := m.Place(from, limit*float64(k)/100)
			for _, p := range inner {
				q := at.Inverse().Point(pb.Point(p))
				if a.Solid.Where(q) == solid.Inside && clearance(a, q) > depth+a.stray {
					t.Fatalf("%d: overlap of more than %g at %g of %+v, said to be free up to %g", i, depth, limit*float64(k)/100, m, limit)
				}
			}
		}
	}
	if hits < 10 || passes < 6 {
		t.Errorf("%d hits, %d passes: the cases say little", hits, passes)
	}
}

// points returns places within a body and on its boundary.
func points(b *Body, r *rand.Rand) []solid.Vec {
	var out []solid.Vec
	box := b.Solid.Box()
	size := box.Size()
	for len(out) < 40 {
		p := box.Min.Add(solid.Vec{X: size.X * r.Float64(), Y: size.Y * r.Float64(), Z: size.Z * r.Float64()})
		if b.Solid.Where(p) == solid.Inside {
			out = append(out, p)
		}
	}
	for i := range b.triangles {
		out = append(out, b.triangles[i][0])
	}
	return out
}

// clearance is how far a point is from a body's triangles.
func clearance(b *Body, p solid.Vec) float64 {
	best := math.Inf(1)
	for i := range b.triangles {
		best = min(best, b.triangles[i].nearest(p).Dist(p))
	}
	return best
}
