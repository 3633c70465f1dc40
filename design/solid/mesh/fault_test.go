package mesh

import (
	"encoding/binary"
	"math"
	"strings"
	"testing"

	"plansheaf/design/solid"
)

// TestFaults breaks a sound file in one way at a time.
func TestFaults(t *testing.T) {
	block := build(t, solid.Group{box(10, 20, 30)}).Mesh(1)
	hollow := build(t, solid.Group{box(30, 30, 30), {Shape: solid.Block{Size: solid.Vec{X: 10, Y: 10, Z: 10}}, At: solid.Vec{X: 5, Y: 5, Z: 5}, Cut: true}}).Mesh(1)
	sound := binarySTL(block, "", 1)
	with := func(change func(m *solid.Mesh)) []byte {
		m := &solid.Mesh{Vertices: append([]solid.Vec(nil), block.Vertices...), Triangles: append([][3]int(nil), block.Triangles...)}
		change(m)
		return binarySTL(m, "", 1)
	}
	// divide divides the longest side of the first triangle for its neighbour only; in
	// between comes nothing, or a triangle without area.
	first := block.Triangles[0]
	far := 0
	for k := range first {
		if sideLength(block, first, k) > sideLength(block, first, far) {
			far = k
		}
	}
	from, to := first[far], first[(far+1)%3]
	middle := block.Vertices[from].Add(block.Vertices[to]).Mul(0.5)
	divide := func(m *solid.Mesh, between bool) {
		m.Vertices = append(m.Vertices, middle)
		half := len(m.Vertices) - 1
		third := first[(far+2)%3]
		m.Triangles = append(m.Triangles[1:], [3]int{from, half, third}, [3]int{half, to, third})
		if between {
			m.Triangles = append(m.Triangles, [3]int{from, to, half})
		}
	}
	// again adds the block once more, moved.
	again := func(m *solid.Mesh, by solid.Vec) {
		n := len(m.Vertices)
		for _, p := range m.Vertices[:n] {
			m.Vertices = append(m.Vertices, p.Add(by))
		}
		for _, c := range m.Triangles[:len(m.Triangles):len(m.Triangles)] {
			m.Triangles = append(m.Triangles, [3]int{c[0] + n, c[1] + n, c[2] + n})
		}
	}
	turn := func(c *[3]int) { c[1], c[2] = c[2], c[1] }
	number := func(v float32) []byte {
		b := append([]byte(nil), sound...)
		binary.LittleEndian.PutUint32(b[84+12:], math.Float32bits(v))
		return b
	}
	text := string(asciiSTL(block, "part", "%g"))
	huge := append([]byte(nil), sound[:84]...)
	binary.LittleEndian.PutUint32(huge[80:], MaxTriangles+1)
	huge = append(huge, make([]byte, 50*(MaxTriangles+1))...)
	for _, c := range []struct {
		name  string
		data  []byte
		unit  string
		kind  Kind
		count int
		and   Kind      // found too, unless 0
		at    solid.Vec // where it shows, unless 0
		says  string
	}{
		{name: "nothing", data: nil, kind: Unreadable, says: "too few"},
		{name: "another file", data: []byte(strings.Repeat("a picture of a cat, ", 30)), kind: Unreadable, says: "no STL file"},
		{name: "cut short", data: sound[:len(sound)-7], kind: Unreadable, says: "cut short"},
		{name: "too many triangles", data: huge, kind: TooLarge, says: "more than"},
		{name: "infinite", data: number(float32(math.Inf(1))), kind: NotFinite, count: 1, says: "triangle 1"},
		{name: "not a number", data: number(float32(math.NaN())), kind: NotFinite, count: 1, says: "triangle 1"},
		{name: "no triangles", data: sound[:84], kind: Unreadable, says: "cut short"},
		{name: "open", data: with(func(m *solid.Mesh) { m.Triangles = m.Triangles[1:] }), kind: Open, count: 3, says: "is open"},
		{name: "one turned", data: with(func(m *solid.Mesh) { turn(&m.Triangles[4]) }), kind: Inverted, count: 1, says: "other way than the neighbours"},
		{name: "all turned", data: with(func(m *solid.Mesh) {
			for i := range m.Triangles {
				turn(&m.Triangles[i])
			}
		}), kind: Inverted, count: 1, says: "inside out"},
		{name: "doubled", data: with(func(m *solid.Mesh) { m.Triangles = append(m.Triangles, m.Triangles...) }), kind: Doubled, count: 12, says: "lie on others"},
		{name: "flat", data: with(func(m *solid.Mesh) {
			for i := range m.Vertices {
				m.Vertices[i].Z = 0
			}
		}), kind: Empty},
		{name: "header says inches", data: binarySTL(block, "part units=inch", 1), kind: UnitDiffers, says: "header says in"},
		{name: "name says metres", data: asciiSTL(block, "part (unit: m)", "%g"), kind: UnitDiffers, says: "header says m"},
		{name: "header says the unit given", data: binarySTL(block, "UNITS: in", 25.4), unit: "in", kind: -1},
		{name: "far too small", data: binarySTL(block, "", 1000), kind: SizeDoubtful, says: "mm large"},
		{name: "far too large", data: binarySTL(block, "", 1e-2), unit: "m", kind: SizeDoubtful, says: "m from its origin"},
		{name: "beyond all bounds", data: number(3e38), kind: SizeDoubtful},
		{name: "header contradicts itself", data: binarySTL(block, "units=mm, drawn in unit: inch", 1), kind: UnitDiffers, count: 2, says: "both mm and in"},
		{name: "doubled and open", data: with(func(m *solid.Mesh) { m.Triangles = append(m.Triangles[1:], m.Triangles[3]) }), kind: Doubled, count: 1, and: Open, says: "lies on another"},
		{name: "side not divided", data: with(func(m *solid.Mesh) { divide(m, false) }), kind: Unsplit, count: 1, at: middle, says: "T-junction"},
		{name: "side divided by a triangle without area", data: with(func(m *solid.Mesh) { divide(m, true) }), kind: Degenerate, count: 1, at: middle, says: "without area"},
		{name: "blocks joined along an edge", data: with(func(m *solid.Mesh) { again(m, solid.Vec{X: 10, Y: 20}) }), kind: Branching, count: 1, at: solid.Vec{X: 10, Y: 20, Z: 15}, says: "more than two triangles meet in 1 side,"},
		{name: "fin on an edge", data: with(func(m *solid.Mesh) {
			m.Vertices = append(m.Vertices, solid.Vec{X: -9, Y: -9, Z: 15})
			c := m.Triangles[0]
			m.Triangles = append(m.Triangles, [3]int{c[0], c[1], len(m.Vertices) - 1})
		}), kind: Branching, count: 1, and: Open, says: "more than two"},
		{name: "blocks that run through each other", data: with(func(m *solid.Mesh) { again(m, solid.Vec{X: 5, Y: 7, Z: 9}) }), kind: Crossing, says: "runs through itself"},
		{name: "blocks that touch", data: with(func(m *solid.Mesh) { again(m, solid.Vec{X: 10, Y: 7, Z: 9}) }), kind: -1},
		{name: "ascii cut short", data: []byte(text[:len(text)/2]), kind: Unreadable, says: "line "},
		{name: "ascii misspelt", data: []byte(strings.Replace(text, "vertex", "vortex", 1)), kind: Unreadable, says: `line 4: "vortex" stands where vertex`},
		{name: "ascii bad number", data: []byte(strings.Replace(text, "vertex 0", "vertex nil", 1)), kind: Unreadable, says: "a number"},
		{name: "ascii infinite", data: []byte(strings.Replace(text, "vertex 0", "vertex 1e999", 1)), kind: NotFinite, count: 1},
		{name: "ascii capital letters", data: []byte(strings.ToUpper(text)), kind: -1},
		{name: "ascii of two bodies", data: []byte(text + strings.ReplaceAll(strings.ReplaceAll(text, " 10 ", " -3 "), " 0 ", " -7 ")), kind: -1},
	} {
		t.Run(c.name, func(t *testing.T) {
			unit := millimetre
			if c.unit != "" {
				unit, _ = UnitNamed(c.unit)
			}
			_, faults := Read(c.data, unit)
			if c.kind < 0 {
				if len(faults) > 0 {
					t.Errorf("found %v", faults)
				}
				return
			}
			if c.and != 0 {
				if len(faults) != 2 || faults[1].Kind != c.and {
					t.Fatalf("found %v, want also %v", faults, c.and)
				}
				faults = faults[:1]
			}
			if len(faults) == 1 && c.at != (solid.Vec{}) && faults[0].At.Dist(c.at) > 1e-3 {
				t.Errorf("shown at %v, want %v", faults[0].At, c.at)
			}
			if len(faults) != 1 || faults[0].Kind != c.kind || c.count != 0 && faults[0].Count != c.count || !strings.Contains(faults[0].Reason, c.says) {
				t.Errorf("found %+v, want %v of %d saying %q", faults, c.kind, c.count, c.says)
			}
		})
	}
	t.Run("cavity the wrong way about", func(t *testing.T) {
		m := &solid.Mesh{Vertices: hollow.Vertices, Triangles: append([][3]int(nil), hollow.Triangles...)}
		for i, c := range m.Triangles {
			p := m.Vertices[c[0]]
			if p.X > 1 && p.X < 29 && p.Y > 1 && p.Y < 29 {
				turn(&m.Triangles[i])
			}
		}
		_, faults := Read(binarySTL(m, "", 1), millimetre)
		if len(faults) != 1 || faults[0].Kind != Inverted || !strings.Contains(faults[0].Reason, "1 of the mesh's 2") {
			t.Errorf("found %v", faults)
		}
	})
}

