package proximity

import (
	"fmt"
	"testing"

	"plansheaf/design/solid"
)

// frame is a bar with a row of holes, as most parts of a machine are.
func frame(b *testing.B) *Body {
	s, err := solid.Build(solid.Shape{
		Base:  solid.Bar{Section: solid.Slotted{W: 30, H: 30, Slot: 8, Lip: 2, Depth: 9.2, Pocket: 16, Core: 6.8}, Length: 440},
		Holes: []solid.Hole{{Name: "a", Face: "front", At: solid.Row(solid.Vec2{X: 30, Y: 15}, solid.Vec2{X: 50}, 8), D: 10, ThroughAll: true}},
	})
	if err != nil {
		b.Fatal(err)
	}
	return New(s)
}

// BenchmarkNear asks about two slotted bars with holes.
func BenchmarkNear(b *testing.B) {
	bar := frame(b)
	away := solid.Turned(solid.Vec{X: 1, Y: 2, Z: 3}, 0.5).Then(moved(0, 80, 200))
	b.Run("prepare", func(b *testing.B) {
		for b.Loop() {
			New(bar.Solid)
		}
	})
	for _, c := range []struct {
		name string
		at   solid.Placement
	}{{"apart", away}, {"touching", moved(100, 30, 0)}, {"crossed and overlapping", solid.Turned(solid.Vec{Z: 1}, 1).Then(moved(100, -100, 5))}} {
		b.Run("distance "+c.name, func(b *testing.B) {
			for b.Loop() {
				Distance(bar, solid.Stay, bar, c.at)
			}
		})
	}
	b.Run("overlap touching", func(b *testing.B) {
		for b.Loop() {
			Overlap(bar, solid.Stay, bar, moved(100, 30, 0))
		}
	})
	b.Run("sweep along", func(b *testing.B) {
		for b.Loop() {
			Sweep(bar, moved(100, 30, 0), []Motion{slide(400, 0, 0)}, bar, solid.Stay, 0.2)
		}
	})
	b.Run("sweep turning", func(b *testing.B) {
		for b.Loop() {
			Sweep(bar, away, []Motion{{About: solid.Vec{Z: 1}, Angle: 1}}, bar, solid.Stay, 0.2)
		}
	})
}

// benchFrame lays out a frame of n parts, as machines have them: bays of two posts
// of slotted bar, two plates screwed to them, and six cap screws with washers'
// play, whose threads overlap the plates' tapped holes or hang free in bores.
func benchFrame(b *testing.B, n int) []Placed {
	b.Helper()
	post := frame(b)
	sheet := func(hole solid.Hole) *Body {
		s, err := solid.Build(solid.Shape{Base: solid.Sheet{Outline: solid.RectangleOutline(200, 60), Thickness: 8}, Holes: []solid.Hole{hole}})
		if err != nil {
			b.Fatal(err)
		}
		return New(s)
	}
	at := solid.Grid(solid.Vec2{X: 15, Y: 15}, solid.Vec2{X: 85, Y: 30}, [2]int{3, 2})
	upper := sheet(solid.Hole{Name: "a", At: at, D: 9, Countersink: &solid.Countersink{D: 17, Angle: 90 * degree}})
	lower := sheet(solid.Hole{Name: "a", At: at, Kind: solid.Tapped, D: 6.8})
	screw := build(b, solid.Member{Shape: solid.Lathed{{D: 8, L: 12}, {D: 8, To: 16, L: 4}}, Along: solid.AxisZ})
	var out []Placed
	for bay := 0; len(out) < n; bay++ {
		// Ten bays a storey; posts lie along x, side by side in y, plates on them.
		o := moved(float64(bay%5)*460, float64(bay/5%4)*70, float64(bay/20)*60)
		for _, p := range []Placed{
			{post, solid.Stay}, {post, moved(0, 30, 0)},
			{lower, moved(20, 0, 30)}, {upper, moved(20, 0, 38)},
		} {
			out = append(out, Placed{p.Body, p.At.Then(o)})
		}
		for _, c := range at {
			out = append(out, Placed{screw, moved(20+c.X-8, c.Y-8, 30).Then(o)})
		}
	}
	return out[:n]
}

// BenchmarkAssembly states how the time grows with the number of parts of a frame:
// all pairs that come within a millimetre, their distances, overlaps and depths, and
// for every part whether it is clear, a slide out of its place, and a turn of a tool.
func BenchmarkAssembly(b *testing.B) {
	for _, n := range []int{250, 1000} {
		bodies := benchFrame(b, n)
		pairs := Pairs(bodies, 1)
		scene := &Scene{}
		for _, p := range bodies {
			scene.Add(p)
		}
		run := func(name string, work func()) {
			b.Run(fmt.Sprintf("%s of %d", name, n), func(b *testing.B) {
				for b.Loop() {
					work()
				}
				b.ReportMetric(float64(len(pairs)), "pairs")
			})
		}
		each := func(ask func(a, b Placed)) func() {
			return func() {
				for _, p := range pairs {
					ask(bodies[p[0]], bodies[p[1]])
				}
			}
		}
		run("pairs", func() { Pairs(bodies, 1) })
		run("scene and its pairs", func() {
			s := &Scene{}
			for _, p := range bodies {
				s.Add(p)
			}
			s.Pairs(1)
		})
		run("distances", each(func(a, b Placed) { Distance(a.Body, a.At, b.Body, b.At) }))
		run("overlaps", each(func(a, b Placed) { Overlap(a.Body, a.At, b.Body, b.At) }))
		run("depths", each(func(a, b Placed) { Depth(a.Body, a.At, b.Body, b.At) }))
		run("clear or not", each(func(a, b Placed) { Clear(a.Body, a.At, b.Body, b.At, -0.01) }))
		run("slides", func() {
			for i, p := range bodies {
				scene.Sweep(p, []Motion{slide(0, 0, 20)}, 0.2, func(k int) bool { return k == i })
			}
		})
		key := build(b, solid.Member{Shape: solid.Block{Size: solid.Vec{X: 80, Y: 5, Z: 5}}})
		run("turns of a key", func() {
			for _, p := range bodies {
				c := p.At.Point(p.Body.Solid.Box().Centre()).Add(solid.Vec{Z: 40})
				scene.Sweep(Placed{key, moved(c.X, c.Y, c.Z)}, []Motion{{At: c, About: solid.Vec{Z: 1}, Angle: 60 * degree}}, 0.2, nil)
			}
		})
	}
}
