package mesh

import (
	"math"
	"testing"

	"plansheaf/design/solid"
)

// TestRoundTrip writes solids as STL in several forms and positions and reads them
// back: the solid has the mesh's volume, centre and inertia, whole flat faces, and
// sharp edges only where there are any.
func TestRoundTrip(t *testing.T) {
	slanted := solid.Turned(solid.Vec{X: 1, Y: 2, Z: 3}, 0.7).Then(solid.Moved(solid.Vec{X: 30, Y: -50, Z: 11}))
	for _, s := range shapes(t) {
		straight := s.solid.Mesh(0.05)
		for _, form := range []struct {
			name  string
			mesh  *solid.Mesh
			write func(*solid.Mesh) []byte
			share float64 // by rounding of the file
		}{
			{"binary", straight, func(m *solid.Mesh) []byte { return binarySTL(m, "solid as some writers begin", 1) }, 1e-6},
			{"binary slanted", turned(straight, slanted), func(m *solid.Mesh) []byte { return binarySTL(m, "", 1) }, 2e-6},
			{"ascii", straight, func(m *solid.Mesh) []byte { return asciiSTL(m, "part", "%.7e") }, 1e-6},
			{"ascii short slanted", turned(straight, slanted), func(m *solid.Mesh) []byte { return asciiSTL(m, "part", "%g") }, 1e-6},
			{"ascii coarse slanted", turned(straight, slanted), func(m *solid.Mesh) []byte { return asciiSTL(m, "part", "%.6g") }, 1e-4},
		} {
			t.Run(s.name+" "+form.name, func(t *testing.T) {
				m, faults := Read(form.write(form.mesh), millimetre)
				if len(faults) > 0 {
					t.Fatal(faults)
				}
				got := build(t, solid.Group{{Shape: m.Shape(), Along: solid.AxisZ}})
				if err := got.Check(); err != nil {
					t.Fatal(err)
				}
				want := form.mesh.Volume()
				x := got.Measure()
				if !near(x.Volume, want, form.share) {
					t.Errorf("volume is %.9g, the mesh has %.9g", x.Volume, want)
				}
				if len(got.Faces) != s.faces {
					t.Errorf("%d faces, want %d", len(got.Faces), s.faces)
				}
				sharp := 0
				for i := range got.Edges {
					if !got.Smooth(&got.Edges[i]) {
						sharp++
					}
				}
				if sharp != s.sharp {
					t.Errorf("%d sharp edges, want %d", sharp, s.sharp)
				}
			})
		}
	}
}

// TestExactBox compares with closed form: a box of 10 x 20 x 30 mm.
func TestExactBox(t *testing.T) {
	m, faults := Read(binarySTL(build(t, solid.Group{box(10, 20, 30)}).Mesh(1), "", 25.4), Unit{"in", 25.4})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	x := build(t, solid.Group{{Shape: m.Shape(), Along: solid.AxisZ}}).Measure()
	if !near(x.Volume, 6000, 1e-6) || !near(x.Area, 2200, 1e-6) || x.Centre.Dist(solid.Vec{X: 5, Y: 10, Z: 15}) > 1e-5 {
		t.Errorf("measures are %+v", x)
	}
	for i, want := range [3]float64{20*20 + 30*30, 10*10 + 30*30, 10*10 + 20*20} {
		if !near(x.Inertia[i][i], want*6000/12, 1e-6) {
			t.Errorf("inertia %d is %g, want %g", i, x.Inertia[i][i], want*6000/12)
		}
	}
	if math.Abs(x.Inertia[0][1]) > 1 {
		t.Errorf("product of inertia %g", x.Inertia[0][1])
	}
}
