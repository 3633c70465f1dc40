package proximity

import (
	"math"
	"math/rand"
	"testing"

	"plansheaf/design/solid"
)

// TestSlideAgainstSweep compares with the sweep by small steps, which finds it by
// another way: both stop at the same place, but for what the sweep's triangles are
// still apart when it counts them as met.
func TestSlideAgainstSweep(t *testing.T) {
	r := rand.New(rand.NewSource(22))
	const depth = 0.3
	hits, passes, within := 0, 0, 0
	for i := range 300 {
		a, b := anyBody(t, r), anyBody(t, r)
		from, pb := anyPlace(r, 40), anyPlace(r, 10)
		if i%3 == 0 { // faces that look along the way and square to it
			from, pb = moved(math.Floor(20*r.Float64())-10, math.Floor(20*r.Float64())-10, -20*r.Float64()), moved(0, 0, 0)
		}
		way := from.Point(a.Solid.Box().Centre()).Mul(-1).Unit()
		if i%3 == 0 {
			way = solid.Vec{Z: 1}
		}
		const reach = 60.0
		got := Slide(a, from, way, reach, b, pb, depth)
		hit, met := Sweep(a, from, []Motion{{Slide: way.Mul(reach)}}, b, pb, depth)
		want := math.Inf(1)
		switch {
		case met && hit.T == 0:
			within++
			want = 0
		case met:
			hits++
			want = hit.T * reach
		default:
			passes++
		}
		if math.IsInf(got, 1) != math.IsInf(want, 1) {
			// Corners that graze each other by less than the sweep's last step.
			if d := min(got, want); near(a, from, way, d, b, pb) > depth {
				t.Errorf("%d: slides %g, sweeps %g", i, got, want)
			}
			continue
		}
		if met && (got < want-1e-6 || near(a, from, way, got, b, pb) > depth) {
			t.Errorf("%d: slides %g, sweeps %g", i, got, want)
		}
	}
	if hits < 60 || passes < 30 || within < 10 {
		t.Errorf("%d hits, %d passes, %d begin within: the cases say little", hits, passes, within)
	}
}

// near is the distance of two bodies once the one has slid.
func near(a *Body, from solid.Placement, way solid.Vec, by float64, b *Body, pb solid.Placement) float64 {
	d, _ := Distance(a, from.Then(solid.Moved(way.Mul(by))), b, pb)
	return d
}

// TestSlide compares with closed forms.
func TestSlide(t *testing.T) {
	const depth = 0.2
	up, along := solid.Vec{Z: 1}, solid.Vec{X: 1}
	cube, rail := box(t, 10, 10, 10), box(t, 400, 10, 10)
	pin, bush := rod(t, 10, 50), pipe(t, 30, 10, 30)
	for _, c := range []struct {
		name string
		a    *Body
		from solid.Placement
		way  solid.Vec
		b    *Body
		pb   solid.Placement
		free float64
	}{
		{"box against box", cube, solid.Stay, along, cube, moved(25, 3, 3), 15},
		{"box past box", cube, solid.Stay, along, cube, moved(25, 10, 3), math.Inf(1)},
		{"what lies behind", cube, solid.Stay, along, cube, moved(-25, 0, 0), math.Inf(1)},
		{"along the face that it touches", cube, moved(0, 0, 10), along, rail, solid.Stay, math.Inf(1)},
		{"lifted off", cube, moved(0, 0, 10), up, rail, solid.Stay, math.Inf(1)},
		{"pressed in", cube, moved(0, 0, 10), up.Mul(-1), rail, solid.Stay, 0},
		{"pin out of a bush that fits", pin, moved(10, 10, 0), up, bush, solid.Stay, math.Inf(1)},
		{"pin out of a bush with a lid", pin, moved(10, 10, -25), up, box(t, 30, 30, 4), moved(0, 0, 40), 15},
		{"through a hole narrower by little", rod(t, 10.5, 5), moved(9.75, 9.75, -10), up, bush, solid.Stay, 5},
		{"past a needle, thinner than lines are apart", box(t, 100, 100, 5), moved(-50, -50, 0), up, box(t, 0.5, 0.5, 20), moved(0, 0, 30), 25},
	} {
		got := Slide(c.a, c.from, c.way, 1000, c.b, c.pb, depth)
		if math.IsInf(c.free, 1) != math.IsInf(got, 1) || !math.IsInf(got, 1) && (got < c.free-1e-9 || got > c.free+depth) {
			t.Errorf("%s: free for %g mm, want %g", c.name, got, c.free)
		}
	}
	if got := Slide(cube, solid.Stay, along, 14, cube, moved(25, 3, 3), depth); !math.IsInf(got, 1) {
		t.Errorf("met after %g mm, but only 14 are looked at", got)
	}
}

func BenchmarkSlide(b *testing.B) {
	pin, bush := rod(b, 10, 50), pipe(b, 30, 10, 30)
	for b.Loop() {
		Slide(pin, moved(10, 10, 0), solid.Vec{Z: 1}, 100, bush, solid.Stay, 0.2)
	}
}
