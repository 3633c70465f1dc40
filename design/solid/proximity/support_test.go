package proximity

import (
	"math"
	"math/rand"
	"testing"

	"plansheaf/design/solid"
)

func build(t testing.TB, members ...solid.Member) *Body {
	t.Helper()
	s, err := solid.Build(solid.Shape{Base: solid.Group(members)})
	if err != nil {
		t.Fatal(err)
	}
	return New(s)
}

// box and rod are bodies from the origin, the rod along z about its axis at
// d/2, d/2.
func box(t testing.TB, x, y, z float64) *Body {
	return build(t, solid.Member{Shape: solid.Block{Size: solid.Vec{X: x, Y: y, Z: z}}})
}

func rod(t testing.TB, d, l float64) *Body {
	return build(t, solid.Member{Shape: solid.Rod{D: d, L: l}, Along: solid.AxisZ})
}

func pipe(t testing.TB, d, bore, l float64) *Body {
	return build(t, solid.Member{Shape: solid.Pipe{D: d, Bore: bore, L: l}, Along: solid.AxisZ})
}

func cone(t testing.TB, d, to, l float64) *Body {
	return build(t, solid.Member{Shape: solid.Taper{D: d, To: to, L: l}, Along: solid.AxisZ})
}

func moved(x, y, z float64) solid.Placement { return solid.Moved(solid.Vec{X: x, Y: y, Z: z}) }

const degree = math.Pi / 180

// axial places a rod of diameter d (along z, its lowest corner at the origin) with
// its axis along dir and the middle of its first end at p.
func axial(d float64, p, dir solid.Vec) solid.Placement {
	f := solid.FrameAlong(p, dir)
	turn := solid.Placement{Turn: [3]solid.Vec{f.X, f.Y, f.Z}, Move: p}
	return moved(-d/2, -d/2, 0).Then(turn)
}

// anyPlace is a placement near the origin.
func anyPlace(r *rand.Rand, reach float64) solid.Placement {
	about := solid.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}
	return solid.Turned(about, r.Float64()*2*math.Pi).Then(moved((r.Float64()-0.5)*reach, (r.Float64()-0.5)*reach, (r.Float64()-0.5)*reach))
}

// anyBody is a box, rod, tube or cone of some 10 mm.
func anyBody(t testing.TB, r *rand.Rand) *Body {
	size := func() float64 { return 2 + math.Floor(r.Float64()*40)/4 }
	switch r.Intn(4) {
	case 0:
		return box(t, size(), size(), size())
	case 1:
		return rod(t, size(), size())
	case 2:
		d := size() + 2
		return pipe(t, d, d/2, size())
	}
	return cone(t, size(), size()*float64(r.Intn(2)), size())
}
