package proximity

import (
	"math"
	"math/rand"
	"testing"

	"plansheaf/design/solid"
)

// Lines beside, through and within a box and a cylinder, in closed form.
func TestLine(t *testing.T) {
	box, rod := box(t, 20, 10, 6), rod(t, 10, 40)
	at := func(x, y, z float64) solid.Vec { return solid.Vec{X: x, Y: y, Z: z} }
	for _, c := range []struct {
		name     string
		body     *Body
		from, to solid.Vec
		want     float64
	}{
		{name: "above a face", body: box, from: at(-5, 5, 9), to: at(25, 5, 9), want: 3},
		{name: "past an edge", body: box, from: at(-5, 13, 10), to: at(25, 13, 10), want: 5},
		{name: "ends before it", body: box, from: at(-9, 5, 3), to: at(-4, 5, 3), want: 4},
		{name: "right through", body: box, from: at(-5, 5, 3), to: at(25, 5, 3)},
		{name: "wholly within", body: box, from: at(5, 5, 3), to: at(15, 5, 3)},
		{name: "a point", body: box, from: at(10, 5, 8), to: at(10, 5, 8), want: 2},
		{name: "beside a round", body: rod, from: at(-5, 5, 20), to: at(-5, 5, 25), want: 5},
		{name: "across a round", body: rod, from: at(13, -20, 20), to: at(13, 30, 20), want: 3},
		{name: "farther off than asked", body: box, from: at(0, 0, 60), to: at(20, 0, 60), want: math.Inf(1)},
	} {
		for _, turn := range []solid.Placement{solid.Stay, solid.TurnedAt(at(3, 4, 5), at(1, 2, 3).Unit(), 1.1)} {
			got, on := Line(turn.Point(c.from), turn.Point(c.to), c.body, turn, 50)
			if math.Abs(got-c.want) > c.body.Stray()+1e-9 {
				t.Errorf("%s: %g, want %g", c.name, got, c.want)
			}
			if got > 0 && !math.IsInf(got, 1) && math.Abs(on[0].Dist(on[1])-got) > 1e-9 {
				t.Errorf("%s: %g, and its places lie %g apart", c.name, got, on[0].Dist(on[1]))
			}
		}
	}
}

// TestLineAgainstThinRod compares with the distance of a rod as thin as a hair.
func TestLineAgainstThinRod(t *testing.T) {
	r := rand.New(rand.NewSource(5))
	body := pipe(t, 30, 20, 25)
	for range 60 {
		point := func() solid.Vec {
			return solid.Vec{X: 90*r.Float64() - 30, Y: 90*r.Float64() - 30, Z: 60*r.Float64() - 20}
		}
		p, q := point(), point()
		const d = 0.02
		want, _ := Distance(rod(t, d, p.Dist(q)), axial(d, p, q.Sub(p)), body, solid.Stay)
		if got, _ := Line(p, q, body, solid.Stay, math.Inf(1)); math.Abs(max(0, got-d/2)-want) > d+body.Stray() {
			t.Errorf("from %v to %v: %g, a rod there is %g off", p, q, got, want)
		}
	}
}
