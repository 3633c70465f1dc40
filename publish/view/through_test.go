package view

import (
	"math"
	"math/rand/v2"
	"testing"

	"plansheaf/design/solid"
)

// TestRunIntoEachOther: where bodies run into each other the curve in which they
// meet is drawn, once. Lengths worked out by hand.
func TestRunIntoEachOther(t *testing.T) {
	iso, rim := math.Sqrt(2.0/3), ellipse(4, 4*math.Sqrt(1.0/3))
	plate := at(box(t, 200, 200, 10), 0, 0, 0)
	drilled := at(box(t, 200, 200, 10, solid.Hole{Name: "h", At: []solid.Vec2{{X: 100, Y: 100}}, D: 6}), 0, 0, 0)
	stud := at(rod(t, 8, 30, solid.AxisZ), 96, 96, 2) // 22 mm stand out
	cases := []struct {
		name    string
		bodies  []Body
		dir     Direction
		visible float64
	}{
		// The stud's end all round, its outlines, the near half of where it enters.
		{name: "stud in a plate", bodies: []Body{plate, stud}, dir: Isometric, visible: (6*200+3*10)*iso + 44*iso + rim*3/2},
		{name: "stud in too small a hole", bodies: []Body{drilled, stud}, dir: Isometric, visible: (6*200+3*10)*iso + 44*iso + rim*3/2},
		{name: "from the front", bodies: []Body{plate, stud}, dir: Front, visible: 420 + 44 + 8},
		{name: "from above", bodies: []Body{drilled, stud}, dir: Top, visible: 800 + 8*math.Pi},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if got := project(t, c.bodies, c.dir, Options{}).Length(true); math.Abs(got-c.visible) > 1e-6 {
				t.Errorf("%.6f mm seen, want %.6f", got, c.visible)
			}
		})
	}
}

// TestAsTheUnion: what is seen of two bodies that run into each other is what is
// seen of them made one. Their faces nowhere coincide, where a joint would show.
func TestAsTheUnion(t *testing.T) {
	compared := 0
	for seed := range uint64(120) {
		r := rand.New(rand.NewPCG(seed, 23))
		a, b := randomSolid(r), randomSolid(r)
		place := solid.Turned(solid.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: 1}, r.Float64())
		place.Move = solid.Vec{X: r.Float64() * 20, Y: r.Float64() * 20, Z: r.Float64() * 20}
		one, err := solid.Union(a, b.Placed(place))
		if err != nil || one.Check() != nil {
			continue
		}
		compared++
		dir := randomDirection(r)
		both := project(t, []Body{{Solid: a, At: solid.Stay}, {Solid: b, At: place}}, dir, Options{VisibleOnly: true, NoThreads: true})
		whole := project(t, []Body{{Solid: one, At: solid.Stay}}, dir, Options{VisibleOnly: true, NoThreads: true})
		if g, w := both.Length(true), whole.Length(true); math.Abs(g-w) > 1e-4*w {
			t.Errorf("seed %d: %.5f mm seen of two bodies, %.5f of them made one", seed, g, w)
		}
	}
	if compared < 100 {
		t.Errorf("only %d pairs could be compared", compared)
	}
}
