package proximity

import (
	"math"

	"plansheaf/design/solid"
)

// search walks two trees together. All of it happens in the first body's axes;
// rel brings the second body into them.
type search struct {
	a, b *tree
	rel  solid.Placement
	// size holds the absolute values of rel's turn: it brings half sizes of boxes
	// into the first body's axes.
	size [3]solid.Vec
	// way is the direction from a to b between the nearest places found so far,
	// zero where there is none: what is further apart along it is further apart.
	way solid.Vec
	// pair are the triangles between which they are.
	pair [2]int
}

func newSearch(a, b *tree, rel solid.Placement) *search {
	s := &search{a: a, b: b, rel: rel}
	for k, v := range rel.Turn {
		s.size[k] = size(v)
	}
	return s
}

// gaps returns by how much two nodes' boxes are apart along each axis, negative
// where they overlap along it, and the way from the first to the second.
func (s *search) gaps(m, n *node) (gap, way solid.Vec) {
	h := s.size[0].Mul(n.half.X).Add(s.size[1].Mul(n.half.Y)).Add(s.size[2].Mul(n.half.Z)).Add(m.half)
	way = s.rel.Point(n.centre).Sub(m.centre)
	return solid.Vec{X: math.Abs(way.X) - h.X, Y: math.Abs(way.Y) - h.Y, Z: math.Abs(way.Z) - h.Z}, way
}

// bound returns a distance that the nodes' triangles cannot be nearer than.
func (s *search) bound(i, j int) float64 {
	m, n := &s.a.nodes[i], &s.b.nodes[j]
	gap, way := s.gaps(m, n)
	x, y, z := max(0, gap.X), max(0, gap.Y), max(0, gap.Z)
	d := math.Sqrt(x*x + y*y + z*z)
	if s.way == (solid.Vec{}) {
		return d
	}
	along := way.Dot(s.way) - m.half.Dot(size(s.way)) - math.Abs(s.rel.Turn[0].Dot(s.way))*n.half.X -
		math.Abs(s.rel.Turn[1].Dot(s.way))*n.half.Y - math.Abs(s.rel.Turn[2].Dot(s.way))*n.half.Z
	return max(d, along)
}

// size holds the absolute values of a vector.
func size(v solid.Vec) solid.Vec {
	return solid.Vec{X: math.Abs(v.X), Y: math.Abs(v.Y), Z: math.Abs(v.Z)}
}

// walk visits the pairs of leaves in whose bound lies below limit, the more
// promising ones first. What bound says for a pair holds for all below it; limit
// may sink as the visits go on.
func (s *search) walk(bound func(i, j int) float64, limit func() float64, visit func(m, n *node)) {
	if len(s.a.nodes) == 0 || len(s.b.nodes) == 0 {
		return
	}
	s.step(0, 0, bound(0, 0), bound, limit, visit)
}

func (s *search) step(i, j int, least float64, bound func(i, j int) float64, limit func() float64, visit func(m, n *node)) {
	if least > limit() {
		return
	}
	m, n := &s.a.nodes[i], &s.b.nodes[j]
	if m.other == 0 && n.other == 0 {
		visit(m, n)
		return
	}
	var near, far [2]int
	if n.other == 0 || m.other != 0 && m.half.Dot(m.half) >= n.half.Dot(n.half) {
		near, far = [2]int{i + 1, j}, [2]int{m.other, j}
	} else {
		near, far = [2]int{i, j + 1}, [2]int{i, n.other}
	}
	x, y := bound(near[0], near[1]), bound(far[0], far[1])
	if y < x {
		near, far, x, y = far, near, y, x
	}
	s.step(near[0], near[1], x, bound, limit, visit)
	s.step(far[0], far[1], y, bound, limit, visit)
}

// nearest returns how far the triangles are apart, or +Inf where that is more
// than within.
//
// Of triangles that touch those that are pieces of their faces are looked for, for a
// while: they show that the faces touch too.
func (s *search) nearest(within float64) (d float64, at [2]solid.Vec) {
	best, found := within, math.Inf(1)
	exact := func() bool { return s.a.faces[s.pair[0]].exact && s.b.faces[s.pair[1]].exact }
	const most = 500
	touches := 0
	s.pairs(func() float64 {
		if found == 0 && (touches >= most || exact()) {
			return math.Inf(-1) // nothing is nearer
		}
		return best
	}, func(i, j int, x float64, p, q solid.Vec) {
		if x == 0 {
			touches++
		}
		if x <= best && (x < found || x == 0 && !exact()) {
			best, found, at = x, x, [2]solid.Vec{p, q}
			s.way, s.pair = q.Sub(p).Unit(), [2]int{i, j}
		}
	})
	return found, at
}

// pairs visits pairs of triangles that may be no further apart than limit.
func (s *search) pairs(limit func() float64, visit func(t, u int, d float64, p, q solid.Vec)) {
	s.walk(s.bound, limit, func(m, n *node) {
		for j := n.first; j < n.first+n.count; j++ {
			u := s.b.triangles[j].placed(s.rel)
			low, high := u.bounds()
			if l := limit(); gap(m.centre.Sub(m.half), m.centre.Add(m.half), low, high) > l {
				continue
			}
			normal := s.rel.Direction(s.b.normals[j])
			for i := m.first; i < m.first+m.count; i++ {
				t := &s.a.triangles[i]
				l := limit()
				if a, b := t.bounds(); gap(a, b, low, high) > l || along(t, &u, s.way) > l || beyond(t, &u, s.a.normals[i], normal) > l {
					continue
				}
				d, p, q := apart(t, &u)
				visit(i, j, d, p, q)
			}
		}
	})
}
