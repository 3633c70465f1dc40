package solid

import (
	"math"
	"math/rand"
	"testing"
)

// made fails the test when a solid could not be made.
func made(t testing.TB, s *Solid, err error) *Solid {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// block, rod and cone are test bodies at a place: a box from its lowest corner,
// a cylinder or cone of diameter d (and to) over length l from a point along a
// direction.
func block(t testing.TB, x, y, z, a, b, c float64) *Solid {
	t.Helper()
	s, err := Block{Vec{a, b, c}}.make()
	return made(t, s, err).Placed(Moved(Vec{x, y, z}))
}

func rod(t testing.TB, at, dir Vec, d, l float64) *Solid {
	t.Helper()
	return cone(t, at, dir, d, d, l)
}

func cone(t testing.TB, at, dir Vec, d, to, l float64) *Solid {
	t.Helper()
	return lathe(tidied([]station{
		{0, 0, "", nil}, {d / 2, 0, "low", nil}, {to / 2, l, "side", nil}, {0, l, "high", nil},
	}), FrameAlong(at, dir))
}

// sound checks the solid and its mesh: closed, oriented, of the right volume.
func sound(t testing.TB, s *Solid) {
	t.Helper()
	if err := s.Check(); err != nil {
		t.Error(err)
		return
	}
	if len(s.Faces) == 0 {
		return
	}
	if s.Euler()%2 != 0 {
		t.Logf("Euler characteristic %d: bodies touch in a point", s.Euler())
	}
	m := s.Mesh(0.05)
	area := 0.0
	for _, c := range m.Triangles {
		p, q, r := m.Vertices[c[0]], m.Vertices[c[1]], m.Vertices[c[2]]
		area += q.Sub(p).Cross(r.Sub(p)).Len() / 2
	}
	if at, open := openAt(m); open {
		t.Errorf("mesh is open at %v", at)
		return
	}
	x := s.Measure()
	// 0.05 mm on radii of a few mm is a few percent of a small body.
	if v := m.Volume(); math.Abs(v-x.Volume) > 0.03*x.Volume+0.05*x.Area {
		t.Errorf("mesh holds %g, solid %g mm³", v, x.Volume)
	}
	if math.Abs(area-x.Area) > 0.03*x.Area {
		t.Errorf("mesh has %g, solid %g mm² of boundary", area, x.Area)
	}
}

// openAt returns a place where a triangle's side has no partner.
func openAt(m *Mesh) (Vec, bool) {
	sides := map[[2]int]int{}
	for _, c := range m.Triangles {
		for k := range c {
			sides[[2]int{c[k], c[(k+1)%3]}]++
		}
	}
	for k, n := range sides {
		if sides[[2]int{k[1], k[0]}] != n {
			return m.Vertices[k[0]], true
		}
	}
	return Vec{}, false
}

// agree compares the solid with what an operation should hold, at random points.
func agree(t testing.TB, s, a, b *Solid, op operation, points int, seed int64) {
	t.Helper()
	r := rand.New(rand.NewSource(seed))
	box := a.Box().Join(b.Box()).Grow(1)
	size := box.Size()
	for i := 0; i < points; i++ {
		p := box.Min.Add(Vec{r.Float64() * size.X, r.Float64() * size.Y, r.Float64() * size.Z})
		want := op.keeps(a.Where(p) == Inside, b.Where(p) == Inside)
		if got := s.Where(p) == Inside; got != want {
			t.Errorf("point %v: in the result %v, want %v", p, got, want)
			return
		}
	}
}

// near tells whether two numbers agree to a share of the larger one, or of
// scale where that is larger still.
func near(a, b, share, scale float64) bool {
	return math.Abs(a-b) <= share*math.Max(scale, math.Max(math.Abs(a), math.Abs(b)))
}
