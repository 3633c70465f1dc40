package proximity

import (
	"math"
	"runtime"
	"sync"

	"plansheaf/design/solid"
)

// meshTolerance (mm) is how far the triangles that find what is near may stray
// from the faces. Coarser ones are fewer, finer ones let fewer doubtful pairs
// through.
const meshTolerance = 0.015

// Body is a solid prepared for questions about nearness. What it says never
// changes; finer or smaller surfaces that sweeps ask for are made once and kept.
type Body struct {
	Solid *solid.Solid
	tree
	kept surfaces
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

// Within calls visit with triangles of the surface, in the solid's own axes and seen
// anticlockwise from outside, until it answers false: all that come near a box in those
// axes, and some around them. They stray from the faces by no more than 0.015 mm, but
// on the largest rounds. Those in a box for which skip holds are left out; a nil skip
// holds for none.
func (b *Body) Within(box solid.Box, skip func(box solid.Box) bool, visit func(t [3]solid.Vec) (goOn bool)) {
	for i := 0; i < len(b.nodes); {
		n := &b.nodes[i]
		if own := n.box(); !own.Meets(box) || skip != nil && skip(own) {
			i = after(b.nodes, i)
			continue
		}
		if n.other == 0 {
			for k := n.first; k < n.first+n.count; k++ {
				if !visit(b.triangles[k]) {
					return
				}
			}
		}
		i++
	}
}

// Bodies are solids prepared, each once. A zero Bodies is empty and ready for use, by
// several goroutines too.
type Bodies struct {
	lock sync.Mutex
	of   map[*solid.Solid]func() *Body
}

// Of returns a solid prepared.
func (b *Bodies) Of(s *solid.Solid) *Body {
	b.lock.Lock()
	if b.of == nil {
		b.of = map[*solid.Solid]func() *Body{}
	}
	one := b.of[s]
	if one == nil {
		one = sync.OnceValue(func() *Body { return New(s) })
		b.of[s] = one
	}
	b.lock.Unlock()
	return one()
}

// Prepare prepares several solids, as many at a time as there are processors, so that
// asking for them costs nothing later.
func (b *Bodies) Prepare(solids []*solid.Solid) {
	var done sync.WaitGroup
	next := make(chan *solid.Solid)
	for range runtime.GOMAXPROCS(0) {
		done.Go(func() {
			for s := range next {
				b.Of(s)
			}
		})
	}
	seen := map[*solid.Solid]bool{}
	for _, s := range solids {
		if !seen[s] {
			seen[s] = true
			next <- s
		}
	}
	close(next)
	done.Wait()
}

// Clear forgets them all, for their memory; what is asked for again is made anew.
func (b *Bodies) Clear() {
	b.lock.Lock()
	defer b.lock.Unlock()
	clear(b.of)
}

// shells returns one point on each connected piece of the boundary.
func (t *tree) shells() []solid.Vec {
	out := make([]solid.Vec, len(t.pieces))
	for i, k := range t.pieces {
		out[i] = t.triangles[k][0]
	}
	return out
}

// meshed makes the tree over a solid's triangles.
func meshed(s *solid.Solid, tolerance float64) tree {
	m := s.Mesh(tolerance)
	c := cutter{points: m.Vertices, halves: map[[2]int32]int32{}, longest: max(longSide, s.Box().Size().Len()*longShare)}
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
	for i, t := range m.Triangles {
		k := kind{face: m.Faces[i], flat: flat[m.Faces[i]]}
		k.exact = k.flat && !(curved[t[0]] && curved[t[1]] || curved[t[1]] && curved[t[2]] || curved[t[2]] && curved[t[0]])
		c.add([3]int32{int32(t[0]), int32(t[1]), int32(t[2])}, k)
	}
	return c.tree(stray(s, tolerance))
}

// Sides of triangles longer than a share of the body, and than longSide (mm), are
// halved: around long needles, such as those along a bar, boxes are mostly empty.
const (
	longSide  = 25.0
	longShare = 0.15
)

// cutter cuts the triangles of a mesh small.
type cutter struct {
	points  []solid.Vec
	corners [][3]int32 // of each triangle, indices into points
	faces   []kind
	longest float64
	halves  map[[2]int32]int32 // middles of sides that were halved
}

// add adds a triangle of a face, its sides halved until none is longer than longest.
// Triangles on both sides of a side are cut in the same places, so the surface
// stays closed.
func (t *cutter) add(c [3]int32, face kind) {
	k, l := 0, 0.0
	for i := range c {
		if d := t.points[c[i]].Dist(t.points[c[(i+1)%3]]); d > l {
			k, l = i, d
		}
	}
	if l <= t.longest {
		t.corners, t.faces = append(t.corners, c), append(t.faces, face)
		return
	}
	a, b, far := c[k], c[(k+1)%3], c[(k+2)%3]
	half, known := t.halves[[2]int32{min(a, b), max(a, b)}]
	if !known {
		half = int32(len(t.points))
		t.points = append(t.points, t.points[a].Add(t.points[b]).Mul(0.5))
		t.halves[[2]int32{min(a, b), max(a, b)}] = half
	}
	t.add([3]int32{a, half, far}, face)
	t.add([3]int32{half, b, far}, face)
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
			widest = max(widest, radius(s.Faces[i].Surface, s.Faces[i].Box().Size().Len()))
		}
	}
	if !round {
		return 0
	}
	return max(tolerance, widest*(1-math.Cos(math.Pi/mostPieces)))
}

// radius returns the largest radius of a face of the given extent.
func radius(s solid.Surface, extent float64) float64 {
	if c, ok := s.(solid.Cylinder); ok {
		return c.R
	}
	return extent
}
