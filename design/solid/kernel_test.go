package solid

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"
)

const degree = math.Pi / 180

// kernelShapes are the shapes of testdata/kernel/shapes.tcl, in its order.
var kernelShapes = []struct {
	name string
	flat bool // no round faces: compared more closely
	make func(t *testing.T) *Solid
}{
	{"boxes_cut", true, func(t *testing.T) *Solid {
		return cutFrom(t, block(t, 0, 0, 0, 100, 60, 40), block(t, 50, 30, 20, 100, 60, 40))
	}},
	{"boxes_joined", true, func(t *testing.T) *Solid {
		return joinTo(t, block(t, 0, 0, 0, 100, 60, 40), block(t, 50, 30, 20, 100, 60, 40))
	}},
	{"prism", true, func(t *testing.T) *Solid {
		return build(t, Sheet{Outline: PolygonOutline([]Vec2{{0, 0}, {60, 0}, {80, 30}, {40, 25}, {10, 50}}), Thickness: 12})
	}},
	{"slotted_no_core", true, func(t *testing.T) *Solid {
		return build(t, Bar{Section: Slotted{W: 30, H: 30, Slot: 8, Lip: 2, Depth: 9.2, Pocket: 16}, Length: 200, Lies: AxisZ})
	}},
	{"plate_hole", false, func(t *testing.T) *Solid {
		return build(t, plate(10), Hole{Name: "a", At: []Vec2{{20, 30}}, D: 8})
	}},
	{"plate_three_holes", false, func(t *testing.T) *Solid {
		return build(t, plate(20),
			Hole{Name: "a", At: []Vec2{{20, 30}}, D: 9, Counterbore: &Counterbore{15, 8}},
			Hole{Name: "b", At: []Vec2{{50, 30}}, D: 8, Countersink: &Countersink{16, 90 * degree}},
			Hole{Name: "c", At: []Vec2{{80, 30}}, D: 6.8, Depth: 15, Tip: 118 * degree})
	}},
	{"plate_edge_holes", false, func(t *testing.T) *Solid {
		return build(t, plate(10),
			Hole{Name: "a", At: []Vec2{{0, 0}}, D: 10}, Hole{Name: "b", At: []Vec2{{100, 30}}, D: 12}, Hole{Name: "c", At: []Vec2{{50, 2}}, D: 8})
	}},
	{"plate_meeting_holes", false, func(t *testing.T) *Solid {
		return build(t, plate(20),
			Hole{Name: "a", At: []Vec2{{50, 30}}, D: 12}, Hole{Name: "b", Face: "left", At: []Vec2{{30, 10}}, D: 8, Depth: 59})
	}},
	{"plate_offset_holes", false, func(t *testing.T) *Solid {
		return build(t, plate(20),
			Hole{Name: "a", At: []Vec2{{50, 30}}, D: 12}, Hole{Name: "b", Face: "left", At: []Vec2{{33, 12}}, D: 8, ThroughAll: true})
	}},
	{"plate_sink_over_edge", false, func(t *testing.T) *Solid {
		return build(t, plate(10), Hole{Name: "a", At: []Vec2{{5, 30}}, D: 5, Countersink: &Countersink{12, 90 * degree}})
	}},
	{"plate_slot", false, func(t *testing.T) *Solid {
		return build(t, plate(10), Hole{Name: "a", At: []Vec2{{50, 30}}, Kind: Obround, D: 8, Long: 28, Counterbore: &Counterbore{12, 4}})
	}},
	{"plate_sunk_slot", false, func(t *testing.T) *Solid {
		return build(t, plate(10), Hole{Name: "a", At: []Vec2{{50, 30}}, Kind: Obround, D: 8, Long: 28, Countersink: &Countersink{14, 90 * degree}})
	}},
	{"plate_sunk_slot_over_edge", false, func(t *testing.T) *Solid {
		return build(t, plate(10), Hole{Name: "a", At: []Vec2{{50, 4.5}}, Kind: Obround, D: 8, Long: 28, Along: AxisX, Countersink: &Countersink{14, 90 * degree}})
	}},
	{"plate_sinks_meeting", false, func(t *testing.T) *Solid {
		return build(t, plate(20),
			Hole{Name: "a", At: []Vec2{{50, 30}}, D: 12, Countersink: &Countersink{24, 90 * degree}},
			Hole{Name: "b", Face: "left", At: []Vec2{{34, 15}}, D: 8, ThroughAll: true},
			Hole{Name: "c", Face: "front", At: []Vec2{{57, 9}}, D: 6, Depth: 40, Tip: 118 * degree, Counterbore: &Counterbore{11, 5}})
	}},
	{"tube_sunk_slot", false, func(t *testing.T) *Solid {
		return build(t, Bar{Section: Tube{30, 3}, Length: 100},
			Hole{Name: "a", At: []Vec2{{40, 15}}, Kind: Obround, D: 6, Long: 26, ThroughAll: true, Countersink: &Countersink{9, 90 * degree}})
	}},
	{"angle_sunk_holes", false, func(t *testing.T) *Solid {
		return build(t, Bar{Section: Angle{W: 40, H: 30, Wall: 5}, Length: 100},
			Hole{Name: "a", Face: "front", At: []Vec2{{30, 18}}, D: 6, Countersink: &Countersink{12, 90 * degree}},
			Hole{Name: "b", Face: "bottom", At: []Vec2{{60, 25}}, Kind: Obround, D: 6, Long: 16, Along: AxisY, Countersink: &Countersink{10, 90 * degree}},
			Hole{Name: "c", Face: "front", At: []Vec2{{75, 5}}, D: 5, ThroughAll: true})
	}},
	{"slotted_sunk_slots", false, func(t *testing.T) *Solid {
		return build(t, Bar{Section: Slotted{W: 30, H: 30, Slot: 8, Lip: 2, Depth: 9.2, Pocket: 16, Core: 6.8}, Length: 200, Lies: AxisZ},
			Hole{Name: "b", Face: "left", At: []Vec2{{15, 60}}, Kind: Obround, D: 9, Long: 24, Along: AxisZ, ThroughAll: true, Counterbore: &Counterbore{13, 8}},
			Hole{Name: "c", Face: "front", At: []Vec2{{15, 120}}, Kind: Obround, D: 9, Long: 19, Along: AxisX, ThroughAll: true, Countersink: &Countersink{11, 90 * degree}},
			Hole{Name: "d", Face: "left", At: []Vec2{{15, 120}}, D: 10, ThroughAll: true})
	}},
	{"pocket_meets_holes", false, func(t *testing.T) *Solid {
		pocket, _ := RectangleOutline(50, 30).Rounded(8)
		return build(t, Group{{Shape: Block{Vec{100, 60, 25}}}, {Shape: Extruded{Outline: pocket, L: 20}, At: Vec{25, 15, 10}, Along: AxisZ, Cut: true}},
			Hole{Name: "a", Face: "front", At: []Vec2{{30, 16}}, D: 9, Countersink: &Countersink{14, 90 * degree}},
			Hole{Name: "b", Face: "left", At: []Vec2{{40, 12}}, Kind: Obround, D: 6, Long: 14, Along: AxisY, ThroughAll: true})
	}},
	{"rod_cross_hole", false, func(t *testing.T) *Solid {
		return build(t, Bar{Section: Round{12}, Length: 100}, Hole{Name: "a", At: []Vec2{{20, 6}}, D: 4})
	}},
	{"rod_offset_hole", false, func(t *testing.T) *Solid {
		return build(t, Bar{Section: Round{12}, Length: 100}, Hole{Name: "a", At: []Vec2{{20, 8}}, D: 6})
	}},
	{"rod_sunk_hole", false, func(t *testing.T) *Solid {
		return build(t, Bar{Section: Round{12}, Length: 100}, Hole{Name: "a", Face: "front", At: []Vec2{{20, 6}}, D: 5, Countersink: &Countersink{8, 90 * degree}})
	}},
	{"tube_holes", false, func(t *testing.T) *Solid {
		return build(t, Bar{Section: Tube{30, 3}, Length: 100},
			Hole{Name: "a", At: []Vec2{{20, 15}}, D: 8, ThroughAll: true},
			Hole{Name: "b", At: []Vec2{{70, 15}}, D: 8, ThroughAll: true},
			Hole{Name: "c", Face: "front", At: []Vec2{{70, 15}}, D: 8, ThroughAll: true},
			Hole{Name: "d", At: []Vec2{{45, 20}}, D: 10})
	}},
	{"equal_cylinders_cut", false, func(t *testing.T) *Solid {
		return cutFrom(t, rod(t, Vec{Z: -50}, Vec{Z: 1}, 30, 100), rod(t, Vec{X: -50}, Vec{X: 1}, 30, 100))
	}},
	{"equal_cylinders_joined", false, func(t *testing.T) *Solid {
		return joinTo(t, rod(t, Vec{Z: -50}, Vec{Z: 1}, 30, 100), rod(t, Vec{X: -50}, Vec{X: 1}, 30, 100))
	}},
	{"cylinders_joined", false, func(t *testing.T) *Solid {
		return joinTo(t, rod(t, Vec{Z: -50}, Vec{Z: 1}, 30, 100), rod(t, Vec{-50, 12, 0}, Vec{X: 1}, 10, 100))
	}},
	{"slanted_cylinder_cut", false, func(t *testing.T) *Solid {
		return cutFrom(t, rod(t, Vec{Z: -50}, Vec{Z: 1}, 30, 100), rod(t, Vec{-30, -9, -40}, Vec{3, 1, 4}, 10, 100))
	}},
	{"slanted_hole", false, func(t *testing.T) *Solid {
		return cutFrom(t, block(t, 0, 0, 0, 100, 60, 40), rod(t, Vec{30, 20, -20}, Vec{2, 1, 4}, 12, 100))
	}},
	{"cone_into_cylinder", false, func(t *testing.T) *Solid {
		return cutFrom(t, rod(t, Vec{Z: -50}, Vec{Z: 1}, 30, 100), cone(t, Vec{-30, 4, 10}, Vec{X: 1}, 20, 4, 40))
	}},
	{"cone_through_cone", false, func(t *testing.T) *Solid {
		return cutFrom(t, cone(t, Vec{}, Vec{Z: 1}, 40, 10, 40), cone(t, Vec{-30, 3, 12}, Vec{X: 1}, 16, 6, 60))
	}},
	{"cone_cut_flat", false, func(t *testing.T) *Solid {
		return cutFrom(t, cone(t, Vec{}, Vec{Z: 1}, 40, 10, 40), block(t, 3, -30, -1, 40, 60, 50))
	}},
	{"cone_drilled", false, func(t *testing.T) *Solid {
		return cutFrom(t, cone(t, Vec{}, Vec{Z: 1}, 40, 0, 40), rod(t, Vec{2, 3, -1}, Vec{Z: 1}, 8, 50))
	}},
	{"box_tube_holes", false, func(t *testing.T) *Solid {
		return build(t, Bar{Section: BoxTube{W: 40, H: 20, Wall: 2}, Length: 100},
			Hole{Name: "a", At: []Vec2{{30, 20}}, D: 8},
			Hole{Name: "b", Face: "front", At: []Vec2{{60, 10}}, D: 8, ThroughAll: true},
			Hole{Name: "c", At: []Vec2{{100, 20}}, D: 8})
	}},
	{"slotted_holes", false, func(t *testing.T) *Solid {
		return build(t, Bar{Section: Slotted{W: 30, H: 30, Slot: 8, Lip: 2, Depth: 9.2, Pocket: 16, Core: 6.8}, Length: 200, Lies: AxisZ},
			Hole{Name: "b", Face: "left", At: []Vec2{{15, 60}}, D: 9, ThroughAll: true},
			Hole{Name: "c", Face: "front", At: []Vec2{{15, 120}}, D: 7, ThroughAll: true},
			Hole{Name: "d", Face: "left", At: []Vec2{{15, 140}}, D: 9, ThroughAll: true, Counterbore: &Counterbore{15, 8}})
	}},
	{"mitred_box", true, func(t *testing.T) *Solid {
		return build(t, Bar{Section: BoxTube{W: 40, H: 20, Wall: 2}, Length: 200, Start: Mitre{45 * degree, "front"}, End: Mitre{30 * degree, "back"}})
	}},
	{"mitred_tube", false, func(t *testing.T) *Solid {
		return build(t, Bar{Section: Tube{D: 30, Wall: 3}, Length: 200, Start: Mitre{45 * degree, "bottom"}},
			Hole{Name: "a", Face: "top", At: []Vec2{{100, 15}}, D: 8, ThroughAll: true}, Hole{Name: "b", Face: "front", At: []Vec2{{20, 15}}, D: 8, ThroughAll: true})
	}},
	{"mitred_slotted", false, func(t *testing.T) *Solid {
		return build(t, Bar{Section: Slotted{W: 30, H: 30, Slot: 8, Lip: 2, Depth: 9.2, Pocket: 16, Core: 6.8}, Length: 200, Lies: AxisZ,
			Start: Mitre{45 * degree, "left"}, End: Mitre{22.5 * degree, "back"}})
	}},
	{"motor", false, func(t *testing.T) *Solid {
		return build(t, Group{
			{Shape: Block{Vec{42.3, 42.3, 60}}},
			{Shape: Rod{D: 22, L: 2}, At: Vec{10.15, 10.15, 60}, Along: AxisZ},
			{Shape: Rod{D: 5, L: 22}, At: Vec{18.65, 18.65, 62}, Along: AxisZ, Name: "shaft"},
		})
	}},
	{"knob", false, func(t *testing.T) *Solid {
		return build(t, Group{
			{Shape: Rod{D: 30, L: 40}, Along: AxisZ},
			{Shape: Rod{D: 8.4, L: 30}, At: Vec{10.8, 10.8, 10}, Along: AxisZ, Cut: true},
		})
	}},
	{"turned_cross_hole", false, func(t *testing.T) *Solid {
		return build(t, Group{{Shape: Lathed{{D: 20, L: 10}, {D: 12, L: 30}, {D: 12, To: 8, L: 5}, {D: 8, L: 10}}}},
			Hole{Name: "a", At: []Vec2{{25, 10}}, D: 3, ThroughAll: true})
	}},
}

