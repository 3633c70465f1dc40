package proximity

import (
	"math"
	"sort"
	"sync/atomic"

	"plansheaf/design/solid"
)

// meshTolerance (mm) is how far the triangles that find what is near may stray
// from the faces. Coarser ones are fewer, finer ones let fewer doubtful pairs
// through.
const meshTolerance = 0.015

// Body is a solid prepared for questions about nearness. It is not to be copied;
// what it answers never changes.
type Body struct {
	Solid *solid.Solid
	tree
	last atomic.Pointer[shrunken] // made by the last sweep
}

// Placed is a body at a place.
type Placed struct {
	Body *Body
	At   solid.Placement
}

// New prepares a solid.
func New(s *solid.Solid) *Body {
	return &Body{Solid: s, tree: meshed(s, meshTolerance)}
}

// meshed makes the tree over a solid's triangles.
func meshed(s *solid.Solid, tolerance float64) tree {
	m := s.Mesh(tolerance)
	t := tree{stray: stray(s, tolerance)}
	flat := make([]bool, len(s.Faces))
	for i := range s.Faces {
		_, flat[i] = s.Faces[i].Surface.(solid.Plane)
	}
	curved := make([]bool, len(m.Vertices)) // on a round face, or on its rim
	for i, c := range m.Triangles {
		for _, v := range c {
			curved[v] = curved[v] || !flat[m.Faces[i]]
		}
	}
	longest := math.Max(longSide, s.Box().Size().Len()*longShare)
	for i, c := range m.Triangles {
		k := kind{face: m.Faces[i], flat: flat[m.Faces[i]]}
		k.exact = k.flat && !(curved[c[0]] && curved[c[1]] || curved[c[1]] && curved[c[2]] || curved[c[2]] && curved[c[0]])
		t.add(triangle{m.Vertices[c[0]], m.Vertices[c[1]], m.Vertices[c[2]]}, k, longest)
	}
	t.build()
	t.shells = t.pieces()
	return t
}

// Sides of triangles longer than a share of the body, and than longSide (mm), are
// halved: around long needles, such as those along a bar, boxes are mostly empty.
const (
	longSide  = 25.0
	longShare = 0.15
)

// add adds a triangle of a face, its sides halved until none is longer than longest.
// Triangles on both sides of a side are cut in the same places, so the surface
// stays closed.
func (t *tree) add(c triangle, face kind, longest float64) {
	k, l := 0, 0.0
	for i := range c {
		if d := c[i].Dist(c[(i+1)%3]); d > l {
			k, l = i, d
		}
	}
	if l <= longest {
		t.triangles, t.faces = append(t.triangles, c), append(t.faces, face)
		return
	}
	a, b, far := c[k], c[(k+1)%3], c[(k+2)%3]
	half := a.Add(b).Mul(0.5)
	t.add(triangle{a, half, far}, face, longest)
	t.add(triangle{half, b, far}, face, longest)
}

// mostPieces is into how many pieces a mesh cuts a full turn at most.
const mostPieces = 512

// stray returns how far the triangles may lie off the faces, mm: the tolerance, or
// more on rounds so large that the limit of pieces keeps it from being met; nothing
// where all faces are flat.
func stray(s *solid.Solid, tolerance float64) float64 {
	round := false
	widest := 0.0
	for i := range s.Faces {
		if _, flat := s.Faces[i].Surface.(solid.Plane); !flat {
			round = true
			widest = math.Max(widest, radius(s.Faces[i].Surface, s.Faces[i].Box().Size().Len()))
		}
	}
	if !round {
		return 0
	}
	return math.Max(tolerance, widest*(1-math.Cos(math.Pi/mostPieces)))
}

// radius returns the largest radius of a face of the given extent.
func radius(s solid.Surface, extent float64) float64 {
	if c, ok := s.(solid.Cylinder); ok {
		return c.R
	}
	return extent
}

// pieces returns a corner of each connected piece of the surface.
func (t *tree) pieces() []solid.Vec {
	group := make([]int, len(t.triangles))
	root := func(i int) int {
		for group[i] != i {
			group[i] = group[group[i]]
			i = group[i]
		}
		return i
	}
	first := map[solid.Vec]int{} // triangle at each corner
	for i := range t.triangles {
		group[i] = i
		for _, p := range t.triangles[i] {
			k, known := first[p]
			if !known {
				first[p] = i
				continue
			}
			a, b := root(i), root(k)
			group[max(a, b)] = min(a, b)
		}
	}
	var out []solid.Vec
	for i := range t.triangles {
		if root(i) == i {
			out = append(out, t.triangles[i][0])
		}
	}
	return out
}

