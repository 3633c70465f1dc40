package solid

import (
	"fmt"
	"math"
	"math/rand"
	"testing"
)

// TestBoolean checks union, difference and intersection of pairs against each
// other (inclusion and exclusion), against random points, and by closed forms
// where there is one (common, in mm³; -1 for none).
func TestBoolean(t *testing.T) {
	x, y, z := Vec{X: 1}, Vec{Y: 1}, Vec{Z: 1}
	plate := block(t, 0, 0, 0, 100, 60, 40)
	bar := rod(t, Vec{Z: -50}, z, 30, 100)
	spike := func(at, dir Vec) *Solid { return cone(t, at, dir, 20, 0, 15) }
	tests := []struct {
		name   string
		a, b   *Solid
		common float64
	}{
		{"boxes overlap at a corner", plate, block(t, 50, 30, 20, 100, 60, 40), 50 * 30 * 20},
		{"boxes touch with equal faces", plate, block(t, 100, 0, 0, 30, 60, 40), 0},
		{"boxes touch with a smaller face", plate, block(t, 100, 10, 10, 30, 20, 20), 0},
		{"box stands on the edge of another", plate, block(t, 20, 40, 40, 30, 20, 20), 0},
		{"three faces flush", plate, block(t, 50, 0, 20, 80, 60, 20), 50 * 60 * 20},
		{"box within a box", plate, block(t, 10, 10, 10, 20, 20, 20), 8000},
		{"the same box", plate, plate, 240000},
		{"boxes touch along an edge", plate, block(t, 100, 60, 0, 20, 20, 40), 0},
		{"boxes touch in a corner", plate, block(t, 100, 60, 40, 20, 20, 20), 0},
		{"turned box through a box", plate, block(t, -20, -20, -20, 40, 40, 40).Placed(Turned(Vec{1, 2, 3}, 1).Then(Moved(Vec{50, 30, 40}))), -1},
		{"rod through", plate, rod(t, Vec{20, 30, -10}, z, 8, 100), math.Pi * 16 * 40},
		{"rod on an edge", plate, rod(t, Vec{0, 30, -10}, z, 8, 100), math.Pi * 8 * 40},
		{"rod on a corner", plate, rod(t, Vec{0, 0, -10}, z, 8, 100), math.Pi * 4 * 40},
		{"rod breaks out of the side", plate, rod(t, Vec{3, 30, -10}, z, 8, 100), -1},
		{"rod touches the side from within", plate, rod(t, Vec{4, 30, -10}, z, 8, 100), math.Pi * 16 * 40},
		{"rod touches the side from outside", plate, rod(t, Vec{-4, 30, -10}, z, 8, 100), 0},
		{"rod flush at both ends", plate, rod(t, Vec{40, 30, 0}, z, 8, 40), math.Pi * 16 * 40},
		{"slanted rod", plate, rod(t, Vec{30, 20, -20}, Vec{2, 1, 4}, 12, 100), math.Pi * 36 * 40 * math.Sqrt(21) / 4},
		{"rod along an edge", plate, rod(t, Vec{-10, 0, 0}, x, 10, 200), math.Pi * 25 / 4 * 100},
		{"rods cross", bar, rod(t, Vec{X: -50}, x, 10, 100), -1},
		{"rods cross off the middle", bar, rod(t, Vec{-50, 12, 0}, x, 10, 100), -1},
		{"equal rods cross", bar, rod(t, Vec{X: -50}, x, 30, 100), 16 * 15 * 15 * 15 / 3.0}, // Archimedes
		{"rod touches the wall from within", bar, rod(t, Vec{-50, 10, 0}, x, 10, 100), -1},
		{"rods cross aslant", bar, rod(t, Vec{-30, -9, -40}, Vec{3, 1, 4}, 10, 100), -1},
		{"rods cross by a hair", bar, rod(t, Vec{-50, 19.9, 0}, x, 10, 100), -1},
		{"rods side by side", bar, rod(t, Vec{15, 0, -40}, z, 20, 80), -1},
		{"rods touch side by side", bar, rod(t, Vec{25, 0, -40}, z, 20, 80), 0},
		{"rods end to end", bar, rod(t, Vec{0, 0, 50}, z, 30, 50), 0},
		{"equal rods overlap along one axis", bar, rod(t, Vec{0, 0, 20}, z, 30, 80), math.Pi * 225 * 30},
		{"thin rod along the axis", bar, rod(t, Vec{0, 0, 20}, z, 20, 80), math.Pi * 100 * 30},
		{"rod drilled along", bar, rod(t, Vec{0, 0, -60}, z, 20, 150), math.Pi * 100 * 100},
		{"rod opposed", bar, rod(t, Vec{0, 0, 60}, z.Mul(-1), 30, 150), math.Pi * 225 * 100},
		{"spike into an edge", plate, spike(Vec{5, 30, 35}, z), -1},
		{"spike stands in the top", plate, spike(Vec{30, 30, 30}, z), -1},
		{"spike on the top", plate, spike(Vec{30, 30, 40}, z), 0},
		{"tip touches the top", plate, spike(Vec{30, 30, 55}, z.Mul(-1)), 0},
		{"tip on an edge", plate, spike(Vec{0, 30, 55}, Vec{Z: -1}), 0},
		{"spike halved through its tip", spike(Vec{}, z), block(t, 0, -20, -1, 20, 40, 30), math.Pi * 100 * 15 / 6},
		{"spike in a rod's end", bar, spike(Vec{3, -4, 45}, z), -1},
		{"spike into a rod's side", bar, spike(Vec{8, -4, 10}, x), -1},
		{"spikes side by side", spike(Vec{}, z), spike(Vec{3, -4, 5}, z), -1},
		{"spikes opposed on one axis", spike(Vec{}, z), spike(Vec{Z: 15}, z.Mul(-1)), -1},
		{"spikes across", spike(Vec{}, z), spike(Vec{-8, 1, 4}, x), -1},
		{"sunk rod", bar, cone(t, Vec{0, 0, 45}, z, 10, 20, 5), math.Pi * 5 * (100 + 50 + 25) / 3},
		{"tube over a rod", made2(t, Pipe{40, 30, 60}).Placed(Moved(Vec{-20, -20, -30})), bar, 0},
		{"ring cut in two", made2(t, Pipe{40, 30, 60}), block(t, -1, 20, -1, 60, 60, 80), math.Pi * (400 - 225) * 60 / 2},
		{"rod across a tube", made2(t, Pipe{40, 30, 60}), rod(t, Vec{-10, 20, 30}, x, 8, 100), -1},
		{"plate along a rod's middle", bar, block(t, -20, 0, -60, 40, 20, 120), math.Pi * 225 * 50},
		{"plate touches a rod", bar, block(t, -20, 15, -60, 40, 20, 120), 0},
		{"rod lies on a plate", plate, rod(t, Vec{10, 30, 45}, y, 10, 20), 0},
	}
	for i, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			va, vb := tt.a.Measure().Volume, tt.b.Measure().Volume
			var v [3]float64
			for op := union; op <= intersection; op++ {
				s, err := combine(tt.a, tt.b, op)
				if err != nil {
					t.Fatalf("operation %d: %v", op, err)
				}
				sound(t, s)
				agree(t, s, tt.a, tt.b, op, 250, int64(i))
				v[op] = s.Measure().Volume
			}
			if !near(v[union]+v[intersection], va+vb, 1e-8, 0) {
				t.Errorf("union %.10g + common %.10g, want %.10g + %.10g", v[union], v[intersection], va, vb)
			}
			if !near(v[difference]+v[intersection], va, 1e-8, 0) {
				t.Errorf("difference %.10g + common %.10g, want %.10g", v[difference], v[intersection], va)
			}
			if tt.common >= 0 && !near(v[intersection], tt.common, 1e-9, 1) {
				t.Errorf("common %.12g, want %.12g", v[intersection], tt.common)
			}
		})
	}
}

