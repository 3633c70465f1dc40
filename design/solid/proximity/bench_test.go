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

// BenchmarkAssembly states how the time grows with the number of parts: bars in
// layers, each touching those beside and above it, all that may meet asked about.
func BenchmarkAssembly(b *testing.B) {
	bar := frame(b)
	for _, n := range []int{125, 1000} {
		var bodies []Placed
		side := 1
		for side*side*side < n {
			side++
		}
		for i := range n {
			bodies = append(bodies, Placed{bar, moved(float64(i%side)*450, float64(i/side%side)*31, float64(i/side/side)*30)})
		}
		b.Run(fmt.Sprintf("pairs of %d", n), func(b *testing.B) {
			for b.Loop() {
				Pairs(bodies, 0.1)
			}
		})
		b.Run(fmt.Sprintf("overlaps of %d", n), func(b *testing.B) {
			for b.Loop() {
				for _, p := range Pairs(bodies, 0.1) {
					Overlap(bodies[p[0]].Body, bodies[p[0]].At, bodies[p[1]].Body, bodies[p[1]].At)
				}
			}
		})
	}
}
