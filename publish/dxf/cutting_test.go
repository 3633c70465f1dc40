package dxf

import (
	"errors"
	"maps"
	"math"
	"path/filepath"
	"slices"
	"testing"

	"plansheaf/design/golden"
	"plansheaf/design/solid"
)

func build(t testing.TB, shape solid.Shape) *solid.Solid {
	t.Helper()
	s, err := solid.Build(shape)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func rounded(t testing.TB, w, h, r float64) solid.Outline {
	t.Helper()
	o, err := solid.RectangleOutline(w, h).Rounded(r)
	if err != nil {
		t.Fatal(err)
	}
	return o
}

var m6 = &solid.Thread{Designation: "M6", Major: 6, Minor: 4.917, Pitch: 1}

// sheets are parts with what their cutting files hold.
func sheets(t testing.TB) []sheetCase {
	at := func(x, y float64) []solid.Vec2 { return []solid.Vec2{{X: x, Y: y}} }
	plate := solid.Sheet{Outline: rounded(t, 120, 80, 10), Thickness: 6}
	return []sheetCase{
		{name: "plain", shape: solid.Shape{Base: solid.Sheet{Outline: solid.RectangleOutline(50, 30), Thickness: 3}},
			kinds: map[string]int{"LWPOLYLINE outline": 1}, whole: true},
		{name: "disc", shape: solid.Shape{Base: solid.Sheet{Outline: solid.CircleOutline(44), Thickness: 3}, Holes: []solid.Hole{{Name: "a", At: at(22, 22), D: 8}}},
			kinds: map[string]int{"CIRCLE outline": 1, "CIRCLE holes": 1}, holes: []float64{8}, whole: true},
		{name: "holes", shape: solid.Shape{Base: plate, Holes: []solid.Hole{
			{Name: "a", At: solid.Grid(solid.Vec2{X: 15, Y: 15}, solid.Vec2{X: 90, Y: 50}, [2]int{2, 2}), D: 9},
			{Name: "b", At: at(60, 40), D: 22},
			{Name: "c", At: at(60, 68), D: 6.6, Kind: solid.Obround, Long: 24, Along: solid.AxisX},
			{Name: "d", At: at(40, 12), D: 5, Kind: solid.Tapped, Thread: m6},
		}}, kinds: map[string]int{"LWPOLYLINE outline": 1, "CIRCLE holes": 5, "LWPOLYLINE holes": 1, "CIRCLE holes-tap-drill-size": 1},
			holes: []float64{5, 9, 9, 9, 9, 22}, whole: true},
		{name: "mouths", shape: solid.Shape{Base: plate, Holes: []solid.Hole{
			{Name: "bored", At: at(20, 40), D: 6.6, Counterbore: &solid.Counterbore{D: 11, Depth: 4}},
			{Name: "sunk", At: at(50, 40), D: 5.5, Countersink: &solid.Countersink{D: 10.4, Angle: math.Pi / 2}},
			{Name: "under", Face: "bottom", At: at(80, 40), D: 5.5, Countersink: &solid.Countersink{D: 10.4, Angle: math.Pi / 2}},
			{Name: "blind", At: at(100, 40), D: 8, Depth: 3},
			{Name: "side", Face: "front", At: at(60, 3), D: 3, Depth: 20},
		}}, kinds: map[string]int{"LWPOLYLINE outline": 1, "CIRCLE holes": 3}, holes: []float64{5.5, 5.5, 6.6}},
		{name: "open at the edge", shape: solid.Shape{Base: plate, Holes: []solid.Hole{
			{Name: "notch", At: at(60, 0), D: 20},
			{Name: "shallow", At: at(120, 40), D: 10, Depth: 2},
			{Name: "step", At: at(0, 40), D: 6, Counterbore: &solid.Counterbore{D: 14, Depth: 2}},
		}}, kinds: map[string]int{"LWPOLYLINE outline": 1}},
		{name: "bitten mouth", shape: solid.Shape{Base: plate, Holes: []solid.Hole{
			{Name: "bored", At: at(40, 40), D: 8, Counterbore: &solid.Counterbore{D: 16, Depth: 3}},
			{Name: "blind", At: at(49, 40), D: 6, Depth: 4},
		}}, kinds: map[string]int{"LWPOLYLINE outline": 1, "CIRCLE holes": 1}, holes: []float64{8}},
		{name: "crossed from the side", shape: solid.Shape{Base: plate, Holes: []solid.Hole{
			{Name: "side", Face: "front", At: at(60, 3), D: 3, Depth: 30},
			{Name: "down", At: at(60, 15), D: 8, ThroughAll: true},
			{Name: "below", At: at(60, 25), D: 2},
		}}, kinds: map[string]int{"LWPOLYLINE outline": 1, "CIRCLE holes": 2}, holes: []float64{2, 8}},
		{name: "overlapping", shape: solid.Shape{Base: plate, Holes: []solid.Hole{
			{Name: "a", At: at(50, 40), D: 20}, {Name: "b", At: at(62, 40), D: 16},
		}}, kinds: map[string]int{"LWPOLYLINE outline": 1, "LWPOLYLINE holes": 1}, whole: true},
		{name: "meeting half way", shape: solid.Shape{Base: plate, Holes: []solid.Hole{
			{Name: "a", At: at(50, 40), D: 20, Depth: 4}, {Name: "b", Face: "bottom", At: at(62, 40), D: 16, Depth: 4},
		}}, kinds: map[string]int{"LWPOLYLINE outline": 1, "LWPOLYLINE holes": 1}},
	}
}

type sheetCase struct {
	name  string
	shape solid.Shape
	kinds map[string]int
	holes []float64 // diameters of the circles cut out, in order of size
	whole bool      // everything cut goes through: volume is area times thickness
}

// through is the area that a part takes of its sheet: what is left, looking along z,
// counted in columns over its box.
func through(s *solid.Solid, across int) float64 {
	box := s.Box()
	size := box.Size()
	n := 0
	for i := range across {
		for k := range across {
			p := solid.Vec{X: box.Min.X + size.X*(float64(i)+0.5017)/float64(across), Y: box.Min.Y + size.Y*(float64(k)+0.4983)/float64(across)}
			if len(s.Line(p, solid.Vec{Z: 1})) > 0 {
				n++
			}
		}
	}
	return size.X * size.Y * float64(n) / float64(across*across)
}

func TestCuttingHoldsWhatGoesThrough(t *testing.T) {
	files, solids := map[string][]byte{}, map[string]*solid.Solid{}
	for _, c := range sheets(t) {
		s := build(t, c.shape)
		data, err := Cutting(c.name, s)
		if err != nil {
			t.Fatal(err)
		}
		files[c.name], solids[c.name] = data, s
	}
	readings := read(t, files)
	for _, c := range sheets(t) {
		t.Run(c.name, func(t *testing.T) {
			r, s := readings[c.name], solids[c.name]
			if got := r.kinds(); !maps.Equal(got, c.kinds) {
				t.Errorf("holds %v, want %v", got, c.kinds)
			}
			area := 0.0
			var holes []float64
			for _, e := range r.Entities {
				enclosed := math.Abs(e.Area)
				if e.Kind == "CIRCLE" {
					enclosed = math.Pi * e.Radius * e.Radius
				} else if !e.Closed {
					t.Errorf("%s on %s is open", e.Kind, e.Layer)
				}
				if e.Layer == OutlineLayer {
					area += enclosed
					continue
				}
				area -= enclosed
				if e.Kind == "CIRCLE" {
					holes = append(holes, 2*e.Radius)
					middle := solid.Vec{X: e.Points[0][0] + 0.0017, Y: e.Points[0][1] + 0.0023}
					if hits := s.Line(middle, solid.Vec{Z: 1}); len(hits) > 0 {
						t.Errorf("circle about %v holds material", e.Points[0])
					}
				}
			}
			slices.Sort(holes)
			for i := range max(len(holes), len(c.holes)) {
				if len(holes) != len(c.holes) || math.Abs(holes[i]-c.holes[i]) > 1e-9 {
					t.Fatalf("holes of %v, want %v mm", holes, c.holes)
				}
			}
			box := s.Box()
			if c.whole {
				if want := s.Measure().Volume / box.Size().Z; math.Abs(area-want) > 1e-7*want {
					t.Errorf("encloses %.9f mm², the solid's volume over its thickness is %.9f", area, want)
				}
			}
			// A column is wrong at most where an outline crosses it, and as often
			// one way as the other: 0.5 % leaves room.
			if want := through(s, 120); math.Abs(area-want) > 5e-3*want {
				t.Errorf("encloses %.2f mm², columns through the solid count %.2f", area, want)
			}
			got := solid.Vec{X: r.High[0] - r.Low[0], Y: r.High[1] - r.Low[1], Z: box.Size().Z}
			if got.Sub(box.Size()).Len() > 1e-9 || math.Hypot(r.Low[0], r.Low[1]) > 1e-9 {
				t.Errorf("extents %v to %v, want %v to %v", r.Low, r.High, box.Min, box.Max)
			}
		})
	}
}

// Looked at in golden form: a plate of 50 by 30 with a corner, a hole and a tapped
// hole.
func TestCuttingGolden(t *testing.T) {
	outline := rounded(t, 50, 30, 5)
	s := build(t, solid.Shape{Base: solid.Sheet{Outline: outline, Thickness: 4}, Holes: []solid.Hole{
		{Name: "pin", At: []solid.Vec2{{X: 12.5, Y: 15}}, D: 6},
		{Name: "screw", At: []solid.Vec2{{X: 37.5, Y: 15}}, D: 5, Kind: solid.Tapped, Thread: m6},
	}})
	got, err := Cutting("plate", s)
	if err != nil {
		t.Fatal(err)
	}
	golden.Compare(t, filepath.Join("testdata", "plate.dxf"), got)
}

func TestCuttingRefusesWhatIsNoSheet(t *testing.T) {
	rod := build(t, solid.Shape{Base: solid.Bar{Section: solid.Round{D: 20}, Length: 60, Lies: solid.AxisX}})
	for name, s := range map[string]*solid.Solid{"nothing": nil, "empty": {}, "rod": rod} {
		if data, err := Cutting(name, s); !errors.Is(err, ErrNotFlat) || data != nil {
			t.Errorf("%s: %d bytes, error %v", name, len(data), err)
		}
	}
}
