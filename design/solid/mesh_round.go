package solid

import (
	"cmp"
	"math"
	"slices"
	"sort"
)

// A round face is cut along its straight lines at the grid angles into strips
// that are all but flat. Every crossing of a grid line with the face's edges is
// a vertex already, so strips need no vertices inside and fit each other.

// onGrid (mm) is how near a grid line a corner counts as on it; more than what
// sampleEdges takes for one point.
const onGrid = 2 * sampleGap

// strip is what a round face has between two grid lines, in x from lo to hi.
type strip struct {
	chains []chain
}

// chain is a run of a face's edge within a strip: from grid line to grid line,
// or a whole loop, without its first corner repeated, when closed.
type chain struct {
	corners []corner
	closed  bool
}

func (c *chain) start() corner { return c.corners[0] }
func (c *chain) end() corner   { return c.corners[len(c.corners)-1] }

// roundFace adds the triangles of a cylinder or cone face.
func (m *mesher) roundFace(face int) {
	f := &m.s.Faces[face]
	n := m.grid[face]
	width := 2 * math.Pi / float64(n)
	strips := map[int]*strip{}
	onLine := map[int][]corner{} // corners on each grid line
	loops := m.loops(face)
	tip := m.tipVertex(f, loops)
	for _, l := range loops {
		m.cutLoop(f.Surface, l, n, tip, strips, onLine)
	}
	for k := range onLine {
		c := onLine[k]
		sort.Slice(c, func(i, j int) bool { return c[i].y < c[j].y })
		onLine[k] = c
	}
	var keys []int
	for k := range strips {
		keys = append(keys, k)
	}
	sort.Ints(keys)
	for _, k := range keys {
		m.fillStrip(face, strips[k], float64(k)*width, float64(k+1)*width, onLine[k], onLine[(k+1)%n], tip)
	}
}

// tipVertex returns the mesh vertex at a cone's tip when the face holds it or
// has it on its edge, else -1.
func (m *mesher) tipVertex(f *Face, loops [][]int) int {
	apex, ok := f.Surface.tip()
	if !ok {
		return -1
	}
	for _, l := range loops {
		for _, v := range l {
			if m.at.at[v].Dist(apex) < mergeDistance {
				return v
			}
		}
	}
	if !f.hasTip(m.s.Edges) {
		return -1
	}
	return m.at.add(apex)
}

// cutLoop cuts a loop at the grid lines, and at a cone's tip, into chains of one
// strip each, and notes the corners on the lines.
func (m *mesher) cutLoop(s Surface, loop []int, n, tip int, strips map[int]*strip, onLine map[int][]corner) {
	cs, line := m.unroll(s, loop, n, tip, onLine)
	home := homes(cs, line, n, tip)
	first := -1
	// A loop is cut where it passes from strip to strip, and where it only touches a
	// grid line: what the line divides there is on both sides of it.
	cut := make([]bool, len(cs))
	for i := range cs {
		before, after := (i+len(cs)-1)%len(cs), (i+1)%len(cs)
		cut[i] = home[before] != home[i] || line[i] >= 0 && cs[i].v != tip && line[before] != line[i] && line[after] != line[i]
		if cut[i] && first < 0 {
			first = i
		}
	}
	get := func(k int) *strip {
		if strips[k] == nil {
			strips[k] = &strip{}
		}
		return strips[k]
	}
	if first < 0 {
		st := get(home[0])
		st.chains = append(st.chains, chain{cs, true})
		return
	}
	for i := 0; i < len(cs); {
		at := (first + i) % len(cs)
		k := home[at]
		run := []corner{cs[at]}
		for more := true; more; more = i < len(cs) && !cut[(first+i)%len(cs)] {
			i++
			run = append(run, cs[(first+i)%len(cs)])
		}
		if k != nowhere {
			st := get(k)
			st.chains = append(st.chains, chain{run, false})
		}
	}
}