// kind tells what a triangle stands for.
type kind struct {
	face int
	// flat tells that the face is a plane one, exact that no side of the triangle
	// may be a chord of a round edge: the triangle is a piece of the face then.
	flat, exact bool
}

// tree is a hierarchy of boxes over triangles.
type tree struct {
	triangles []triangle
	normals   []solid.Vec // by triangle
	faces     []kind
	nodes     []node
	stray     float64
	// shells are one point on each connected piece of the surface.
	shells []solid.Vec
}

// node holds the triangles first to first+count. Its children are the next node
// and the one at other; a leaf has none.
type node struct {
	centre, half solid.Vec
	first, count int
	other        int // 0 for a leaf
}

// leafSize is how many triangles a leaf may hold.
const leafSize = 4

func (t *tree) build() {
	order := make([]int, len(t.triangles))
	middle := make([]solid.Vec, len(t.triangles))
	for i, c := range t.triangles {
		order[i], middle[i] = i, c[0].Add(c[1]).Add(c[2])
	}
	t.nodes = t.nodes[:0]
	if len(order) > 0 {
		t.split(order, middle, 0)
	}
	triangles, faces := make([]triangle, len(order)), make([]kind, len(order))
	for i, k := range order {
		triangles[i], faces[i] = t.triangles[k], t.faces[k]
	}
	t.triangles, t.faces = triangles, faces
	t.normals = make([]solid.Vec, len(triangles))
	for i := range triangles {
		t.normals[i] = triangles[i].normal()
	}
}

// split makes the node of the triangles in order, and those below it: halves along
// the longest side of the box of their middles.
func (t *tree) split(order []int, middle []solid.Vec, first int) {
	box, spread := solid.EmptyBox(), solid.EmptyBox()
	for _, i := range order {
		for _, p := range t.triangles[i] {
			box = box.Add(p)
		}
		spread = spread.Add(middle[i])
	}
	at := len(t.nodes)
	t.nodes = append(t.nodes, node{centre: box.Centre(), half: box.Size().Mul(0.5), first: first, count: len(order)})
	if len(order) <= leafSize {
		return
	}
	s := spread.Size()
	axis := solid.Vec{X: 1}
	switch {
	case s.Y >= s.X && s.Y >= s.Z:
		axis = solid.Vec{Y: 1}
	case s.Z >= s.X:
		axis = solid.Vec{Z: 1}
	}
	sort.SliceStable(order, func(i, j int) bool { return middle[order[i]].Dot(axis) < middle[order[j]].Dot(axis) })
	half := len(order) / 2
	t.split(order[:half], middle, first)
	t.nodes[at].other = len(t.nodes)
	t.split(order[half:], middle, first+half)
}

// boxUnder returns a box around the placed triangles, grown by what they stray
// from the faces: at most that much larger than the body's own.
func (t *tree) boxUnder(p solid.Placement) solid.Box {
	if len(t.nodes) == 0 {
		return solid.EmptyBox()
	}
	back := p.Inverse()
	var low, high [3]float64
	for k, axis := range [3]solid.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
		d, off := back.Direction(axis), p.Move.Dot(axis)
		high[k] = off + t.reach(0, d, math.Inf(-1))
		low[k] = off - t.reach(0, d.Mul(-1), math.Inf(-1))
	}
	return solid.Box{
		Min: solid.Vec{X: low[0], Y: low[1], Z: low[2]},
		Max: solid.Vec{X: high[0], Y: high[1], Z: high[2]},
	}.Grow(t.stray)
}

// reach returns how far the triangles of a node reach along a direction, or best
// where that is more.
func (t *tree) reach(i int, d solid.Vec, best float64) float64 {
	n := &t.nodes[i]
	most := func(n *node) float64 {
		return n.centre.Dot(d) + n.half.X*math.Abs(d.X) + n.half.Y*math.Abs(d.Y) + n.half.Z*math.Abs(d.Z)
	}
	if most(n) <= best {
		return best
	}
	if n.other == 0 {
		for k := n.first; k < n.first+n.count; k++ {
			for _, p := range t.triangles[k] {
				best = math.Max(best, p.Dot(d))
			}
		}
		return best
	}
	near, far := i+1, n.other
	if most(&t.nodes[far]) > most(&t.nodes[near]) {
		near, far = far, near
	}
	return t.reach(far, d, t.reach(near, d, best))
}
