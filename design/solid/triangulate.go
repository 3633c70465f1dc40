package solid

import (
	"math"
	"sort"
)

// triangulate fills a flat region, an anticlockwise outer ring and clockwise
// holes, with triangles between its corners (mesh vertices). It cuts off ears,
// the one with the best shape among those at hand first. Every side of a ring
// ends up in one triangle, so neighbours fit, even where rounding leaves no
// proper ear.
func triangulate(rings [][]corner) [][3]int {
	if len(rings) == 0 || len(rings[0]) < 3 {
		return nil
	}
	ring := rings[0]
	holes := append([][]corner(nil), rings[1:]...)
	// Holes furthest right first: the way to the ring is then short and free.
	right := func(h []corner) float64 {
		x := math.Inf(-1)
		for _, c := range h {
			x = math.Max(x, c.x)
		}
		return x
	}
	sort.SliceStable(holes, func(i, j int) bool { return right(holes[i]) > right(holes[j]) })
	for i, h := range holes {
		ring = bridge(ring, h, holes[i+1:])
	}
	return cutEars(ring)
}

// bridge joins a hole to a ring by a double side between two corners that see
// each other past all sides.
func bridge(ring, hole []corner, others [][]corner) []corner {
	start := 0
	for i, c := range hole {
		if c.x > hole[start].x {
			start = i
		}
	}
	p := hole[start]
	order := make([]int, len(ring))
	for i := range order {
		order[i] = i
	}
	dist := func(c corner) float64 { return (c.x-p.x)*(c.x-p.x) + (c.y-p.y)*(c.y-p.y) }
	sort.SliceStable(order, func(i, j int) bool { return dist(ring[order[i]]) < dist(ring[order[j]]) })
	at := order[0]
	for _, i := range order {
		if locallyInside(ring, i, p) && freeWay(ring[i], p, append([][]corner{ring, hole}, others...)) {
			at = i
			break
		}
	}
	out := append([]corner(nil), ring[:at+1]...)
	out = append(out, hole[start:]...)
	out = append(out, hole[:start+1]...)
	return append(out, ring[at:]...)
}

// turn is twice the area of a triangle, positive when anticlockwise.
func turn(a, b, c corner) float64 { return (b.x-a.x)*(c.y-a.y) - (b.y-a.y)*(c.x-a.x) }

// locallyInside tells whether the way from corner i of the ring to p begins
// inside the ring.
func locallyInside(ring []corner, i int, p corner) bool {
	n := len(ring)
	a, b, c := ring[(i+n-1)%n], ring[i], ring[(i+1)%n]
	if turn(a, b, c) >= 0 {
		return turn(a, b, p) >= 0 && turn(b, c, p) >= 0
	}
	return turn(a, b, p) >= 0 || turn(b, c, p) >= 0
}

// freeWay tells whether no side crosses the way from a to b and no other corner lies
// on it: a way along a side of the hole itself would cut through what follows.
func freeWay(a, b corner, rings [][]corner) bool {
	for _, r := range rings {
		for i, c := range r {
			d := r[(i+1)%len(r)]
			if c.v != a.v && c.v != b.v && onWay(a, b, c) {
				return false
			}
			if c.v == a.v || c.v == b.v || d.v == a.v || d.v == b.v {
				continue
			}
			t0, t1 := turn(a, b, c), turn(a, b, d)
			t2, t3 := turn(c, d, a), turn(c, d, b)
			if (t0 > 0) != (t1 > 0) && (t2 > 0) != (t3 > 0) {
				return false
			}
		}
	}
	return true
}

// onWay tells whether c lies on the straight way from a to b.
func onWay(a, b, c corner) bool {
	x, y := b.x-a.x, b.y-a.y
	along := (c.x-a.x)*x + (c.y-a.y)*y
	return math.Abs(turn(a, b, c)) <= onGrid*math.Hypot(x, y) && along > 0 && along < x*x+y*y
}

// cutEars cuts a ring into triangles.
func cutEars(ring []corner) [][3]int {
	n := len(ring)
	next, prev := make([]int, n), make([]int, n)
	for i := range ring {
		next[i], prev[i] = (i+1)%n, (i+n-1)%n
	}
	// Only corners that turn in can stand in an ear's way.
	reflex := map[int]bool{}
	isReflex := func(i int) bool { return turn(ring[prev[i]], ring[i], ring[next[i]]) <= 0 }
	for i := range ring {
		if isReflex(i) {
			reflex[i] = true
		}
	}
	var out [][3]int
	cut := func(i int) {
		a, b := prev[i], next[i]
		out = append(out, [3]int{ring[a].v, ring[i].v, ring[b].v})
		next[a], prev[b] = b, a
		delete(reflex, i)
		for _, k := range []int{a, b} {
			if reflex[k] && !isReflex(k) {
				delete(reflex, k)
			}
		}
	}
	left := n
	at, since := 0, 0
	for left > 3 {
		if since > left {
			// Rounding has left no ear: take the corner that turns in least.
			best, i := at, at
			for k := 0; k < left; k++ {
				if turn(ring[prev[i]], ring[i], ring[next[i]]) > turn(ring[prev[best]], ring[best], ring[next[best]]) {
					best = i
				}
				i = next[i]
			}
			at, since = next[best], 0
			cut(best)
			left--
			continue
		}
		if !reflex[at] && isEar(ring, next, prev, reflex, at) {
			i := at
			// Going on after the next corner spreads the cuts, which keeps
			// triangles from all hanging on one corner.
			at = next[next[at]]
			cut(i)
			left--
			since = 0
			continue
		}
		at = next[at]
		since++
	}
	return append(out, [3]int{ring[prev[at]].v, ring[at].v, ring[next[at]].v})
}

// isEar tells whether no corner of the ring lies in the triangle at corner i.
func isEar(ring []corner, next, prev []int, reflex map[int]bool, i int) bool {
	a, b, c := ring[prev[i]], ring[i], ring[next[i]]
	for k := range reflex {
		p := ring[k]
		if p.v == a.v || p.v == b.v || p.v == c.v {
			continue
		}
		if turn(a, b, p) >= 0 && turn(b, c, p) >= 0 && turn(c, a, p) >= 0 {
			return false
		}
	}
	return true
}

// ringArea returns twice the signed area.
func ringArea(r []corner) float64 {
	var a float64
	for i, c := range r {
		d := r[(i+1)%len(r)]
		a += c.x*d.y - c.y*d.x
	}
	return a
}

// cornerIn tells whether p lies in the ring.
func cornerIn(r []corner, p corner) bool {
	in := false
	for i, a := range r {
		b := r[(i+1)%len(r)]
		if (a.y > p.y) != (b.y > p.y) && p.x < a.x+(b.x-a.x)*(p.y-a.y)/(b.y-a.y) {
			in = !in
		}
	}
	return in
}
