package sequence

import (
	"math"

	"plansheaf/design/solid"
)

const (
	// meshStray (mm) is how far the triangles that stand for round faces may lie off
	// them.
	meshStray = 0.03
	// touching (mm) is how far a tool may reach into something before it counts as
	// blocked: more than the triangles stray, less than anybody notices.
	touching = 0.05
	// leafTriangles is how many triangles a leaf of the tree holds.
	leafTriangles = 8
)

// A mesh is a solid in triangles in a tree of boxes, in the solid's own axes.
type mesh struct {
	corners [][3]solid.Vec
	nodes   []node
	box     solid.Box
}

// A node covers triangles from..to, either as a leaf (left == 0) or by two nodes.
type node struct {
	box         solid.Box
	from, to    int
	left, right int
}

func newMesh(s *solid.Solid) *mesh {
	m := &mesh{box: s.Box()}
	raw := s.Mesh(meshStray)
	for _, t := range raw.Triangles {
		m.corners = append(m.corners, [3]solid.Vec{raw.Vertices[t[0]], raw.Vertices[t[1]], raw.Vertices[t[2]]})
	}
	if len(m.corners) > 0 {
		m.split(0, len(m.corners))
	}
	return m
}

// split makes the node over triangles from..to and returns its index.
func (m *mesh) split(from, to int) int {
	box := solid.EmptyBox()
	for _, t := range m.corners[from:to] {
		box = box.Add(t[0]).Add(t[1]).Add(t[2])
	}
	at := len(m.nodes)
	m.nodes = append(m.nodes, node{box: box, from: from, to: to})
	if to-from <= leafTriangles {
		return at
	}
	size, axis := box.Size(), 0
	if size.Y > size.X {
		axis = 1
	}
	if size.Z > max(size.X, size.Y) {
		axis = 2
	}
	half := m.part(from, to, axis, (along(box.Min, axis)+along(box.Max, axis))/2)
	left := m.split(from, half)
	right := m.split(half, to)
	m.nodes[at].left, m.nodes[at].right = left, right
	return at
}

// part brings the triangles whose middles lie below a place on an axis to the front
// and returns where the others begin; where that divides nothing, the middle.
func (m *mesh) part(from, to, axis int, at float64) int {
	next := from
	for i := from; i < to; i++ {
		t := &m.corners[i]
		if along(t[0], axis)+along(t[1], axis)+along(t[2], axis) < 3*at {
			m.corners[i], m.corners[next] = m.corners[next], m.corners[i]
			next++
		}
	}
	// A lopsided division would make the tree deep.
	if share := max(1, (to-from)/leastShare); next-from < share || to-next < share {
		return (from + to) / 2
	}
	return next
}

// leastShare: a node holds at least this part of its parent's triangles.
const leastShare = 16

// along is a vector's part along axis 0, 1 or 2.
func along(v solid.Vec, axis int) float64 { return [3]float64{v.X, v.Y, v.Z}[axis] }

// within visits the triangles whose nodes come near a box in the mesh's own axes.
func (m *mesh) within(box solid.Box, visit func(t [3]solid.Vec) (goOn bool)) {
	if len(m.nodes) == 0 {
		return
	}
	var room [64]int
	stack := append(room[:0], 0)
	for len(stack) > 0 {
		n := &m.nodes[stack[len(stack)-1]]
		stack = stack[:len(stack)-1]
		if !n.box.Meets(box) {
			continue
		}
		if n.left == 0 {
			for _, t := range m.corners[n.from:n.to] {
				if !visit(t) {
					return
				}
			}
			continue
		}
		stack = append(stack, n.left, n.right)
	}
}

// boxUnder is the box around a box that a placement has moved.
func boxUnder(b solid.Box, p solid.Placement) solid.Box {
	centre, half := p.Point(b.Centre()), b.Size().Mul(0.5)
	var reach solid.Vec
	for i, h := range []float64{half.X, half.Y, half.Z} {
		reach.X += math.Abs(p.Turn[i].X) * h
		reach.Y += math.Abs(p.Turn[i].Y) * h
		reach.Z += math.Abs(p.Turn[i].Z) * h
	}
	return solid.Box{Min: centre.Sub(reach), Max: centre.Add(reach)}
}
