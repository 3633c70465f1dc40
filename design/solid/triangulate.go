package solid

import (
	"cmp"
	"math"
	"slices"
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
	at := nearestSeen(ring, p, append([][]corner{ring, hole}, others...))
	out := append([]corner(nil), ring[:at+1]...)
	out = append(out, hole[start:]...)
	out = append(out, hole[:start+1]...)
	return append(out, ring[at:]...)
}

// nearestSeen is the nearest corner of a ring that p sees past all sides; where there
// is none, the nearest of all.
func nearestSeen(ring []corner, p corner, sides [][]corner) int {
	dist := func(c corner) float64 { return (c.x-p.x)*(c.x-p.x) + (c.y-p.y)*(c.y-p.y) }
	sees := func(i int) bool { return locallyInside(ring, i, p) && freeWay(ring[i], p, sides) }
	nearest := 0
	for i, c := range ring {
		if dist(c) < dist(ring[nearest]) {
			nearest = i
		}
	}
	if sees(nearest) {
		return nearest
	}
	order := make([]int, len(ring))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(dist(ring[i]), dist(ring[j])) })
	for _, i := range order {
		if sees(i) {
			return i
		}
	}
	return nearest
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
	if n == 3 {
		return [][3]int{{ring[2].v, ring[0].v, ring[1].v}}
	}
	next, prev := make([]int, n), make([]int, n)
	for i := range ring {
		next[i], prev[i] = (i+1)%n, (i+n-1)%n
	}
	isReflex := func(i int) bool { return turn(ring[prev[i]], ring[i], ring[next[i]]) <= 0 }
	reflex := newTurnedIn(ring, isReflex)
	var out [][3]int
	cut := func(i int) {
		a, b := prev[i], next[i]
		out = append(out, [3]int{ring[a].v, ring[i].v, ring[b].v})
		next[a], prev[b] = b, a
		reflex.has[i] = false
		for _, k := range [2]int{a, b} {
			if reflex.has[k] && !isReflex(k) {
				reflex.has[k] = false
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
		if !reflex.has[at] && reflex.none(ring[prev[at]], ring[at], ring[next[at]]) {
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

// turnedIn are the corners of a ring that turn in, in the cells of a grid: only they
// can stand in an ear's way, and only those near it.
type turnedIn struct {
	ring       []corner
	has        []bool // by place in the ring
	x, y       float64
	perX, perY float64 // cells for each mm
	wide, high int
	begin      []int32 // of each cell in order
	order      []int32 // places in the ring, cell by cell
}

func newTurnedIn(ring []corner, is func(i int) bool) *turnedIn {
	t := &turnedIn{ring: ring, has: make([]bool, len(ring)), x: math.Inf(1), y: math.Inf(1)}
	toX, toY, count := math.Inf(-1), math.Inf(-1), 0
	for i, c := range ring {
		t.x, t.y, toX, toY = math.Min(t.x, c.x), math.Min(t.y, c.y), math.Max(toX, c.x), math.Max(toY, c.y)
		if is(i) {
			t.has[i] = true
			count++
		}
	}
	// As many cells as corners, as square as whole numbers of them are.
	sizeX, sizeY := math.Max(toX-t.x, onGrid), math.Max(toY-t.y, onGrid)
	t.wide = min(max(1, int(math.Sqrt(float64(count)*sizeX/sizeY))), max(1, count))
	t.high = max(1, count/t.wide)
	t.perX, t.perY = float64(t.wide)/sizeX, float64(t.high)/sizeY
	t.begin, t.order = make([]int32, t.wide*t.high+1), make([]int32, count)
	for i, c := range ring {
		if t.has[i] {
			t.begin[t.cell(c)+1]++
		}
	}
	for k := range t.begin[1:] {
		t.begin[k+1] += t.begin[k]
	}
	next := append([]int32(nil), t.begin...)
	for i, c := range ring {
		if t.has[i] {
			k := t.cell(c)
			t.order[next[k]] = int32(i)
			next[k]++
		}
	}
	return t
}

// column and row are where a place lies in the grid, or the nearest that there are.
func (t *turnedIn) column(x float64) int { return cellAt((x-t.x)*t.perX, t.wide) }
func (t *turnedIn) row(y float64) int    { return cellAt((y-t.y)*t.perY, t.high) }

func cellAt(x float64, cells int) int {
	switch {
	case !(x > 0):
		return 0
	case x >= float64(cells):
		return cells - 1
	}
	return int(x)
}

func (t *turnedIn) cell(c corner) int { return t.row(c.y)*t.wide + t.column(c.x) }

// none tells whether no corner that turns in lies in a triangle, its own left out.
func (t *turnedIn) none(a, b, c corner) bool {
	from, to := t.column(math.Min(a.x, math.Min(b.x, c.x))-onGrid), t.column(math.Max(a.x, math.Max(b.x, c.x))+onGrid)
	low, high := t.row(math.Min(a.y, math.Min(b.y, c.y))-onGrid), t.row(math.Max(a.y, math.Max(b.y, c.y))+onGrid)
	for row := low; row <= high; row++ {
		for _, k := range t.order[t.begin[row*t.wide+from]:t.begin[row*t.wide+to+1]] {
			p := t.ring[k]
			if !t.has[k] || p.v == a.v || p.v == b.v || p.v == c.v {
				continue
			}
			if turn(a, b, p) >= 0 && turn(b, c, p) >= 0 && turn(c, a, p) >= 0 {
				return false
			}
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
