package view

import (
	"maps"
	"math"
	"slices"
	"testing"

	"plansheaf/design/solid"
)

// slottedBar is a length of slotted bar with eight cross holes.
func slottedBar(t testing.TB) *solid.Solid {
	return build(t, solid.Shape{
		Base:  solid.Bar{Section: solid.Slotted{W: 30, H: 60, Slot: 8, Lip: 2, Depth: 9.2, Pocket: 16, Core: 6.8}, Length: 440},
		Holes: []solid.Hole{{Name: "q", Face: "front", At: solid.Row(solid.Vec2{X: 30, Y: 15}, solid.Vec2{X: 50}, 8), D: 10, ThroughAll: true}},
	})
}

// drilledPlate is a plate with fifty holes.
func drilledPlate(t testing.TB) *solid.Solid {
	return build(t, solid.Shape{
		Base:  solid.Sheet{Outline: solid.RectangleOutline(500, 260), Thickness: 12},
		Holes: []solid.Hole{{Name: "q", At: solid.Grid(solid.Vec2{X: 25, Y: 30}, solid.Vec2{X: 50, Y: 50}, [2]int{10, 5}), D: 9}},
	})
}

// capScrew is a cylinder-head screw with a round socket.
func capScrew(t testing.TB) *solid.Solid {
	return build(t, solid.Shape{Base: solid.Group{
		{Shape: solid.Lathed{{D: 13, L: 8}, {D: 8, L: 20, Thread: &solid.Thread{Designation: "M8", Major: 8, Minor: 6.466, Pitch: 1.25}}}, Along: solid.AxisZ},
		{Shape: solid.Rod{D: 6, L: 4}, At: solid.Vec{X: 3.5, Y: 3.5}, Along: solid.AxisZ, Cut: true},
	}})
}

// frameOf is n slotted bars laid crosswise in layers with five screws each.
func frameOf(t testing.TB, n int) []Body {
	bar, screw := slottedBar(t), capScrew(t)
	var out []Body
	for i := range n {
		layer, row := i/10, i%10
		at := solid.Turned(solid.Vec{Z: 1}, float64(layer%2)*math.Pi/2)
		offset := solid.Vec{Y: float64(row) * 45}
		if layer%2 == 1 {
			offset = solid.Vec{X: float64(row)*45 + 30}
		}
		at.Move = offset.Add(solid.Vec{Z: float64(layer) * 60})
		out = append(out, Body{Solid: bar, At: at, Tag: "bar"})
		for k := range 5 {
			p := solid.Turned(solid.Vec{X: 1}, math.Pi)
			p.Move = solid.Vec{X: 20 + float64(k)*90, Y: 21.5, Z: 68}
			out = append(out, Body{Solid: screw, At: p.Then(at), Tag: "screw"})
		}
	}
	return out
}

// inFacets returns bodies each of whose solids is given as triangles, as a body
// read from a file is.
func inFacets(t testing.TB, bodies []Body, tolerance float64) (out []Body, triangles int) {
	t.Helper()
	type facets struct {
		solid *solid.Solid
		count int
	}
	made := map[*solid.Solid]facets{}
	for _, b := range bodies {
		f, ok := made[b.Solid]
		if !ok {
			m := b.Solid.Mesh(tolerance)
			f = facets{build(t, solid.Shape{Base: solid.Group{{Shape: solid.Facets{Vertices: m.Vertices, Triangles: m.Triangles}, Along: solid.AxisZ}}}), len(m.Triangles)}
			made[b.Solid] = f
		}
		b.Solid = f.solid
		out, triangles = append(out, b), triangles+f.count
	}
	return out, triangles
}

func benchmark(b *testing.B, bodies []Body, dir Direction, opt Options) {
	b.ReportAllocs()
	for b.Loop() {
		d, err := Project(bodies, dir, opt)
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(len(d.Lines)), "lines")
	}
}

func BenchmarkSlottedBar(b *testing.B) {
	benchmark(b, []Body{{Solid: slottedBar(b), At: solid.Stay}}, Front, Options{})
}

func BenchmarkPlate50Holes(b *testing.B) {
	benchmark(b, []Body{{Solid: drilledPlate(b), At: solid.Stay}}, Isometric, Options{})
}

func BenchmarkFrame25(b *testing.B) { benchmark(b, frameOf(b, 25), Isometric, Options{}) }

func BenchmarkFrame100(b *testing.B) { benchmark(b, frameOf(b, 100), Isometric, Options{}) }

func BenchmarkFrame100Visible(b *testing.B) {
	benchmark(b, frameOf(b, 100), Isometric, Options{VisibleOnly: true, Smallest: 1})
}

// Assemblies of 75 and 300 parts, a sixth of them bars, the rest screws: exact,
// and in about 350 triangles a part.
func BenchmarkExact75(b *testing.B)  { benchmark(b, frameOf(b, 75)[:75], Isometric, Options{}) }
func BenchmarkExact300(b *testing.B) { benchmark(b, frameOf(b, 75)[:300], Isometric, Options{}) }

func benchmarkFacets(b *testing.B, parts int, opt Options) {
	bodies, triangles := inFacets(b, frameOf(b, 75)[:parts], 0.25)
	b.ReportMetric(float64(triangles), "triangles")
	b.ResetTimer()
	benchmark(b, bodies, Isometric, opt)
	b.ReportMetric(float64(triangles), "triangles")
}

func BenchmarkFacets75(b *testing.B)         { benchmarkFacets(b, 75, Options{}) }
func BenchmarkFacets300(b *testing.B)        { benchmarkFacets(b, 300, Options{}) }
func BenchmarkFacets300Visible(b *testing.B) { benchmarkFacets(b, 300, Options{VisibleOnly: true}) }

// BenchmarkKernelCases draws the shapes of testdata/kernel/views_time.tcl, each
// from its seven directions.
func BenchmarkKernelCases(b *testing.B) {
	cases := kernelBodies(b)
	cases["plate50"] = []Body{{Solid: drilledPlate(b), At: solid.Stay}}
	rods := []Body{at(box(b, 300, 300, 10), 0, 0, 0)}
	one := rod(b, 12, 40, solid.AxisZ)
	for i := range 100 {
		rods = append(rods, at(one, 9+30*float64(i/10), 9+30*float64(i%10), 10))
	}
	cases["rods100"] = rods
	var dirs []Direction
	for _, v := range [][2]solid.Vec{
		{{X: 1, Y: -1, Z: 1}, {Z: 1}}, {{Y: -1}, {Z: 1}}, {{Y: 1}, {Z: 1}}, {{X: 1}, {Z: 1}}, {{Z: 1}, {Y: 1}},
		{{X: 0.3, Y: -0.8, Z: 0.5}, {Z: 1}}, {{X: -0.7, Y: -0.4, Z: -0.6}, {Z: 1}},
	} {
		dirs = append(dirs, mustLook(v[0], v[1]))
	}
	for _, name := range slices.Sorted(maps.Keys(cases)) {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				for _, dir := range dirs {
					project(b, cases[name], dir, Options{})
				}
			}
		})
	}
}