func plate(thickness float64) Base {
	return Sheet{Outline: RectangleOutline(100, 60), Thickness: thickness}
}

func build(t testing.TB, b Base, holes ...Hole) *Solid {
	t.Helper()
	s, err := Build(Shape{Base: b, Holes: holes})
	return made(t, s, err)
}

func cutFrom(t testing.TB, a, b *Solid) *Solid {
	t.Helper()
	s, err := Subtract(a, b)
	return made(t, s, err)
}

func joinTo(t testing.TB, a, b *Solid) *Solid {
	t.Helper()
	s, err := Union(a, b)
	return made(t, s, err)
}

// TestAgainstKernel compares with numbers that an independent geometry kernel
// gave for the same shapes. Its own rule is good to about 1e-6 on round faces.
func TestAgainstKernel(t *testing.T) {
	f, err := os.Open("../../testdata/kernel/kernel.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows)-1 != len(kernelShapes) {
		t.Fatalf("%d shapes recorded, %d built here", len(rows)-1, len(kernelShapes))
	}
	recorded := map[string][]string{}
	for _, row := range rows[1:] {
		recorded[row[0]] = row
	}
	for _, k := range kernelShapes {
		t.Run(k.name, func(t *testing.T) {
			row := recorded[k.name]
			if row == nil {
				t.Fatal("shape is not recorded")
			}
			var want [11]float64
			for j := range want {
				if want[j], err = strconv.ParseFloat(row[j+1], 64); err != nil {
					t.Fatal(err)
				}
			}
			s := k.make(t)
			sound(t, s)
			m := s.Measure()
			got := [11]float64{m.Volume, m.Area, m.Centre.X, m.Centre.Y, m.Centre.Z,
				m.Inertia[0][0], m.Inertia[0][1], m.Inertia[0][2], m.Inertia[1][1], m.Inertia[1][2], m.Inertia[2][2]}
			share := 1e-5
			if k.flat {
				share = 1e-9
			}
			scale := [11]float64{2: s.Box().Size().Len(), 3: s.Box().Size().Len(), 4: s.Box().Size().Len()}
			for j := 5; j < 11; j++ {
				scale[j] = want[5]
			}
			for j, name := range rows[0][1:] {
				if !near(got[j], want[j], share, scale[j]) {
					t.Errorf("%s is %.10g, the kernel says %.10g (off by %.2g)", name, got[j], want[j], math.Abs(got[j]-want[j])/math.Max(math.Abs(want[j]), scale[j]))
				}
			}
		})
	}
}
