package proximity

import (
	"math"
	"math/rand/v2"
	"testing"

	"plansheaf/design/solid"
)

// What leaves its hole within its steps is told free as by the triangles one by one;
// what does not is left to them.
func TestEnvelope(t *testing.T) {
	build := func(members ...solid.Member) *Body {
		s, err := solid.Build(solid.Shape{Base: solid.Group(members)})
		if err != nil {
			t.Fatal(err)
		}
		return New(s)
	}
	pin := build(
		solid.Member{Shape: solid.Rod{D: 5, L: 12}, Along: solid.AxisZ},
		solid.Member{Shape: solid.Rod{D: 9, L: 4}, Along: solid.AxisZ, At: solid.Vec{X: -2, Y: -2, Z: 12}},
	)
	plate := build(
		solid.Member{Shape: solid.Block{Size: solid.Vec{X: 40, Y: 40, Z: 12}}},
		solid.Member{Shape: solid.Rod{D: 5.5, L: 14}, Along: solid.AxisZ, At: solid.Vec{X: 17.25, Y: 17.25, Z: -1}, Cut: true},
		solid.Member{Shape: solid.Rod{D: 9.6, L: 14}, Along: solid.AxisZ, At: solid.Vec{X: 15.2, Y: 15.2, Z: 6}, Cut: true},
	)
	const depth = 0.2
	random := rand.New(rand.NewPCG(4, 9))
	clear, told := 0, 0
	for range 120 {
		// Where the pin stands in the hole, and now and then askew or in the plate.
		at := solid.Vec{X: 15.5 + 0.6*random.Float64() - 0.3, Y: 15.5 + 0.6*random.Float64() - 0.3, Z: -6 + random.Float64() - 0.3}
		from := solid.Moved(at)
		if random.IntN(3) == 0 {
			from = solid.TurnedAt(solid.Vec{X: 4.5, Y: 4.5}, solid.Vec{X: 1}, 0.2*random.Float64()).Then(from)
		}
		turn := solid.TurnedAt(solid.Vec{}, solid.Vec{X: random.Float64(), Y: random.Float64(), Z: 1}, 6*random.Float64())
		way := solid.Vec{Z: 1}
		if random.IntN(3) == 0 {
			way = from.Direction(way)
		}
		from, way, pb := from.Then(turn), turn.Direction(way), turn
		small, other := pin.smaller(depth*strayShare, depth*shrinkShare, depth*cornerShare), plate.finer(depth*strayShare)
		got := pin.envelope(small, from.Inverse().Direction(way)).clear(from, 100, other, pb)
		f := solid.FrameAlong(solid.Vec{}, way)
		onto := solid.Placement{Turn: [3]solid.Vec{f.X, f.Y, f.Z}}.Inverse()
		p := &passage{a: small.seen(from.Then(onto)), b: other.seen(pb.Then(onto)), free: 100}
		p.step(0, 0, p.a.box(0), p.b.box(0))
		free := p.free == 100 && !newSearch(small, other, pb.Then(from.Inverse())).crossed(0, 0)
		if got && !free {
			t.Errorf("the steps keep clear, the triangles meet after %g mm: pin %v, plate %v, way %v", p.free, from, pb, way)
		}
		if free {
			clear++
		}
		if got {
			told++
		}
	}
	if clear < 15 || told < clear/3 || clear > 105 {
		t.Errorf("of 120 ways %d are free, %d told by the steps: the cases say little", clear, told)
	}
	if free := Slide(pin, solid.Moved(solid.Vec{X: 15.5, Y: 15.5, Z: -6}), solid.Vec{Z: 1}, 100, plate, solid.Stay, depth); !math.IsInf(free, 1) {
		t.Errorf("a pin in its hole leaves by %g mm, want all along", free)
	}
}
