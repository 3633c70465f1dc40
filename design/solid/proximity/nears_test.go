package proximity

import (
	"math"
	"math/rand"
	"testing"

	"plansheaf/design/solid"
)

// TestNears compares with closed forms: what slides past at a distance, rises to it and
// turns by it.
func TestNears(t *testing.T) {
	cube, rail := box(t, 10, 10, 10), box(t, 400, 10, 10)
	z := solid.Vec{Z: 1}
	for _, c := range []struct {
		name   string
		a      *Body
		from   solid.Placement
		way    Motion
		b      *Body
		pb     solid.Placement
		within float64
		free   float64 // share of the way; NaN where they come no nearer
	}{
		{name: "along a rail", a: cube, from: moved(0, 0, 12), way: slide(390, 0, 0), b: rail, pb: solid.Stay, within: 1.95, free: math.NaN()},
		{name: "along a rail nearer than that", a: cube, from: moved(0, 0, 12), way: slide(390, 0, 0), b: rail, pb: solid.Stay, within: 2.01, free: 0},
		{name: "down to a rail", a: cube, from: moved(0, 0, 60), way: slide(0, 0, -49), b: rail, pb: solid.Stay, within: 3, free: 47.0 / 49},
		{name: "past a corner", a: cube, from: moved(-50, 14, 13), way: slide(500, 0, 0), b: rail, pb: solid.Stay, within: 4.95, free: math.NaN()},
		// The corner of the square bar goes round 5 times the root of 2 from its axis.
		{name: "a square bar turns beside a plate", a: cube, from: moved(-5, -5, 0), way: Motion{About: z, Angle: math.Pi / 4}, b: rail, pb: moved(-200, 7.1, 0), within: 1, free: (math.Pi/4 - math.Acos(6.1/(5*math.Sqrt2))) / (math.Pi / 4)},
		{name: "a round bar turns in a bore", a: rod(t, 10, 50), from: axial(10, solid.Vec{}, z), way: Motion{About: z, Angle: 2 * math.Pi}, b: pipe(t, 30, 12, 30), pb: moved(-15, -15, 0), within: 0.94, free: math.NaN()},
	} {
		t.Run(c.name, func(t *testing.T) {
			h, found := Nears(c.a, c.from, []Motion{c.way}, c.b, c.pb, c.within)
			if found == math.IsNaN(c.free) {
				t.Fatalf("found %v: %+v", found, h)
			}
			if found && (h.T > c.free+1e-9 || h.T < c.free-0.02) {
				t.Errorf("free for %g, want %g", h.T, c.free)
			}
		})
	}
}

// TestNearsAgainstSteps goes along random ways in small steps: up to where Nears stops
// the bodies are as far apart as asked, and there no further than it says.
func TestNearsAgainstSteps(t *testing.T) {
	r := rand.New(rand.NewSource(3))
	found, free := 0, 0
	for range 200 {
		a, b := anyBody(t, r), anyBody(t, r)
		from, pb := anyPlace(r, 40), anyPlace(r, 40)
		m := Motion{Slide: solid.Vec{X: 60*r.Float64() - 30, Y: 60*r.Float64() - 30, Z: 60*r.Float64() - 30}, About: solid.Vec{X: r.Float64(), Y: 1, Z: r.Float64()}, At: solid.Vec{X: 10 * r.Float64()}, Angle: 3 * r.Float64()}
		within := 0.1 + 8*r.Float64()
		if d, _ := Distance(a, from, b, pb); d < within {
			continue
		}
		h, hit := Nears(a, from, []Motion{m}, b, pb, within)
		end := 1.0
		if hit {
			end = h.T
			found++
			if d, _ := Distance(a, m.Place(from, h.T), b, pb); d > within+Slack(a, b)+1e-6 {
				t.Errorf("stops %g apart, asked for %g", d, within)
			}
		} else {
			free++
		}
		for k := range 25 {
			if d, _ := Distance(a, m.Place(from, end*float64(k)/25), b, pb); d < within-1e-6 {
				t.Errorf("%g apart at %d of 25, asked for %g", d, k, within)
			}
		}
	}
	if found < 15 || free < 15 {
		t.Errorf("%d found, %d free: that says little", found, free)
	}
}
