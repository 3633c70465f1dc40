package mesh

import (
	"fmt"
	"math"
	"sort"

	"plansheaf/design/solid"
)

// mostLooks bounds how many pairs of boxes the search for crossing triangles looks
// at, besides some for each triangle.
const (
	mostLooks     = 20_000_000
	looksTriangle = 400
)

// crossing finds triangles that run through others. Triangles that only touch, and
// those that lie on others in one plane, are not found here.
func (m *Mesh) crossing() []Fault {
	h := hierarchy{m: m, order: make([]int, len(m.Triangles)), boxes: make([]solid.Box, len(m.Triangles)), normals: make([]solid.Vec, len(m.Triangles)), slack: 2 * m.reach()}
	h.left = mostLooks + looksTriangle*len(m.Triangles)
	for i, t := range m.Triangles {
		h.order[i] = i
		a, b, c := m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]]
		h.boxes[i] = solid.EmptyBox().Add(a).Add(b).Add(c)
		h.normals[i] = b.Sub(a).Cross(c.Sub(a)).Unit()
	}
	h.split(0, len(h.order))
	h.found.Kind = Crossing
	h.among(0)
	switch {
	case h.found.Count > 0:
		h.found.Reason = fmt.Sprintf("the mesh runs through itself: %s, one near %s", counted(h.found.Count, "pair of triangles crosses", "pairs of triangles cross"), place(h.found.At))
		return []Fault{h.found}
	case h.left <= 0:
		return []Fault{{Kind: TooLarge, Reason: "too many of the mesh's triangles lie near each other to find out whether they cross"}}
	}
	return nil
}

// hierarchy is a tree of boxes over triangles.
type hierarchy struct {
	m       *Mesh
	order   []int
	boxes   []solid.Box // by triangle
	normals []solid.Vec
	nodes   []branch
	slack   float64 // mm: what runs through by less is rounding
	left    int     // looks
	found   Fault
}

// branch holds the triangles from lo up to hi of the order. Its children are the next
// branch and the one at other; a leaf has none.
type branch struct {
	box    solid.Box
	lo, hi int
	other  int
}

const leafTriangles = 6

func (h *hierarchy) split(lo, hi int) {
	at := len(h.nodes)
	h.nodes = append(h.nodes, branch{lo: lo, hi: hi, box: solid.EmptyBox()})
	spread := solid.EmptyBox()
	box := &h.nodes[at].box
	for _, i := range h.order[lo:hi] {
		*box = box.Join(h.boxes[i])
		spread = spread.Add(h.boxes[i].Centre())
	}
	if hi-lo <= leafTriangles {
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
	part := h.order[lo:hi]
	sort.Slice(part, func(i, j int) bool {
		a, b := h.boxes[part[i]].Centre().Dot(axis), h.boxes[part[j]].Centre().Dot(axis)
		return a < b || a == b && part[i] < part[j]
	})
	half := (lo + hi) / 2
	h.split(lo, half)
	h.nodes[at].other = len(h.nodes)
	h.split(half, hi)
}

// among looks for crossings among the triangles of a branch.
func (h *hierarchy) among(i int) {
	n := &h.nodes[i]
	if n.other == 0 {
		h.leaves(n, n)
		return
	}
	h.among(i + 1)
	h.among(n.other)
	h.between(i+1, n.other)
}

// between looks for crossings between those of two branches.
func (h *hierarchy) between(i, j int) {
	a, b := &h.nodes[i], &h.nodes[j]
	if h.left--; h.left <= 0 || !a.box.Meets(b.box) {
		return
	}
	switch {
	case a.other == 0 && b.other == 0:
		h.leaves(a, b)
	case b.other == 0 || a.other != 0 && a.hi-a.lo >= b.hi-b.lo:
		h.between(i+1, j)
		h.between(a.other, j)
	default:
		h.between(i, j+1)
		h.between(i, b.other)
	}
}

func (h *hierarchy) leaves(a, b *branch) {
	for x := a.lo; x < a.hi; x++ {
		from := b.lo
		if a == b {
			from = x + 1
		}
		for y := from; y < b.hi; y++ {
			i, j := h.order[x], h.order[y]
			h.left--
			if !h.boxes[i].Meets(h.boxes[j]) {
				continue
			}
			if at, cross := h.cross(i, j); cross {
				h.found.add(at)
			} else if at, cross := h.cross(j, i); cross {
				h.found.add(at)
			}
		}
	}
}

// cross tells whether a side of triangle i runs through the inside of triangle j.
func (h *hierarchy) cross(i, j int) (solid.Vec, bool) {
	t, u := h.m.Triangles[i], h.m.Triangles[j]
	n, a := h.normals[j], h.m.Vertices[u[0]]
	var off [3]float64 // of t's corners from u's plane
	for k, v := range t {
		off[k] = h.m.Vertices[v].Sub(a).Dot(n)
	}
	if min(off[0], off[1], off[2]) >= -h.slack || max(off[0], off[1], off[2]) <= h.slack {
		return solid.Vec{}, false
	}
	b, c := h.m.Vertices[u[1]], h.m.Vertices[u[2]]
	for k := range t {
		v, w := t[k], t[(k+1)%3]
		if v == u[0] || v == u[1] || v == u[2] || w == u[0] || w == u[1] || w == u[2] {
			continue
		}
		p, q := h.m.Vertices[v], h.m.Vertices[w]
		x, y := off[k], off[(k+1)%3]
		if math.Min(math.Abs(x), math.Abs(y)) <= h.slack || (x > 0) == (y > 0) {
			continue
		}
		at := p.Add(q.Sub(p).Mul(x / (x - y)))
		inside := true
		for _, s := range [3][2]solid.Vec{{a, b}, {b, c}, {c, a}} {
			in := n.Cross(s[1].Sub(s[0])).Unit()
			inside = inside && at.Sub(s[0]).Dot(in) > h.slack
		}
		if inside {
			return at, true
		}
	}
	return solid.Vec{}, false
}
