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
	if a.envelope(small, from.Inverse().Direction(way)).clear(from, reach, other, pb) {
		return math.Inf(1)
	}
	if newSearch(small, other, pb.Then(from.Inverse())).crossed(0, 0) {
		return 0
	}
	f := solid.FrameAlong(solid.Vec{}, way)
	onto := solid.Placement{Turn: [3]solid.Vec{f.X, f.Y, f.Z}}.Inverse()
	p := &passage{a: small.seen(from.Then(onto)), b: other.seen(pb.Then(onto)), free: reach}
	p.step(0, 0, p.a.box(0), p.b.box(0))
	if p.free >= reach {
		return math.Inf(1)
	}
	return p.free
}

// crossed tells whether the surfaces below two nodes run through each other.
func (s *search) crossed(i, j int) bool {
	m, n := &s.a.nodes[i], &s.b.nodes[j]
	if gap, _ := s.gaps(m, n); gap.X > 0 || gap.Y > 0 || gap.Z > 0 {
		return false
	}
	switch {
	case m.other == 0 && n.other == 0:
		return s.crossing(m, n)
	case n.other == 0 || m.other != 0 && m.half.Dot(m.half) >= n.half.Dot(n.half):
		return s.crossed(i+1, j) || s.crossed(m.other, j)
	}
	return s.crossed(i, j+1) || s.crossed(i, n.other)
}

// crossing tells whether triangles of two leaves run through each other.
func (s *search) crossing(m, n *node) bool {
	for j := n.first; j < n.first+n.count; j++ {
		u := s.b.triangles[j].placed(s.rel)
		low, high := u.bounds()
		if gap(m.centre.Sub(m.half), m.centre.Add(m.half), low, high) > 0 {
			continue
		}
		normal := s.rel.Direction(s.b.normals[j])
		for i := m.first; i < m.first+m.count; i++ {
			t := &s.a.triangles[i]
			if aside(u[0], normal, t) == 0 && aside(t[0], s.a.normals[i], &u) == 0 && t.cuts(&u) {
				return true
			}
		}
	}
	return false
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

// seen is a tree as it is seen along a way, which is z.
type seen struct {
	*tree
	at      solid.Placement
	x, y, z solid.Vec // absolute values of the turn: they bring half sizes along
}

func (t *tree) seen(at solid.Placement) seen {
	return seen{t, at, size(at.Turn[0]), size(at.Turn[1]), size(at.Turn[2])}
}

// box is the box of a node.
func (s *seen) box(i int) solid.Box {
	n := &s.nodes[i]
	half, centre := s.x.Mul(n.half.X).Add(s.y.Mul(n.half.Y)).Add(s.z.Mul(n.half.Z)), s.at.Point(n.centre)
	return solid.Box{Min: centre.Sub(half), Max: centre.Add(half)}
}

// passage is the search for what one body meets before it: faces of the one that
// look along the way, before faces of the other that look against it.
type passage struct {
	a, b seen
	free float64 // mm, as far as is known by now
}

// step looks at a pair of nodes with their boxes, and at what lies below them.
func (p *passage) step(i, j int, a, b solid.Box) {
	if lead(&a, &b) >= p.free {
		return
	}
	m, n := &p.a.nodes[i], &p.b.nodes[j]
	switch {
	case m.other == 0 && n.other == 0:
		p.visit(m, n, &b)
	case n.other == 0 || m.other != 0 && m.half.Dot(m.half) >= n.half.Dot(n.half):
		near, far := i+1, m.other
		c, d := p.a.box(near), p.a.box(far)
		if lead(&d, &b) < lead(&c, &b) {
			near, far, c, d = far, near, d, c
		}
		p.step(near, j, c, b)
		p.step(far, j, d, b)
	default:
		near, far := j+1, n.other
		c, d := p.b.box(near), p.b.box(far)
		if lead(&a, &d) < lead(&a, &c) {
			near, far, c, d = far, near, d, c
		}
		p.step(i, near, a, c)
		p.step(i, far, a, d)
	}
}

// lead is what of two boxes the second lies before the first along z at the least;
// infinite where they pass each other.
func lead(a, b *solid.Box) float64 {
	if a.Min.X > b.Max.X || b.Min.X > a.Max.X || a.Min.Y > b.Max.Y || b.Min.Y > a.Max.Y || b.Max.Z < a.Min.Z {
		return math.Inf(1)
	}
	return max(0, b.Min.Z-a.Max.Z)
}

// visit compares the triangles of two leaves, the second in a box.
func (p *passage) visit(m, n *node, in *solid.Box) {
	for i := m.first; i < m.first+m.count; i++ {
		t := p.a.triangles[i].placed(p.a.at)
		if facing(&t) <= edgewise {
			continue
		}
		var mine solid.Box
		if mine.Min, mine.Max = t.bounds(); lead(&mine, in) >= p.free {
			continue
		}
		for j := n.first; j < n.first+n.count; j++ {
			u := p.b.triangles[j].placed(p.b.at)
			if facing(&u) >= -edgewise {
				continue
			}
			var other solid.Box
			if other.Min, other.Max = u.bounds(); lead(&mine, &other) >= p.free {
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
