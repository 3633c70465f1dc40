package solid

import (
	"math"
	"math/rand"
	"testing"
)

// TestCrossings: the curves in which two bodies run through each other are the
// edges of their union that neither of them has.
func TestCrossings(t *testing.T) {
	r := rand.New(rand.NewSource(5))
	half := func(lo, hi int) float64 { return float64(lo+r.Intn(hi-lo+1)) / 2 }
	random := func() *Solid {
		v := Vec{r.NormFloat64(), r.NormFloat64(), r.NormFloat64()}
		switch r.Intn(3) {
		case 0:
			return block(t, 0, 0, 0, half(10, 60), half(10, 60), half(10, 60)).Placed(Turned(v, 2))
		case 1:
			return rod(t, Vec{}, v.Unit(), half(8, 40), half(10, 60))
		}
		return cone(t, Vec{}, v.Unit(), half(20, 40), half(0, 16), half(10, 40))
	}
	length := func(point func(k float64) Vec) float64 {
		sum, last := 0.0, point(0)
		const steps = 256
		for i := 1; i <= steps; i++ {
			p := point(float64(i) / steps)
			sum, last = sum+p.Dist(last), p
		}
		return sum
	}
	met := 0
	for n := range 200 {
		a, b := random(), random().Placed(Moved(Vec{half(0, 30), half(0, 30), half(0, 30)}))
		union, err := Union(a, b)
		if err != nil {
			continue
		}
		got, want := 0.0, 0.0
		for _, c := range Crossings(a, b) {
			at := func(k float64) Vec { return c.Curve.Point(c.T0 + (c.T1-c.T0)*k) }
			got += length(at)
			for _, k := range []float64{0.1, 0.5, 0.9} {
				if p := at(k); !a.FaceHolds(c.Faces[0], p) || !b.FaceHolds(c.Faces[1], p) ||
					math.Abs(a.Faces[c.Faces[0]].Surface.Off(p))+math.Abs(b.Faces[c.Faces[1]].Surface.Off(p)) > 1e-5 {
					t.Errorf("pair %d: %v lies off its faces", n, p)
				}
			}
		}
		for i := range union.Edges {
			e := &union.Edges[i]
			p := e.Point(0.5)
			if onEdge(a, p) || onEdge(b, p) {
				continue
			}
			want += length(e.Point)
		}
		if want > 0 {
			met++
		}
		if math.Abs(got-want) > 1e-3*want+1e-3 {
			t.Errorf("pair %d: crossings of %.5f mm, new edges of the union of %.5f", n, got, want)
		}
	}
	if met < 60 {
		t.Errorf("only %d pairs meet", met)
	}
}

// onEdge tells whether a point lies on an edge of a solid.
func onEdge(s *Solid, p Vec) bool {
	for i := range s.Edges {
		if _, on := paramOn(&s.Edges[i], p); on {
			return true
		}
	}
	return false
}

// TestOnly: some faces of a solid are as they were.
func TestOnly(t *testing.T) {
	s, err := Subtract(block(t, 0, 0, 0, 40, 30, 20), rod(t, Vec{20, 15, -5}, Vec{Z: 1}, 8, 40))
	made(t, s, err)
	faces := []int{len(s.Faces) - 1, 0}
	part := s.Only(faces)
	if len(part.Faces) != 2 || len(part.Edges) >= len(s.Edges) {
		t.Fatalf("%d faces with %d edges", len(part.Faces), len(part.Edges))
	}
	for i, f := range faces {
		if g, w := part.Faces[i].Box(), s.Faces[f].Box(); g != w {
			t.Errorf("face %d lies in %v, want %v", f, g, w)
		}
		p := s.Edges[s.Faces[f].Loops[0][0].Edge].Point(0.3)
		if !part.FaceHolds(i, p) {
			t.Errorf("face %d has lost its rim", f)
		}
	}
}
