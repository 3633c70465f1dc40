package solid

import (
	"fmt"
	"testing"
)

// BenchmarkBuild builds shapes as plans have them.
func BenchmarkBuild(b *testing.B) {
	row := func(face string, d float64) Hole {
		return Hole{Name: "a", Face: face, At: Row(Vec2{30, 15}, Vec2{50, 0}, 8), D: d, ThroughAll: true}
	}
	plain := Hole{Name: "a", At: Row(Vec2{30, 15}, Vec2{50, 0}, 8), D: 9}
	for _, bb := range []struct {
		name  string
		shape Shape
	}{
		{"plate with 8 holes", Shape{Base: Sheet{Outline: RectangleOutline(440, 60), Thickness: 10}, Holes: []Hole{plain}}},
		{"slotted bar", Shape{Base: Bar{Section: slotted30, Length: 440}}},
		{"slotted bar with 2 tapped ends", Shape{Base: Bar{Section: slotted30, Length: 440}, Holes: []Hole{
			{Name: "a", Face: "left", At: []Vec2{{15, 15}}, D: 6.8, Depth: 25, Tip: 2}, {Name: "b", Face: "right", At: []Vec2{{15, 15}}, D: 6.8, Depth: 25, Tip: 2}}}},
		{"slotted bar with 8 holes through all", Shape{Base: Bar{Section: slotted30, Length: 440}, Holes: []Hole{row("front", 10)}}},
		{"double slotted bar with 8 holes through all", Shape{Base: Bar{Section: slotted60, Length: 440}, Holes: []Hole{row("front", 10)}}},
		{"tube with 8 holes through all", Shape{Base: Bar{Section: Tube{30, 3}, Length: 440}, Holes: []Hole{row("front", 8)}}},
		{"motor of three shapes", Shape{Base: Group{{Shape: Block{Vec{42, 42, 60}}}, {Shape: Rod{D: 22, L: 2}, At: Vec{10, 10, 60}, Along: AxisZ}, {Shape: Rod{D: 5, L: 22}, At: Vec{18.5, 18.5, 62}, Along: AxisZ}}}},
	} {
		b.Run(bb.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Build(bb.shape); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkPlate states how the time grows with the number of holes.
func BenchmarkPlate(b *testing.B) {
	for _, n := range []int{10, 40, 160} {
		b.Run(fmt.Sprintf("%d holes", n), func(b *testing.B) {
			shape := Shape{Base: Sheet{Outline: RectangleOutline(1000, 1000), Thickness: 10}, Holes: []Hole{
				{Name: "a", At: Grid(Vec2{20, 20}, Vec2{24, 60}, [2]int{n / 5, 5}), D: 8}}}
			for b.Loop() {
				if _, err := Build(shape); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkUse measures what is done with a solid, on a slotted bar with holes.
func BenchmarkUse(b *testing.B) {
	s := build(b, Bar{Section: slotted30, Length: 440}, Hole{Name: "a", Face: "front", At: Row(Vec2{30, 15}, Vec2{50, 0}, 8), D: 10, ThroughAll: true})
	b.Run("measure", func(b *testing.B) {
		for b.Loop() {
			s.Measure()
		}
	})
	b.Run("mesh", func(b *testing.B) {
		for b.Loop() {
			s.Mesh(0.05)
		}
	})
	b.Run("ray", func(b *testing.B) {
		for b.Loop() {
			s.Ray(Vec{50, -10, 14.2}, Vec{Y: 1, Z: 0.01})
		}
	})
	b.Run("where", func(b *testing.B) {
		for b.Loop() {
			s.Where(Vec{50, 12, 14.2})
		}
	})
	b.Run("placed", func(b *testing.B) {
		p := Turned(Vec{1, 2, 3}, 1)
		for b.Loop() {
			s.Placed(p)
		}
	})
}