func made2(t *testing.T, p Primitive) *Solid {
	t.Helper()
	s, err := p.make()
	return made(t, s, err)
}

// TestJoinedFacesMerge checks that nothing is left of the seam where flush
// bodies are joined: a drawing would show it.
func TestJoinedFacesMerge(t *testing.T) {
	s, err := Union(block(t, 0, 0, 0, 50, 60, 40), block(t, 50, 0, 0, 50, 60, 40))
	made(t, s, err)
	if len(s.Faces) != 6 || len(s.Edges) != 12 || len(s.Vertices) != 8 {
		t.Errorf("two halves of a block: %d faces, %d edges, %d vertices", len(s.Faces), len(s.Edges), len(s.Vertices))
	}
	z := Vec{Z: 1}
	s, err = Union(rod(t, Vec{}, z, 10, 20), rod(t, Vec{Z: 20}, z, 10, 20))
	made(t, s, err)
	if len(s.Faces) != 3 || len(s.Edges) != 2 {
		t.Errorf("two halves of a rod: %d faces, %d edges", len(s.Faces), len(s.Edges))
	}
}

// TestRandomBooleans puts random bodies together one after the other, in places
// that often coincide, and checks each result and what becomes of it when it is
// turned and mirrored.
func TestRandomBooleans(t *testing.T) {
	failed := 0
	for seed := int64(1); seed <= 40; seed++ {
		r := rand.New(rand.NewSource(seed))
		s := randomBody(t, r)
		for step := 0; step < 4; step++ {
			other := randomBody(t, r)
			op := operation(r.Intn(2))
			next, err := combineNear(s, other, op)
			if err != nil {
				// A refused shape is no wrong one, but must stay rare.
				t.Logf("seed %d step %d: %v", seed, step, err)
				failed++
				break
			}
			name := fmt.Sprintf("seed %d step %d", seed, step)
			if err := next.Check(); err != nil && len(next.Faces) > 0 {
				t.Fatalf("%s: %v", name, err)
			}
			agree(t, next, s, other, op, 60, seed)
			if t.Failed() {
				t.Fatal(name)
			}
			if len(next.Faces) == 0 {
				break
			}
			s = next
		}
		sound(t, s)
		v := s.Measure()
		turned := s.Placed(Turned(Vec{1, -2, 0.5}, 0.7).Then(Moved(Vec{3, 5, -7})))
		for _, o := range []*Solid{turned, s.Mirrored()} {
			if err := o.Check(); err != nil {
				t.Errorf("seed %d: %v", seed, err)
			}
			w := o.Measure()
			if !near(w.Volume, v.Volume, 1e-8, 0) || !near(w.Area, v.Area, 1e-8, 0) {
				t.Errorf("seed %d: volume %.12g area %.12g became %.12g %.12g", seed, v.Volume, v.Area, w.Volume, w.Area)
			}
			if !near(trace(w), trace(v), 1e-6, 0) {
				t.Errorf("seed %d: trace of inertia %.12g became %.12g", seed, trace(v), trace(w))
			}
		}
	}
	if failed > 1 {
		t.Errorf("%d of 40 random bodies could not be worked out", failed)
	}
}

