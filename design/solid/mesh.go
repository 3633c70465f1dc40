package solid

import (
	"math"
	"sort"
)

// Mesh is a solid in triangles: closed, each edge shared by two triangles that
// run through it in opposite ways, anticlockwise seen from outside.
type Mesh struct {
	Vertices  []Vec
	Triangles [][3]int
	// Faces tells for each triangle the face of the solid it lies on.
	Faces []int
}

// Mesh returns the solid in triangles whose corners lie on the exact surfaces
// and which stray from them by about tolerance mm at most. Tolerance is held
// between 1e-4 and 100 mm, and a full turn is never cut into fewer than 8 or
// more than 512 pieces.
func (s *Solid) Mesh(tolerance float64) *Mesh {
	if !(tolerance >= 1e-4) {
		tolerance = 1e-4
	}
	m := &mesher{s: s, tol: math.Min(tolerance, 100), out: &Mesh{}}
	m.at.init()
	m.vertex = make([]int, len(s.Vertices))
	for i, v := range s.Vertices {
		m.vertex[i] = m.at.add(v)
	}
	m.grid = make([]int, len(s.Faces))
	for i := range s.Faces {
		m.grid[i] = m.divisions(&s.Faces[i])
	}
	m.sampleEdges()
	for i := range s.Faces {
		if m.grid[i] == 0 {
			m.flatFace(i)
		} else {
			m.roundFace(i)
		}
	}
	m.out.Vertices = m.at.at
	return m.out
}

// Volume returns the volume the mesh encloses, mm³.
func (m *Mesh) Volume() float64 {
	var v float64
	for _, t := range m.Triangles {
		v += m.Vertices[t[0]].Dot(m.Vertices[t[1]].Cross(m.Vertices[t[2]])) / 6
	}
	return v
}

// mesher is the state of making a mesh.
type mesher struct {
	s   *Solid
	tol float64
	out *Mesh
	// at holds the mesh's vertices. Edges that touch share one where they do,
	// else rounding would decide which lies on which side.
	at     vertexTable
	vertex []int   // mesh vertex of each of the solid's
	grid   []int   // divisions of a turn by face, 0 for flat ones
	line   [][]int // mesh vertices along each edge
}

// divisions returns into how many pieces a full turn of a face is cut.
func (m *mesher) divisions(f *Face) int {
	if !periodic(f.Surface) {
		return 0
	}
	var r float64
	for _, t := range f.trim {
		r = math.Max(r, f.Surface.widest(t.h0, t.h1))
	}
	return m.turnPieces(r)
}

// turnPieces returns into how many pieces a turn of radius r must be cut: a
// multiple of four.
func (m *mesher) turnPieces(r float64) int {
	n := 8.0
	if r > m.tol {
		n = math.Pi / math.Acos(1-m.tol/r)
	}
	return 4 * int(math.Ceil(math.Max(8, math.Min(512, n))/4))
}

// gridAngle is the angle of grid line k of n.
func gridAngle(k, n int) float64 { return 2 * math.Pi * float64(k) / float64(n) }

// sampleGap (mm) is how far apart samples along an edge must be to count as two.
const sampleGap = 5e-6

// sampleEdges puts vertices along every edge: as dense as the tolerance asks,
// and where grid lines of the round faces beside it cross it.
func (m *mesher) sampleEdges() {
	m.line = make([][]int, len(m.s.Edges))
	extra := make([][]float64, len(m.s.Edges))
	for i := range m.s.Faces {
		n := m.grid[i]
		if n == 0 {
			continue
		}
		f := &m.s.Faces[i]
		for j := range f.trim {
			p := &f.trim[j]
			if p.s0 == p.s1 {
				continue
			}
			e := &m.s.Edges[p.edge]
			for k := int(math.Ceil(p.s0 * float64(n) / (2 * math.Pi))); gridAngle(k, n) <= p.s1; k++ {
				if p.endsAt(e, f.Surface, gridAngle(k, n)) {
					continue
				}
				extra[p.edge] = append(extra[p.edge], p.paramAt(f.Surface, e.Curve, gridAngle(k, n)))
			}
		}
	}
	for i := range m.s.Edges {
		e := &m.s.Edges[i]
		ts := extra[i]
		if len(ts) == 0 || !m.coaxial(e) {
			n := m.pieces(e)
			for k := 1; k < n; k++ {
				ts = append(ts, e.T0+(e.T1-e.T0)*float64(k)/float64(n))
			}
		}
		sort.Float64s(ts)
		m.line[i] = []int{m.vertex[e.Start]}
		last, end := m.s.Vertices[e.Start], m.s.Vertices[e.End]
		for _, t := range ts {
			p := e.Curve.Point(t)
			if p.Dist(last) < sampleGap || p.Dist(end) < sampleGap {
				continue
			}
			m.line[i] = append(m.line[i], m.at.add(p))
			last = p
		}
		m.line[i] = append(m.line[i], m.vertex[e.End])
	}
}

