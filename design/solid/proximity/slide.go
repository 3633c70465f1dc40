package proximity

import (
	"math"

	"plansheaf/design/solid"
)

// Slide returns how far, mm, a body slides along a straight way (a unit vector)
// before it runs into another, which stands still; +Inf when that is more than
// reach. It promises what [Sweep] does for such a way, at a small part of the cost:
// what a body meets first on a straight way lies straight before one of its own
// faces, so that pairs of triangles seen along the way tell it, exactly. It is 0
// where they overlap from the start.
func Slide(a *Body, from solid.Placement, way solid.Vec, reach float64, b *Body, pb solid.Placement, depth float64) float64 {
	if len(a.nodes) == 0 || len(b.nodes) == 0 {
		return math.Inf(1)
	}
	depth = max(depth, leastDepth)
	fine := depth * strayShare
	other := b.finer(fine)
	depth = max(depth, max(a.finer(fine).stray, other.stray)/strayShare)
	small := a.smaller(fine, depth*shrinkShare, depth*cornerShare)
	w := &sweep{a: small, b: other, pb: pb}
	if _, in := w.nested(from); in {
		return 0
	}
	if newSearch(small, other, pb.Then(from.Inverse())).crossed() {
		return 0
	}
	f := solid.FrameAlong(solid.Vec{}, way)
	onto := solid.Placement{Turn: [3]solid.Vec{f.X, f.Y, f.Z}}.Inverse()
	p := &passage{free: reach}
	p.a, p.b = small.seen(from.Then(onto)), other.seen(pb.Then(onto))
	p.step(0, 0)
	if p.free >= reach {
		return math.Inf(1)
	}
	return p.free
}

// crossed tells whether the surfaces run through each other.
func (s *search) crossed() (found bool) {
	limit := func() float64 {
		if found {
			return -1
		}
		return 0
	}
	bound := func(i, j int) float64 {
		gap, _ := s.gaps(&s.a.nodes[i], &s.b.nodes[j])
		return max(0, max(gap.X, max(gap.Y, gap.Z)))
	}
	s.walk(bound, limit, func(m, n *node) {
		for j := n.first; j < n.first+n.count; j++ {
			u, normal := s.b.triangles[j].placed(s.rel), s.rel.Direction(s.b.normals[j])
			for i := m.first; i < m.first+m.count && !found; i++ {
				t := &s.a.triangles[i]
				if aside(t[0], s.a.normals[i], &u) == 0 && aside(u[0], normal, t) == 0 {
					found = t.cuts(&u)
				}
			}
		}
	})
	return found
}

// cuts tells whether a side of one of two triangles runs through the other.
func (t *triangle) cuts(u *triangle) bool {
	for k := range t {
		if _, hit := u.pierced(t[k], t[(k+1)%3]); hit {
			return true
		}
		if _, hit := t.pierced(u[k], u[(k+1)%3]); hit {
			return true
		}
	}
	return false
}

// seen is a tree as it is seen along a way, which is z: the boxes of its nodes.
type seen struct {
	*tree
	at    solid.Placement
	boxes []solid.Box
}

func (t *tree) seen(at solid.Placement) seen {
	s := seen{t, at, make([]solid.Box, len(t.nodes))}
	x, y, z := size(at.Turn[0]), size(at.Turn[1]), size(at.Turn[2])
	for i := range t.nodes {
		n := &t.nodes[i]
		half, centre := x.Mul(n.half.X).Add(y.Mul(n.half.Y)).Add(z.Mul(n.half.Z)), at.Point(n.centre)
		s.boxes[i] = solid.Box{Min: centre.Sub(half), Max: centre.Add(half)}
	}
	return s
}

// passage is the search for what one body meets before it: faces of the one that
// look along the way, before faces of the other that look against it.
type passage struct {
	a, b seen
	free float64 // mm, as far as is known by now
}

