package proximity

import (
	"math"

	"plansheaf/design/solid"
)

// kind tells what a triangle stands for.
type kind struct {
	face int
	// flat tells that the face is a plane one, exact that no side of the triangle
	// may be a chord of a round edge: the triangle is a piece of the face then.
	flat, exact bool
}

// tree is a hierarchy of boxes over triangles.
type tree struct {
	points    []solid.Vec
	corners   [][3]int32 // of each triangle, indices into points
	triangles []triangle
	normals   []solid.Vec // by triangle
	faces     []kind
	nodes     []node
	pieces    []int // a triangle of each connected piece of the surface
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

// tree makes the hierarchy over what was cut.
func (c *cutter) tree(stray float64) tree {
	n := len(c.corners)
	t := tree{points: c.points, stray: stray, faces: make([]kind, n), corners: make([][3]int32, n)}
	s := splitter{order: make([]int32, n), middle: make([][3]float64, n)}
	for i, v := range c.corners {
		m := c.points[v[0]].Add(c.points[v[1]]).Add(c.points[v[2]])
		s.order[i], s.middle[i] = int32(i), [3]float64{m.X, m.Y, m.Z}
	}
	t.nodes = s.nodesOver(n)
	for i, k := range s.order {
		t.corners[i], t.faces[i] = c.corners[k], c.faces[k]
	}
	t.fit()
	t.findPieces()
	return t
}

// splitter puts things, given by their middles, in the order of a hierarchy.
type splitter struct {
	nodes  []node
	order  []int32
	middle [][3]float64
}

// nodesOver makes the nodes over the n things in the order.
func (s *splitter) nodesOver(n int) []node {
	if n > 0 {
		s.nodes = make([]node, 0, 2*n/leafSize+2)
		s.split(0, n)
	}
	return s.nodes
}

// split makes the nodes of the things from lo up to hi of the order: halves along
// the longest side of the box of their middles.
func (s *splitter) split(lo, hi int) {
	at := len(s.nodes)
	s.nodes = append(s.nodes, node{first: lo, count: hi - lo})
	if hi-lo <= leafSize {
		return
	}
	low, high := s.middle[s.order[lo]], s.middle[s.order[lo]]
	for _, i := range s.order[lo+1 : hi] {
		for k, x := range s.middle[i] {
			if x < low[k] {
				low[k] = x
			} else if x > high[k] {
				high[k] = x
			}
		}
	}
	axis := 0
	for k := 1; k < 3; k++ {
		if high[k]-low[k] > high[axis]-low[axis] {
			axis = k
		}
	}
	half := (lo + hi) / 2
	s.part(lo, hi, half, axis)
	s.split(lo, half)
	s.nodes[at].other = len(s.nodes)
	s.split(half, hi)
}

// part orders the things from lo up to hi so that none before half lies further
// along the axis than any from half on (Hoare's selection).
func (s *splitter) part(lo, hi, half, axis int) {
	for hi--; lo < hi; {
		pivot := s.middle[s.order[(lo+hi)/2]][axis]
		i, j := lo, hi
		for i <= j {
			for s.middle[s.order[i]][axis] < pivot {
				i++
			}
			for s.middle[s.order[j]][axis] > pivot {
				j--
			}
			if i <= j {
				s.order[i], s.order[j] = s.order[j], s.order[i]
				i++
				j--
			}
		}
		switch {
		case half <= j:
			hi = j
		case half >= i:
			lo = i
		default:
			return
		}
	}
}

// fit works out triangles, normals and boxes from the points.
func (t *tree) fit() {
	t.triangles, t.normals = make([]triangle, len(t.corners)), make([]solid.Vec, len(t.corners))
	for i, c := range t.corners {
		t.triangles[i] = triangle{t.points[c[0]], t.points[c[1]], t.points[c[2]]}
		t.normals[i] = t.triangles[i].normal()
	}
	low, high := make([]solid.Vec, len(t.nodes)), make([]solid.Vec, len(t.nodes))
	for i := len(t.nodes) - 1; i >= 0; i-- { // children come after their parents
		n := &t.nodes[i]
		if n.other != 0 {
			low[i], high[i] = lower(low[i+1], low[n.other]), upper(high[i+1], high[n.other])
		} else {
			low[i], high[i] = t.triangles[n.first][0], t.triangles[n.first][0]
			for k := n.first; k < n.first+n.count; k++ {
				c := &t.triangles[k]
				low[i], high[i] = lower(lower(low[i], c[0]), lower(c[1], c[2])), upper(upper(high[i], c[0]), upper(c[1], c[2]))
			}
		}
		n.centre, n.half = low[i].Add(high[i]).Mul(0.5), high[i].Sub(low[i]).Mul(0.5)
	}
}

func lower(a, b solid.Vec) solid.Vec {
	if b.X < a.X {
		a.X = b.X
	}
	if b.Y < a.Y {
		a.Y = b.Y
	}
	if b.Z < a.Z {
		a.Z = b.Z
	}
	return a
}

func upper(a, b solid.Vec) solid.Vec {
	if b.X > a.X {
		a.X = b.X
	}
	if b.Y > a.Y {
		a.Y = b.Y
	}
	if b.Z > a.Z {
		a.Z = b.Z
	}
	return a
}

// findPieces finds a triangle of each connected piece of the surface.
func (t *tree) findPieces() {
	group := make([]int32, len(t.points))
	for i := range group {
		group[i] = int32(i)
	}
	root := func(i int32) int32 {
		for group[i] != i {
			group[i] = group[group[i]]
			i = group[i]
		}
		return i
	}
	for _, c := range t.corners {
		for _, p := range c[1:] {
			a, b := root(c[0]), root(p)
			group[max(a, b)] = min(a, b)
		}
	}
	seen := make([]bool, len(t.points))
	for i, c := range t.corners {
		if g := root(c[0]); !seen[g] {
			seen[g] = true
			t.pieces = append(t.pieces, i)
		}
	}
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
				best = max(best, p.Dot(d))
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

// encloses tells whether a point lies within the surface: a ray, in a direction
// without a relation to the axes, meets its triangles an odd number of times.
func (t *tree) encloses(p solid.Vec) bool {
	d := solid.Vec{X: 0.5363, Y: 0.2871, Z: 0.7937}
	n := &t.nodes[0]
	if o := p.Sub(n.centre); math.Abs(o.X) > n.half.X || math.Abs(o.Y) > n.half.Y || math.Abs(o.Z) > n.half.Z {
		return false
	}
	far := p.Add(d.Mul(4 * n.half.Len()))
	in := false
	for i := 0; i < len(t.nodes); {
		n := &t.nodes[i]
		if !n.onRay(p, d) {
			i = after(t.nodes, i)
			continue
		}
		if n.other == 0 {
			for k := n.first; k < n.first+n.count; k++ {
				if _, hit := t.triangles[k].pierced(p, far); hit {
					in = !in
				}
			}
		}
		i++
	}
	return in
}

// after returns the node that follows node i and all below it.
func after(nodes []node, i int) int {
	for nodes[i].other != 0 {
		i = nodes[i].other
	}
	return i + 1
}

// onRay tells whether a ray of positive direction may meet the node's box.
func (n *node) onRay(p, d solid.Vec) bool {
	from, to := 0.0, math.Inf(1)
	for _, k := range [3][3]float64{
		{n.centre.X - p.X, n.half.X, d.X}, {n.centre.Y - p.Y, n.half.Y, d.Y}, {n.centre.Z - p.Z, n.half.Z, d.Z},
	} {
		half := k[1] + hair
		from, to = max(from, (k[0]-half)/k[2]), min(to, (k[0]+half)/k[2])
	}
	return from <= to
}

// nearest calls visit for the triangles that are no further from a point than limit,
// which may sink meanwhile, those that promise to be nearer first.
func (t *tree) nearest(p solid.Vec, limit func() float64, visit func(triangle int, d float64, at solid.Vec)) {
	if len(t.nodes) > 0 {
		t.approach(0, p, limit, visit)
	}
}

func (t *tree) approach(i int, p solid.Vec, limit func() float64, visit func(triangle int, d float64, at solid.Vec)) {
	n := &t.nodes[i]
	if n.other == 0 {
		for k := n.first; k < n.first+n.count; k++ {
			q := t.triangles[k].nearest(p)
			if d := q.Dist(p); d <= limit() {
				visit(k, d, q)
			}
		}
		return
	}
	near, far := i+1, n.other
	x, y := t.nodes[near].off(p), t.nodes[far].off(p)
	if y < x {
		near, far, x, y = far, near, y, x
	}
	if x <= limit() {
		t.approach(near, p, limit, visit)
	}
	if y <= limit() {
		t.approach(far, p, limit, visit)
	}
}

// off is how far a point lies off the node's box.
func (n *node) off(p solid.Vec) float64 {
	w := p.Sub(n.centre)
	x, y, z := max(0, math.Abs(w.X)-n.half.X), max(0, math.Abs(w.Y)-n.half.Y), max(0, math.Abs(w.Z)-n.half.Z)
	return math.Sqrt(x*x + y*y + z*z)
}