// sideLength is how long side k of a triangle is.
func sideLength(m *solid.Mesh, c [3]int, k int) float64 {
	return m.Vertices[c[k]].Dist(m.Vertices[c[(k+1)%3]])
}

// TestWeld: corners a rounding apart are one vertex, and needles that this makes
// flat are gone.
func TestWeld(t *testing.T) {
	block := build(t, solid.Group{box(100.1, 20.3, 30.7)}).Mesh(1)
	shaken := &solid.Mesh{}
	for i, c := range block.Triangles {
		var s [3]int
		for k, v := range c {
			s[k] = len(shaken.Vertices)
			p := block.Vertices[v]
			p.X += float64((i+k)%3-1) * 4e-6 // float32 keeps 100 mm to 8e-6 mm
			shaken.Vertices = append(shaken.Vertices, p)
		}
		shaken.Triangles = append(shaken.Triangles, s)
	}
	m, faults := Read(binarySTL(shaken, "", 1), millimetre)
	if len(faults) > 0 || len(m.Vertices) != 8 {
		t.Errorf("%d vertices, faults %v", len(m.Vertices), faults)
	}
}

// FuzzRead: whatever the bytes are, reading answers, and a mesh without faults
// becomes a sound solid or gives faults.
func FuzzRead(f *testing.F) {
	block := build(f, solid.Group{box(10, 20, 30)}).Mesh(1)
	f.Add(binarySTL(block, "", 1), "mm")
	f.Add(binarySTL(block, "units=mm", 7), "in")
	f.Add(asciiSTL(block, "part", "%g"), "cm")
	f.Add([]byte("solid a\nfacet normal 0 0 0 outer loop vertex 0 0 0 vertex 1 0 0 vertex 0 1e-5 0 endloop endfacet endsolid"), "m")
	f.Fuzz(func(t *testing.T, data []byte, name string) {
		unit, ok := UnitNamed(name)
		if !ok {
			unit = millimetre
		}
		if len(data) > 20000 {
			return
		}
		m, faults := Read(data, unit)
		if m == nil && len(faults) == 0 {
			t.Fatal("neither mesh nor faults")
		}
		if len(faults) > 0 {
			return
		}
		s, err := solid.Build(solid.Shape{Base: solid.Group{{Shape: m.Shape(), Along: solid.AxisZ}}})
		if err != nil {
			if _, ok := err.(solid.Faults); !ok {
				t.Fatalf("%T is no fault: %v", err, err)
			}
			return
		}
		if err := s.Check(); err != nil {
			t.Fatal(err)
		}
	})
}