// endsAt tells whether the piece has an end of its edge on a grid line; the
// vertex there does for the crossing.
func (t *piece) endsAt(e *Edge, s Surface, angle float64) bool {
	vertex := func(t float64) bool { return t == e.T0 || t == e.T1 }
	return vertex(t.t0) && math.Abs(angle-t.s0)*s.sweepScale(t.h0) < onGrid ||
		vertex(t.t1) && math.Abs(angle-t.s1)*s.sweepScale(t.h1) < onGrid
}

// coaxial tells whether an edge is a circle about the axis of a round face
// beside it, so that the face's grid divides it well enough.
func (m *mesher) coaxial(e *Edge) bool {
	c, ok := e.Curve.(Circle)
	if !ok {
		return false
	}
	for _, f := range e.Faces {
		g, round := m.s.Faces[f].Surface.round()
		if round && g.Z.Cross(c.Z).Len() < 1e-6 {
			return true
		}
	}
	return false
}

// pieces returns into how many straight pieces an edge is cut for itself.
func (m *mesher) pieces(e *Edge) int {
	share := (e.T1 - e.T0) / (2 * math.Pi)
	switch c := e.Curve.(type) {
	case Line:
		return 1
	case Circle:
		return int(math.Ceil(share * float64(m.turnPieces(c.R))))
	case Ellipse:
		return int(math.Ceil(share * float64(m.turnPieces(math.Max(c.A, c.B)))))
	}
	n := 8
	for ; n < 256; n *= 2 {
		worst := 0.0
		for k := 0; k < n; k++ {
			a, b, c := e.Point(float64(k)/float64(n)), e.Point((float64(k)+0.5)/float64(n)), e.Point(float64(k+1)/float64(n))
			worst = math.Max(worst, b.Dist(a.Add(c).Mul(0.5)))
		}
		if worst < m.tol {
			break
		}
	}
	return n
}

// paramAt returns the parameter at which the piece reaches a sweep coordinate.
func (t *piece) paramAt(s Surface, c Curve, sw float64) float64 {
	if _, ok := c.(Circle); ok {
		if axis, round := s.round(); round && axis.Z.Cross(c.(Circle).Z).Len() < 1e-9 {
			return t.t0 + (t.t1-t.t0)*(sw-t.s0)/(t.s1-t.s0)
		}
	}
	return t.find(s, c, sw)
}

// corner is a mesh vertex in a face's parameters.
type corner struct {
	v    int
	x, y float64
}

// loops returns a face's loops as mesh vertices, with the face on the left seen
// against the surface's own normal.
func (m *mesher) loops(face int) [][]int {
	f := &m.s.Faces[face]
	var out [][]int
	for _, l := range f.Loops {
		var ring []int
		for _, u := range l {
			line := m.line[u.Edge]
			if u.Reversed {
				line = turnedInts(line)
			}
			ring = append(ring, line[:len(line)-1]...)
		}
		if f.Inward {
			ring = turnedInts(ring)
		}
		out = append(out, ring)
	}
	return out
}

func turnedInts(a []int) []int {
	out := make([]int, len(a))
	for i, x := range a {
		out[len(a)-1-i] = x
	}
	return out
}

// flatFace adds the triangles of a plane face.
func (m *mesher) flatFace(face int) {
	s := m.s.Faces[face].Surface
	var rings [][]corner
	for _, l := range m.loops(face) {
		var r []corner
		for _, v := range l {
			x, y := s.Param(m.at.at[v])
			r = append(r, corner{v, x, y})
		}
		rings = append(rings, r)
	}
	m.fill(face, rings)
}

// fill adds triangles for an outer ring and the holes in it.
func (m *mesher) fill(face int, rings [][]corner) {
	for _, t := range triangulate(rings) {
		if t[0] == t[1] || t[1] == t[2] || t[2] == t[0] {
			continue // two corners at a cone's tip are one place
		}
		if m.s.Faces[face].Inward {
			t[1], t[2] = t[2], t[1]
		}
		m.out.Triangles = append(m.out.Triangles, t)
		m.out.Faces = append(m.out.Faces, face)
	}
}
