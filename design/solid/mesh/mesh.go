package mesh

import (
	"fmt"
	"math"

	"plansheaf/design/solid"
)

// Mesh is a body in triangles.
type Mesh struct {
	// Vertices are the welded corners, mm, in the file's own axes.
	Vertices []solid.Vec
	// Triangles are indices into Vertices, anticlockwise seen from outside.
	Triangles [][3]int
	// Grain is how far a coordinate may be off by the rounding with which it was
	// written, mm.
	Grain float64
	// Header is what the file says about itself, printable ASCII.
	Header string
	// ASCII tells in which form the file is.
	ASCII bool
}

// Shape returns the mesh as the shape of a part.
func (m *Mesh) Shape() solid.Facets {
	return solid.Facets{Vertices: m.Vertices, Triangles: m.Triangles, Grain: m.Grain}
}

// Read reads an STL file whose numbers are in unit, and lists what is wrong with
// it. The mesh is nil where the file cannot be read at all; with faults it is not
// fit to be a part's shape.
func Read(data []byte, unit Unit) (*Mesh, []Fault) {
	r, fault := read(data)
	if fault != nil {
		return nil, []Fault{*fault}
	}
	m := &Mesh{Grain: r.grain * unit.Millimetres, Header: r.header, ASCII: r.ascii}
	faults, beyond := m.checkUnit(r, unit)
	if beyond {
		return m, faults
	}
	m.weld(r.points, unit.Millimetres)
	if len(m.Triangles) == 0 {
		return m, append(faults, Fault{Kind: Empty, Reason: "the mesh has no triangles with any area"})
	}
	return m, append(faults, m.check()...)
}

// smallestPart (mm) is the size below which a whole part is not credible.
const smallestPart = 0.1

// checkUnit compares the unit with what the file says and with its size; beyond
// tells that the body is too large to go on with.
func (m *Mesh) checkUnit(r raw, unit Unit) (faults []Fault, beyond bool) {
	switch stated := statedUnits(r.header); {
	case len(stated) > 1:
		faults = append(faults, Fault{Kind: UnitDiffers, Count: len(stated), Reason: fmt.Sprintf("the mesh's own header contradicts itself: it says both %s and %s", stated[0].Name, stated[1].Name)})
	case len(stated) == 1 && stated[0] != unit:
		faults = append(faults, Fault{Kind: UnitDiffers, Reason: fmt.Sprintf("the plan gives the mesh in %s, its own header says %s", unit.Name, stated[0].Name)})
	}
	box := solid.EmptyBox()
	for _, t := range r.points {
		box = box.Add(t[0]).Add(t[1]).Add(t[2])
	}
	if box.Empty() {
		return faults, false
	}
	s := box.Size().Mul(unit.Millimetres)
	far := math.Max(box.Max.Len(), box.Min.Len()) * unit.Millimetres
	size := math.Max(s.X, math.Max(s.Y, s.Z))
	switch {
	case size < smallestPart:
		faults = append(faults, Fault{Kind: SizeDoubtful, Reason: fmt.Sprintf("in %s the whole body is only %.3g mm large; the unit may be wrong", unit.Name, size)})
	case !(far <= solid.MaxSize):
		beyond = true
		faults = append(faults, Fault{Kind: SizeDoubtful, Reason: fmt.Sprintf("in %s the body reaches %.3g m from its origin, more than %g m; the unit may be wrong", unit.Name, far/1000, float64(solid.MaxSize)/1000)})
	}
	return faults, beyond
}

// mostGrain (mm) bounds how far apart corners may be that are welded: a file that
// is rounded more coarsely has real gaps.
const mostGrain = 1e-3

// reach (mm) is how near each other two corners are one.
func (m *Mesh) reach() float64 { return math.Max(solid.Tolerance, 2*math.Min(m.Grain, mostGrain)) }

// weld makes one vertex of corners that rounding has set apart, and drops
// triangles that have two corners in one place.
func (m *Mesh) weld(points [][3]solid.Vec, scale float64) {
	w := welder{reach: m.reach(), exact: map[solid.Vec]int{}, cells: map[[3]int64][]int{}}
	m.Triangles = make([][3]int, 0, len(points))
	for _, t := range points {
		var c [3]int
		for k, p := range t {
			c[k] = w.add(p.Mul(scale))
		}
		if c[0] != c[1] && c[1] != c[2] && c[2] != c[0] {
			m.Triangles = append(m.Triangles, c)
		}
	}
	m.Vertices = w.at
	m.dropFins()
}

// welder finds vertices by place, in cells twice as wide as its reach.
type welder struct {
	reach float64
	at    []solid.Vec
	exact map[solid.Vec]int
	cells map[[3]int64][]int
}

func (w *welder) add(p solid.Vec) int {
	v, known := w.exact[p]
	if !known {
		v = w.near(p)
		w.exact[p] = v
	}
	return v
}

// near finds a vertex near a place, or makes one.
func (w *welder) near(p solid.Vec) int {
	size := 2 * w.reach
	var low, high [3]int64
	for k, x := range [3]float64{p.X, p.Y, p.Z} {
		low[k], high[k] = int64(math.Floor((x-w.reach)/size)), int64(math.Floor((x+w.reach)/size))
	}
	for i := low[0]; i <= high[0]; i++ {
		for j := low[1]; j <= high[1]; j++ {
			for k := low[2]; k <= high[2]; k++ {
				for _, v := range w.cells[[3]int64{i, j, k}] {
					if w.at[v].Dist(p) <= w.reach {
						return v
					}
				}
			}
		}
	}
	key := [3]int64{int64(math.Floor(p.X / size)), int64(math.Floor(p.Y / size)), int64(math.Floor(p.Z / size))}
	w.cells[key] = append(w.cells[key], len(w.at))
	w.at = append(w.at, p)
	return len(w.at) - 1
}

// dropFins takes out pairs of triangles between the same corners that face
// opposite ways: nothing is between them, and needles become such when welded.
func (m *Mesh) dropFins() {
	byCorners := map[[3]int][]int{}
	for i, t := range m.Triangles {
		key, _ := sorted(t)
		byCorners[key] = append(byCorners[key], i)
	}
	gone := make([]bool, len(m.Triangles))
	any := false
	for i, t := range m.Triangles {
		key, odd := sorted(t)
		if gone[i] || len(byCorners[key]) < 2 {
			continue
		}
		for _, j := range byCorners[key] {
			if _, other := sorted(m.Triangles[j]); !gone[j] && other != odd {
				gone[i], gone[j], any = true, true, true
				break
			}
		}
	}
	if !any {
		return
	}
	kept := m.Triangles[:0]
	for i, t := range m.Triangles {
		if !gone[i] {
			kept = append(kept, t)
		}
	}
	m.Triangles = kept
}

// sorted returns a triangle's corners in growing order, and whether that changes
// the way it faces.
func sorted(t [3]int) (key [3]int, odd bool) {
	for _, s := range [3][2]int{{0, 1}, {1, 2}, {0, 1}} {
		if t[s[0]] > t[s[1]] {
			t[s[0]], t[s[1]] = t[s[1]], t[s[0]]
			odd = !odd
		}
	}
	return t, odd
}