func trace(m Measures) float64 { return m.Inertia[0][0] + m.Inertia[1][1] + m.Inertia[2][2] }

// randomBody returns a block, rod or cone on a coarse raster, so that faces,
// axes and edges of several coincide; now and then anywhere.
func randomBody(t testing.TB, r *rand.Rand) *Solid {
	n := func(lo, hi int) float64 { return float64(lo + r.Intn(hi-lo+1)) }
	at := Vec{5 * n(0, 6), 5 * n(0, 6), 5 * n(0, 6)}
	dir := []Vec{{X: 1}, {Y: 1}, {Z: 1}, {X: -1}, {Y: -1}, {Z: -1}}[r.Intn(6)]
	if r.Intn(4) == 0 {
		at = at.Add(Vec{r.Float64(), r.Float64(), r.Float64()})
		dir = dir.Add(Vec{r.Float64(), r.Float64(), r.Float64()}.Mul(0.5))
	}
	switch r.Intn(5) {
	case 0, 1:
		return block(t, at.X-10, at.Y-10, at.Z-10, 5*n(1, 8), 5*n(1, 8), 5*n(1, 8))
	case 2, 3:
		return rod(t, at.along(dir, -15), dir, 5*n(1, 6), 5*n(2, 10))
	}
	return cone(t, at.along(dir, -15), dir, 5*n(0, 5), 5*n(1, 5)+2, 5*n(2, 8))
}
