package proximity

import (
	"math"
	"sort"

	"plansheaf/design/solid"
)

// meshTolerance (mm) is how far the triangles that find what is near may stray
// from the faces. Coarser ones are fewer, finer ones let fewer doubtful pairs
// through.
const meshTolerance = 0.02

// Body is a solid prepared for questions about nearness. It is never altered.
type Body struct {
	Solid *solid.Solid
	tree
	// shells are one point on each connected piece of the boundary.
	shells []solid.Vec
}

// Placed is a body at a place.
type Placed struct {
	Body *Body
	At   solid.Placement
}

// New prepares a solid.
func New(s *solid.Solid) *Body {
	return &Body{Solid: s, tree: meshed(s, meshTolerance), shells: shells(s)}
}

// meshed makes the tree over a solid's triangles.
func meshed(s *solid.Solid, tolerance float64) tree {
	m := s.Mesh(tolerance)
	t := tree{stray: stray(s, tolerance), faces: append([]int(nil), m.Faces...)}
	for _, c := range m.Triangles {
		t.triangles = append(t.triangles, triangle{m.Vertices[c[0]], m.Vertices[c[1]], m.Vertices[c[2]]})
	}
	t.build()
	return t
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

// shells returns a vertex of each connected piece of the boundary.
func shells(s *solid.Solid) []solid.Vec {
	group := make([]int, len(s.Faces))
	for i := range group {
		group[i] = i
	}
	root := func(i int) int {
		for group[i] != i {
			group[i] = group[group[i]]
			i = group[i]
		}
		return i
	}
	for i := range s.Edges {
		f := s.Edges[i].Faces
		if f[0] >= 0 && f[1] >= 0 {
			a, b := root(f[0]), root(f[1])
			group[max(a, b)] = min(a, b)
		}
	}
	var out []solid.Vec
	for i := range s.Faces {
		if root(i) == i && len(s.Faces[i].Loops) > 0 {
			out = append(out, s.Edges[s.Faces[i].Loops[0][0].Edge].Point(0.5))
		}
	}
	return out
}

// tree is a hierarchy of boxes over triangles.
type tree struct {
	triangles []triangle
	faces     []int // by triangle
	nodes     []node
	stray     float64
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
	triangles, faces := make([]triangle, len(order)), make([]int, len(order))
	for i, k := range order {
		triangles[i], faces[i] = t.triangles[k], t.faces[k]
	}
	t.triangles, t.faces = triangles, faces
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
