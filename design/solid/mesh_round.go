package solid

import (
	"math"
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
	for _, l := range m.loops(face) {
		m.cutLoop(f.Surface, l, n, strips, onLine)
	}
	tip := -1
	if f.hasTip(m.s.Edges) {
		tip = m.tipVertex(f)
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

// tipVertex returns the mesh vertex at a cone's tip.
func (m *mesher) tipVertex(f *Face) int {
	o := f.Surface.(Cone).O
	for i, v := range m.s.Vertices {
		if v.Dist(o) < mergeDistance {
			return i
		}
	}
	m.out.Vertices = append(m.out.Vertices, o)
	return len(m.out.Vertices) - 1
}

// cutLoop cuts a loop at the grid lines into chains, one strip each, and notes
// the corners on the lines.
func (m *mesher) cutLoop(s Surface, loop []int, n int, strips map[int]*strip, onLine map[int][]corner) {
	width := 2 * math.Pi / float64(n)
	cs := make([]corner, len(loop))
	line := make([]int, len(loop)) // grid line of a corner, -1 for none
	for i, v := range loop {
		u, h := s.Param(m.out.Vertices[v])
		k := math.Round(u / width)
		cs[i], line[i] = corner{v, u, h}, -1
		if math.Abs(u-k*width)*sweepScale(s, h) < onGrid {
			line[i] = (int(k) + n) % n
			cs[i].x = float64(line[i]) * width
			onLine[line[i]] = append(onLine[line[i]], cs[i])
		} else if u < 0 {
			cs[i].x = u + 2*math.Pi
		}
	}
	if c, ok := s.(Cone); ok { // at the tip every angle is right: take the neighbour's
		for i := range cs {
			if m.out.Vertices[cs[i].v].Dist(c.O) < mergeDistance {
				cs[i].x = cs[(i+len(cs)-1)%len(cs)].x
			}
		}
	}
	// home is the strip of the piece from corner i to the next.
	home := make([]int, len(cs))
	for i := range cs {
		a, b := cs[i], cs[(i+1)%len(cs)]
		mid := a.x + math.Remainder(b.x-a.x, 2*math.Pi)/2
		home[i] = (int(math.Floor(mid/width)) + n) % n
		// A piece along a grid line belongs to the strip on its left.
		if j := (i + 1) % len(cs); line[i] >= 0 && line[i] == line[j] {
			home[i] = line[i]
			if b.y > a.y {
				home[i] = (line[i] + n - 1) % n
			}
		}
	}
	first := -1
	for i := range cs {
		if prev := home[(i+len(cs)-1)%len(cs)]; prev != home[i] {
			first = i
			break
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
		for i < len(cs) && home[(first+i)%len(cs)] == k {
			i++
			run = append(run, cs[(first+i)%len(cs)])
		}
		st := get(k)
		st.chains = append(st.chains, chain{run, false})
	}
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
			next := m.follow(st.chains, c.end(), mid, left, right, tip, &ring)
			if next < 0 {
				break
			}
			at = next
		}
		ring = withoutRepeats(ring)
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

// follow goes from the end of a chain along the grid line there, up on the
// right and down on the left, to the next chain that begins on it; it adds the
// corners passed to the ring. Where nothing comes on the way down a cone, it
// goes by the tip.
func (m *mesher) follow(chains []chain, end corner, mid float64, left, right []corner, tip int, ring *[]corner) int {
	up := end.x > mid
	line := left
	if up {
		line = right
	}
	best := -1
	for i, c := range chains {
		b := c.start()
		if (b.x > mid) != up || c.closed {
			continue
		}
		ahead := b.y - end.y
		if !up {
			ahead = -ahead
		}
		if ahead < 0 && b.v != end.v {
			continue
		}
		if best < 0 || up == (b.y < chains[best].start().y) {
			best = i
		}
	}
	if best < 0 && tip >= 0 && !up {
		m.pass(line, end.y, math.Inf(-1), end.x, tip, ring)
		*ring = append(*ring, corner{tip, mid, 0})
		for i, c := range chains { // the lowest beginning on the right
			if !c.closed && c.start().x > mid && (best < 0 || c.start().y < chains[best].start().y) {
				best = i
			}
		}
		if best >= 0 {
			m.pass(right, math.Inf(-1), chains[best].start().y, chains[best].start().x, tip, ring)
		}
		return best
	}
	if best >= 0 {
		m.pass(line, end.y, chains[best].start().y, end.x, tip, ring)
	}
	return best
}

// pass adds the corners of a grid line strictly between two heights.
func (m *mesher) pass(line []corner, from, to, x float64, tip int, ring *[]corner) {
	n := len(line)
	for i := range line {
		c := line[i]
		if from > to {
			c = line[n-1-i]
		}
		if c.v != tip && c.y > math.Min(from, to) && c.y < math.Max(from, to) {
			*ring = append(*ring, corner{c.v, x, c.y})
		}
	}
}

func withoutRepeats(r []corner) []corner {
	var out []corner
	for _, c := range r {
		if len(out) > 0 && out[len(out)-1].v == c.v {
			continue
		}
		out = append(out, c)
	}
	for len(out) > 1 && out[0].v == out[len(out)-1].v {
		out = out[:len(out)-1]
	}
	return out
}
