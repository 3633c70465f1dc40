package proximity

import (
	"math"

	"plansheaf/design/solid"
)

// Line returns how far a straight line from one place of the world to another keeps from
// a placed body, mm, and the places on the line and on the body between which that is; 0
// where the line meets it or lies within it, +Inf where it keeps farther off than within.
// It is never wrong by more than what triangles stray from the body's faces
// ([Body.Stray]).
func Line(from, to solid.Vec, b *Body, pb solid.Placement, within float64) (d float64, at [2]solid.Vec) {
	back := pb.Inverse()
	p, q := back.Point(from), back.Point(to)
	d = math.Inf(1)
	if len(b.nodes) == 0 {
		return d, at
	}
	l := line{t: &b.tree, p: p, q: q, best: within, found: d}
	if l.step(0, l.bound(&b.nodes[0])); l.found > 0 && b.encloses(p) {
		return 0, [2]solid.Vec{from, from}
	}
	return l.found, [2]solid.Vec{pb.Point(l.at[0]), pb.Point(l.at[1])}
}

// A line is a straight line in a body's axes on its way to the nearest triangle.
type line struct {
	t     *tree
	p, q  solid.Vec
	best  float64 // what is farther off does not count
	found float64
	at    [2]solid.Vec
}

// bound is a distance that a node's triangles cannot be nearer than.
func (l *line) bound(n *node) float64 {
	x, _ := segments(l.p, l.q, n.centre, n.centre)
	off := size(x.Sub(n.centre))
	round := off.Len() - n.half.Len()
	return max(round, gap(lower(l.p, l.q), upper(l.p, l.q), n.centre.Sub(n.half), n.centre.Add(n.half)))
}

func (l *line) step(i int, least float64) {
	if least > l.best || l.found == 0 {
		return
	}
	n := &l.t.nodes[i]
	if n.other == 0 {
		own := triangle{l.p, l.q, l.q}
		for k := n.first; k < n.first+n.count; k++ {
			if d, x, y := apart(&own, &l.t.triangles[k]); d <= l.best && d < l.found {
				l.best, l.found, l.at = d, d, [2]solid.Vec{x, y}
			}
		}
		return
	}
	near, far := i+1, n.other
	x, y := l.bound(&l.t.nodes[near]), l.bound(&l.t.nodes[far])
	if y < x {
		near, far, x, y = far, near, y, x
	}
	l.step(near, x)
	l.step(far, y)
}