// step looks at a pair of nodes, and at what lies below them.
func (p *passage) step(i, j int) {
	if p.bound(i, j) >= p.free {
		return
	}
	m, n := &p.a.nodes[i], &p.b.nodes[j]
	if m.other == 0 && n.other == 0 {
		p.visit(m, n)
		return
	}
	var near, far [2]int
	if n.other == 0 || m.other != 0 && m.half.Dot(m.half) >= n.half.Dot(n.half) {
		near, far = [2]int{i + 1, j}, [2]int{m.other, j}
	} else {
		near, far = [2]int{i, j + 1}, [2]int{i, n.other}
	}
	if p.bound(far[0], far[1]) < p.bound(near[0], near[1]) {
		near, far = far, near
	}
	p.step(near[0], near[1])
	p.step(far[0], far[1])
}

// bound is what the nodes' triangles are apart along the way at the least; infinite
// where they pass each other.
func (p *passage) bound(i, j int) float64 {
	a, b := &p.a.boxes[i], &p.b.boxes[j]
	if a.Min.X > b.Max.X || b.Min.X > a.Max.X || a.Min.Y > b.Max.Y || b.Min.Y > a.Max.Y || b.Max.Z < a.Min.Z {
		return math.Inf(1)
	}
	return max(0, b.Min.Z-a.Max.Z)
}

// visit compares the triangles of two leaves.
func (p *passage) visit(m, n *node) {
	for i := m.first; i < m.first+m.count; i++ {
		t := p.a.triangles[i].placed(p.a.at)
		if facing(&t) <= edgewise {
			continue
		}
		for j := n.first; j < n.first+n.count; j++ {
			u := p.b.triangles[j].placed(p.b.at)
			if facing(&u) >= -edgewise {
				continue
			}
			if low, high, common := before(&t, &u); common && high >= 0 {
				p.free = min(p.free, max(0, low))
			}
		}
	}
}

// edgewise (mm²) is below what area, doubled, a triangle counts as seen from its edge.
const edgewise = 1e-12

// facing is twice the area of a triangle seen along z, positive where it looks up.
func facing(t *triangle) float64 {
	return (t[1].X-t[0].X)*(t[2].Y-t[0].Y) - (t[1].Y-t[0].Y)*(t[2].X-t[0].X)
}

// before returns how far a triangle u lies before another one t along z, the least
// and the most, over what both cover seen along z; common is false where that is
// nothing. t is seen anticlockwise, u clockwise.
func before(t, u *triangle) (low, high float64, common bool) {
	low, high = math.Inf(1), math.Inf(-1)
	shape, n := [9]solid.Vec{u[0], u[2], u[1]}, 3
	for k := range t {
		shape, n = clip(shape, n, t[k], t[(k+1)%3])
		if n < 3 {
			return low, high, false
		}
	}
	area := 0.0
	for i := 2; i < n; i++ {
		area += facing(&triangle{shape[0], shape[i-1], shape[i]})
	}
	if area <= edgewise {
		return low, high, false
	}
	// The plane of t: z is linear in x, y.
	o, e, f, whole := t[0], t[1].Sub(t[0]), t[2].Sub(t[0]), facing(t)
	for _, q := range shape[:n] {
		x, y := q.X-o.X, q.Y-o.Y
		z := o.Z + e.Z*(x*f.Y-y*f.X)/whole + f.Z*(y*e.X-x*e.Y)/whole
		low, high = min(low, q.Z-z), max(high, q.Z-z)
	}
	return low, high, true
}

// clip keeps of a convex polygon, seen along z, what lies on the left of the line
// from a to b.
func clip(shape [9]solid.Vec, n int, a, b solid.Vec) (out [9]solid.Vec, kept int) {
	side := func(p solid.Vec) float64 { return (b.X-a.X)*(p.Y-a.Y) - (b.Y-a.Y)*(p.X-a.X) }
	for i := range n {
		p, q := shape[i], shape[(i+1)%n]
		s, t := side(p), side(q)
		if s >= 0 {
			out[kept] = p
			kept++
		}
		if (s > 0 && t < 0 || s < 0 && t > 0) && kept < len(out) {
			out[kept] = p.Add(q.Sub(p).Mul(s / (s - t)))
			kept++
		}
	}
	return out, kept
}
