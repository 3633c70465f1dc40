package mesh

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"testing"

	"plansheaf/design/solid"
)

var millimetre = Unit{"mm", 1}

// binarySTL writes a solid's mesh as a binary file, numbers divided by scale.
func binarySTL(m *solid.Mesh, header string, scale float64) []byte {
	var b bytes.Buffer
	var h [80]byte
	copy(h[:], header)
	b.Write(h[:])
	binary.Write(&b, binary.LittleEndian, uint32(len(m.Triangles)))
	for _, t := range m.Triangles {
		var v [12]float32
		for k, i := range t {
			p := m.Vertices[i]
			v[3+3*k], v[4+3*k], v[5+3*k] = float32(p.X/scale), float32(p.Y/scale), float32(p.Z/scale)
		}
		binary.Write(&b, binary.LittleEndian, v)
		b.Write([]byte{0, 0})
	}
	return b.Bytes()
}

// asciiSTL writes it as text, numbers in the format given.
func asciiSTL(m *solid.Mesh, name, format string) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "solid %s\n", name)
	for _, t := range m.Triangles {
		b.WriteString(" facet normal 0 0 0\n  outer loop\n")
		for _, i := range t {
			p := m.Vertices[i]
			fmt.Fprintf(&b, "   vertex "+format+" "+format+" "+format+"\n", p.X, p.Y, p.Z)
		}
		b.WriteString("  endloop\n endfacet\n")
	}
	fmt.Fprintf(&b, "endsolid %s\n", name)
	return b.Bytes()
}

func build(t testing.TB, g solid.Group, holes ...solid.Hole) *solid.Solid {
	t.Helper()
	s, err := solid.Build(solid.Shape{Base: g, Holes: holes})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func box(x, y, z float64) solid.Member {
	return solid.Member{Shape: solid.Block{Size: solid.Vec{X: x, Y: y, Z: z}}}
}

// turned returns a mesh under a placement.
func turned(m *solid.Mesh, p solid.Placement) *solid.Mesh {
	out := &solid.Mesh{Triangles: m.Triangles}
	for _, v := range m.Vertices {
		out.Vertices = append(out.Vertices, p.Point(v))
	}
	return out
}

// shapes are bodies with flat faces, round ones, tunnels and cavities.
func shapes(t testing.TB) []struct {
	name  string
	solid *solid.Solid
	// faces there must be, and edges that are no smooth ones
	faces, sharp int
} {
	bracket := solid.Group{box(60, 40, 8), box(8, 40, 50)}
	dish := solid.Group{
		{Shape: solid.Rod{D: 40, L: 20}, Along: solid.AxisZ},
		{Shape: solid.Taper{D: 20, To: 10, L: 12}, At: solid.Vec{X: 10, Y: 10, Z: 8}, Along: solid.AxisZ, Cut: true},
	}
	hollow := solid.Group{box(30, 30, 30), {Shape: solid.Block{Size: solid.Vec{X: 10, Y: 12, Z: 14}}, At: solid.Vec{X: 5, Y: 5, Z: 5}, Cut: true}}
	return []struct {
		name         string
		solid        *solid.Solid
		faces, sharp int
	}{
		{"box", build(t, solid.Group{box(10, 20, 30)}), 6, 12},
		{"bracket", build(t, bracket), 8, 18},
		{"plate with a hole", build(t, solid.Group{box(60, 40, 8)}, solid.Hole{Name: "h", Face: "top", At: []solid.Vec2{{X: 20, Y: 20}}, D: 10}), 30, 60},
		{"dish", build(t, dish), 83, 160},
		{"hollow", build(t, hollow), 12, 24},
		{"two bodies", build(t, solid.Group{box(10, 10, 10), {Shape: solid.Block{Size: solid.Vec{X: 5, Y: 5, Z: 5}}, At: solid.Vec{X: 20}}}), 12, 24},
	}
}

func near(a, b, share float64) bool {
	return math.Abs(a-b) <= share*math.Max(math.Abs(a), math.Abs(b))
}