// unroll returns a loop's corners in angle and height, and the grid line each
// lies on, -1 for none. At a cone's tip, which has every angle, a corner becomes
// two: one at the angle of the corner before, one at that of the corner after.
func (m *mesher) unroll(s Surface, loop []int, n, tip int, onLine map[int][]corner) (cs []corner, line []int) {
	width := 2 * math.Pi / float64(n)
	for i, v := range loop {
		if v == tip {
			for _, by := range []int{i + len(loop) - 1, i + 1} {
				u, _ := s.Param(m.at.at[loop[by%len(loop)]])
				cs, line = append(cs, corner{v, math.Mod(u+2*math.Pi, 2*math.Pi), 0}), append(line, gridLine(u, width, s, math.Inf(1), n))
			}
			continue
		}
		u, h := s.Param(m.at.at[v])
		c := corner{v, math.Mod(u+2*math.Pi, 2*math.Pi), h}
		k := gridLine(u, width, s, h, n)
		if k >= 0 {
			c.x = float64(k) * width
			onLine[k] = append(onLine[k], c)
		}
		cs, line = append(cs, c), append(line, k)
	}
	return cs, line
}

// gridLine returns the grid line that angle u at height h lies on, -1 for none;
// an infinite height asks for the angle itself.
func gridLine(u, width float64, s Surface, h float64, n int) int {
	k := math.Round(u / width)
	scale := 1.0
	if !math.IsInf(h, 1) {
		scale = s.sweepScale(h)
	}
	if math.Abs(u-k*width)*scale < onGrid {
		return (int(k) + n) % n
	}
	return -1
}

// nowhere is the home of what runs from one angle of a tip to another.
const nowhere = -1

// homes returns the strip of the piece from each corner to the next.
func homes(cs []corner, line []int, n, tip int) []int {
	width := 2 * math.Pi / float64(n)
	home := make([]int, len(cs))
	for i := range cs {
		j := (i + 1) % len(cs)
		a, b := cs[i], cs[j]
		mid := a.x + math.Remainder(b.x-a.x, 2*math.Pi)/2
		home[i] = (int(math.Floor(mid/width)) + n) % n
		switch {
		case a.v == tip && b.v == tip:
			home[i] = nowhere
		case line[i] >= 0 && line[i] == line[j]:
			// A piece along a grid line belongs to the strip on its left.
			home[i] = line[i]
			if b.y > a.y {
				home[i] = (line[i] + n - 1) % n
			}
		}
	}
	return home
}

// fillStrip closes the chains of a strip along its two grid lines and fills it.
func (m *mesher) fillStrip(face int, st *strip, lo, hi float64, left, right []corner, tip int) {
	mid := (lo + hi) / 2
	for i := range st.chains {
		for j := range st.chains[i].corners {
			c := &st.chains[i].corners[j]
			c.x = mid + math.Remainder(c.x-mid, 2*math.Pi)
		}
	}
	onto := pairEnds(st.chains, mid, tip)
	used := make([]bool, len(st.chains))
	var outer, holes [][]corner
	for i := range st.chains {
		if used[i] {
			continue
		}
		var ring []corner
		for at := i; !used[at]; {
			used[at] = true
			c := &st.chains[at]
			ring = append(ring, c.corners...)
			if c.closed {
				break
			}
			next := onto[at]
			if next < 0 {
				break
			}
			ring = m.follow(ring, st.chains[next].start(), mid, left, right, tip)
			at = next
		}
		ring = withoutRepeats(ring, tip)
		if len(ring) < 3 {
			continue
		}
		if ringArea(ring) >= 0 {
			outer = append(outer, ring)
		} else {
			holes = append(holes, ring)
		}
	}
	sets := make([][][]corner, len(outer))
	for i := range outer {
		sets[i] = [][]corner{outer[i]}
	}
	for _, h := range holes {
		best := 0
		for i := range outer {
			if cornerIn(outer[i], h[0]) {
				best = i
			}
		}
		if len(sets) > 0 {
			sets[best] = append(sets[best], h)
		}
	}
	for _, set := range sets {
		m.fill(face, set)
	}
}

