package solid

import "testing"

// foreign is a cylinder of a kind that the package does not know: it must answer for
// itself.
type foreign struct{ Cylinder }

func (s foreign) Placed(p Placement) Surface { return foreign{s.Cylinder.Placed(p).(Cylinder)} }
func (s foreign) mirrored() Surface          { return foreign{s.Cylinder.mirrored().(Cylinder)} }

func (s foreign) meet(other Surface, reach Box) ([]Curve, bool) {
	if o, ok := other.(foreign); ok {
		other = o.Cylinder
	}
	return meetSurfaces(s.Cylinder, other, reach), true
}

func (s foreign) same(other Surface, near Vec, reach float64) (same, agree bool) {
	o, ok := other.(foreign)
	if !ok {
		return false, false
	}
	return s.Cylinder.same(o.Cylinder, near, reach)
}

// track is a curve of a kind that the package does not know.
type track struct{ Curve }

func (c track) Placed(p Placement) Curve { return track{c.Curve.Placed(p)} }
func (c track) mirrored() (Curve, bool)  { m, turned := c.Curve.mirrored(); return track{m}, turned }

// TestForeignKinds cuts bodies whose round faces and edges are of unknown kinds, and
// compares with what known ones give.
func TestForeignKinds(t *testing.T) {
	strange := func(s *Solid) *Solid {
		out := s.Placed(Stay)
		for i := range out.Faces {
			if c, ok := out.Faces[i].Surface.(Cylinder); ok {
				out.Faces[i].Surface = foreign{c}
			}
		}
		for i := range out.Edges {
			if c, ok := out.Edges[i].Curve.(Circle); ok {
				out.Edges[i].Curve = track{c}
			}
		}
		return out.finish()
	}
	bar := rod(t, Vec{Z: -50}, Vec{Z: 1}, 30, 100)
	for _, tool := range []*Solid{
		block(t, -20, 3, 10, 40, 30, 60),
		rod(t, Vec{-50, 12, 0}, Vec{X: 1}, 10, 100),
		rod(t, Vec{-50, 0, 5}, Vec{2, 1, 1}, 8, 100),
		cone(t, Vec{-30, 4, 10}, Vec{X: 1}, 20, 4, 40),
	} {
		for op := union; op <= intersection; op++ {
			want, err := combineNear(bar, tool, op)
			made(t, want, err)
			got, err := combineNear(strange(bar), strange(tool), op)
			made(t, got, err)
			sound(t, got)
			a, b := got.Measure(), want.Measure()
			if !near(a.Volume, b.Volume, 1e-6, 0) || !near(a.Area, b.Area, 1e-6, 0) || a.Centre.Dist(b.Centre) > 1e-4 {
				t.Errorf("operation %d: %+v, want %+v", op, a, b)
			}
			agree(t, got, bar, tool, op, 100, 1)
		}
	}
}