// pairEnds finds the chain that each chain is followed by: the next that begins
// going up the right grid line, or down the left one, from where it ends. What
// finds nothing on the way down a cone goes by the tip, to a chain that begins
// there or the lowest one on the right that nothing leads to.
func pairEnds(chains []chain, mid float64, tip int) []int {
	onto := make([]int, len(chains))
	for i := range onto {
		onto[i] = -1
	}
	_, fromTip := pairLine(chains, onto, mid, tip, true)
	toTip, _ := pairLine(chains, onto, mid, tip, false)
	if tip < 0 {
		return onto
	}
	for i := range chains {
		if chains[i].closed {
			continue
		}
		if chains[i].start().v == tip {
			fromTip = i
		}
		if chains[i].end().v == tip {
			toTip = i
		}
	}
	if toTip >= 0 {
		onto[toTip] = fromTip
	}
	return onto
}

// pairLine pairs ends and beginnings on the right grid line (up) or the left
// one. It returns the last end that found no beginning and the first beginning
// that no end led to, -1 for none.
func pairLine(chains []chain, onto []int, mid float64, tip int, up bool) (open, unled int) {
	type event struct {
		y     float64
		chain int
		start bool
	}
	events := make([]event, 0, 4)
	for i := range chains {
		c := &chains[i]
		if c.closed {
			continue
		}
		if e := c.end(); e.v != tip && (e.x > mid) == up {
			events = append(events, event{e.y, i, false})
		}
		if b := c.start(); b.v != tip && (b.x > mid) == up {
			events = append(events, event{b.y, i, true})
		}
	}
	slices.SortStableFunc(events, func(a, b event) int {
		if up {
			return cmp.Compare(a.y, b.y)
		}
		return cmp.Compare(b.y, a.y)
	})
	open, unled = -1, -1
	for k := range events {
		// Of an end and a beginning at one height, the one that fits comes first.
		if k+1 < len(events) && events[k].y == events[k+1].y && events[k].start == (open < 0) && events[k].start != events[k+1].start {
			events[k], events[k+1] = events[k+1], events[k]
		}
		switch e := events[k]; {
		case !e.start:
			open = e.chain
		case open >= 0:
			onto[open], open = e.chain, -1
		case unled < 0:
			unled = e.chain
		}
	}
	return open, unled
}

// follow adds to a ring the corners passed on the way along grid lines from its
// last corner to the beginning of the next chain. A cone's tip has every angle: it is
// passed as two corners, one on each grid line.
func (m *mesher) follow(ring []corner, to corner, mid float64, left, right []corner, tip int) []corner {
	end := ring[len(ring)-1]
	if end.v != tip && to.v != tip && (end.x > mid) == (to.x > mid) {
		if end.x > mid {
			return m.pass(ring, right, end.y, to.y, end.x, tip)
		}
		return m.pass(ring, left, end.y, to.y, end.x, tip)
	}
	if end.v != tip {
		ring = append(m.pass(ring, left, end.y, math.Inf(-1), end.x, tip), corner{tip, end.x, 0})
	}
	if to.v == tip {
		return ring
	}
	ring = append(ring, corner{tip, to.x, 0})
	return m.pass(ring, right, math.Inf(-1), to.y, to.x, tip)
}

// pass adds to a ring the corners of a grid line strictly between two heights.
func (m *mesher) pass(ring, line []corner, from, to, x float64, tip int) []corner {
	n := len(line)
	for i := range line {
		c := line[i]
		if from > to {
			c = line[n-1-i]
		}
		if c.v != tip && c.y > math.Min(from, to) && c.y < math.Max(from, to) {
			ring = append(ring, corner{c.v, x, c.y})
		}
	}
	return ring
}

// withoutRepeats returns the ring without corners that repeat the one before; at a
// cone's tip two angles are two corners.
func withoutRepeats(r []corner, tip int) []corner {
	same := func(a, b corner) bool { return a.v == b.v && (a.v != tip || a.x == b.x) }
	var out []corner
	for _, c := range r {
		if len(out) > 0 && same(out[len(out)-1], c) {
			continue
		}
		out = append(out, c)
	}
	for len(out) > 1 && same(out[0], out[len(out)-1]) {
		out = out[:len(out)-1]
	}
	return out
}
