package solid

import (
	"math"
	"sort"
)

// group is the faces of both operands on one surface.
type group struct {
	surface Surface
	members [2][]int
}

// groups puts near faces that coincide together; faces that nothing divides are
// left to keepWhole.
func (w *boolean) groups() []group {
	n := len(w.in[0].Faces)
	parent := map[int]int{}
	var find func(int) int
	find = func(x int) int {
		p, ok := parent[x]
		if !ok || p == x {
			return x
		}
		r := find(p)
		parent[x] = r
		return r
	}
	divided := map[int]bool{}
	for _, p := range w.same {
		a, b := find(p[0]), find(n+p[1])
		parent[max(a, b)] = min(a, b)
		divided[p[0]], divided[n+p[1]] = true, true
	}
	for k := range w.onFace {
		for f, segs := range w.onFace[k] {
			if len(segs) > 0 {
				divided[f+k*n] = true
			}
		}
	}
	index := map[int]int{}
	var out []group
	for k, o := range w.in {
		for f := range o.Faces {
			id := f + k*n
			if !divided[id] {
				continue
			}
			o.near[f] = true
			r := find(id)
			g, ok := index[r]
			if !ok {
				g = len(out)
				index[r] = g
				out = append(out, group{surface: o.Faces[f].Surface})
			}
			out[g].members[k] = append(out[g].members[k], f)
			o.done(f)
		}
	}
	return out
}

// done notes that a face is dealt with by an arrangement.
func (o *operand) done(f int) {
	if o.arranged == nil {
		o.arranged = make([]bool, len(o.Faces))
	}
	o.arranged[f] = true
}

// cell is what is known of the cell on the left of a loop of the arrangement.
type cell struct {
	// keep is +1 where the result has material behind the surface's own normal
	// only, -1 where it has it before, 0 where there is no boundary.
	keep   int
	name   string
	thread *Thread
	patch  int
}

// arrangement is a surface divided by segments. Half-edge 2i runs along segs[i],
// 2i+1 against it; the cell of a half-edge is on its left, seen against the
// surface's own normal.
type arrangement struct {
	w     *boolean
	g     group
	segs  []int
	outs  map[int][]int // half-edges that leave a vertex, anticlockwise
	place []int         // place of a half-edge in outs
	cell  []int         // cell of a half-edge
	cells []cell
	// pieces of all segments in the surface's sweep coordinate; those of
	// segment i are pieces[first[i]:first[i+1]], and their edge is i.
	pieces []piece
	first  []int
	edges  []Edge
}

// arrange divides the surface of a group and hands the kept faces on.
func (w *boolean) arrange(g group) error {
	a := &arrangement{w: w, g: g, outs: map[int][]int{}}
	seen := map[int]bool{}
	add := func(s int) {
		s &^= reversedBit
		if !seen[s] {
			seen[s] = true
			a.segs = append(a.segs, s)
		}
	}
	for k, o := range w.in {
		for _, f := range g.members[k] {
			for _, l := range o.Faces[f].Loops {
				for _, u := range l {
					for _, s := range o.parts[u.Edge] {
						add(s)
					}
				}
			}
			for _, s := range w.onFace[k][f] {
				add(s)
			}
		}
	}
	for i, s := range a.segs {
		g := &w.segs.list[s]
		e := Edge{Curve: g.curve, T0: g.t0, T1: g.t1, Start: g.v0, End: g.v1}
		a.edges = append(a.edges, e)
		a.first = append(a.first, len(a.pieces))
		a.pieces = append(a.pieces, trimPieces(a.g.surface, &e, i, w.verts.at)...)
	}
	a.first = append(a.first, len(a.pieces))
	a.sortAround()
	if err := a.walkCells(); err != nil {
		return err
	}
	return a.emit()
}

func (a *arrangement) seg(h int) *segment { return &a.w.segs.list[a.segs[h/2]] }

// from and to return the vertices of a half-edge.
func (a *arrangement) from(h int) int {
	if h&1 == 0 {
		return a.seg(h).v0
	}
	return a.seg(h).v1
}

func (a *arrangement) to(h int) int { return a.from(h ^ 1) }

// point returns the point at share k of a half-edge.
func (a *arrangement) point(h int, k float64) Vec {
	if h&1 == 1 {
		k = 1 - k
	}
	return a.seg(h).point(k)
}

// tangent returns the unit direction of a half-edge at share k.
func (a *arrangement) tangent(h int, k float64) Vec {
	s := a.seg(h)
	if h&1 == 1 {
		return s.curve.Tangent(s.t0 + (s.t1-s.t0)*(1-k)).Unit().Mul(-1)
	}
	return s.curve.Tangent(s.t0 + (s.t1-s.t0)*k).Unit()
}

// sortAround sorts the half-edges that leave each vertex.
func (a *arrangement) sortAround() {
	a.place = make([]int, 2*len(a.segs))
	for h := range a.place {
		v := a.from(h)
		a.outs[v] = append(a.outs[v], h)
	}
	for v, hs := range a.outs {
		if len(hs) > 2 {
			a.sortOuts(a.w.verts.at[v], hs)
		}
		for i, h := range hs {
			a.place[h] = i
		}
	}
}

// nearAngle (radians) is how near two directions may be before the curves'
// bends decide which is to the left.
const nearAngle = 1e-3

// sortOuts sorts half-edges that leave p anticlockwise, seen against the
// surface's normal.
func (a *arrangement) sortOuts(p Vec, hs []int) {
	n := a.g.surface.Normal(p)
	f := FrameAlong(p, n)
	angle := map[int]float64{}
	apex, pointed := a.g.surface.tip()
	tip := pointed && p.Dist(apex) < mergeDistance
	for _, h := range hs {
		if tip { // there the angle about the axis orders them, seen from outside the other way
			u, _ := a.g.surface.Param(a.point(h, 0.1))
			angle[h] = -u
			continue
		}
		t := a.tangent(h, 0)
		angle[h] = math.Atan2(t.Dot(f.Y), t.Dot(f.X))
	}
	sort.Slice(hs, func(i, j int) bool { return angle[hs[i]] < angle[hs[j]] })
	if tip {
		return
	}
	// Begin after the widest gap, so that no bundle of near directions is torn.
	widest, at := -1.0, 0
	for i := range hs {
		prev := angle[hs[(i+len(hs)-1)%len(hs)]]
		gap := angle[hs[i]] - prev
		if i == 0 {
			gap += 2 * math.Pi
		}
		if gap > widest {
			widest, at = gap, i
		}
	}
	turned := append(append([]int(nil), hs[at:]...), hs[:at]...)
	copy(hs, turned)
	for i := 0; i < len(hs); {
		j := i + 1
		for j < len(hs) && math.Abs(math.Remainder(angle[hs[j]]-angle[hs[j-1]], 2*math.Pi)) < nearAngle {
			j++
		}
		if j > i+1 {
			a.sortBundle(f, hs[i:j])
		}
		i = j
	}
}

// sortBundle sorts half-edges that leave in nearly one direction by where they
// are a little further on, all at the same distance.
func (a *arrangement) sortBundle(f Frame, hs []int) {
	reach := math.Inf(1)
	for _, h := range hs {
		reach = math.Min(reach, a.point(h, 0.5).Dist(f.O))
	}
	reach /= 4
	base := a.tangent(hs[0], 0)
	side := f.Z.Cross(base)
	off := map[int]float64{}
	for _, h := range hs {
		lo, hi := 0.0, 0.5
		for k := 0; k < 50; k++ {
			mid := (lo + hi) / 2
			if a.point(h, mid).Dist(f.O) < reach {
				lo = mid
			} else {
				hi = mid
			}
		}
		off[h] = a.point(h, lo).Sub(f.O).Dot(side)
	}
	sort.SliceStable(hs, func(i, j int) bool { return off[hs[i]] < off[hs[j]] })
}

// next returns the half-edge after h around the cell on its left.
func (a *arrangement) next(h int) int {
	t := h ^ 1
	hs := a.outs[a.from(t)]
	return hs[(a.place[t]+len(hs)-1)%len(hs)]
}

// walkCells finds the loops and classifies the cell beside each.
func (a *arrangement) walkCells() error {
	a.cell = make([]int, 2*len(a.segs))
	for h := range a.cell {
		a.cell[h] = -1
	}
	for h := range a.cell {
		if a.cell[h] >= 0 {
			continue
		}
		var loop []int
		for x := h; a.cell[x] < 0; x = a.next(x) {
			a.cell[x] = len(a.cells)
			loop = append(loop, x)
		}
		c, err := a.classify(loop)
		if err != nil {
			return err
		}
		a.cells = append(a.cells, c)
	}
	return nil
}

// encloses tells whether a loop has anything else on the other side of it. One
// that only runs along lines and back, as where a rod lies on a plate, bounds
// nothing, and what is beside it does not matter.
func (a *arrangement) encloses(loop []int) bool {
	for _, h := range loop {
		if a.cell[h^1] != a.cell[h] {
			return true
		}
	}
	return false
}

// classify looks at a point within the cell on the left of a loop.
func (a *arrangement) classify(loop []int) (cell, error) {
	if !a.encloses(loop) {
		return cell{}, nil
	}
	length := make([]float64, len(loop))
	order := make([]int, len(loop))
	for i, h := range loop {
		m := a.point(h, 0.5)
		length[i] = a.w.verts.at[a.from(h)].Dist(m) + m.Dist(a.w.verts.at[a.to(h)])
		order[i] = i
	}
	sort.SliceStable(order, func(i, j int) bool { return length[order[i]] > length[order[j]] })
	for _, k := range []float64{0.5, 0.29, 0.83, 0.07} {
		for n, i := range order {
			if n == maxProbes {
				break
			}
			for _, share := range []float64{0.5, 0.17} {
				q, bounded, ok := a.probe(loop[i], k, share)
				if !ok {
					break
				}
				if !bounded {
					return cell{}, nil
				}
				if c, sure := a.judge(q); sure {
					return c, nil
				}
			}
		}
	}
	return cell{}, lost("a face is too thin", a.point(loop[0], 0.5))
}

// maxProbes is how many edges of a cell are tried for a way into it.
const maxProbes = 20

// judge tells what the result has at a point of the surface away from all
// segments.
func (a *arrangement) judge(q Vec) (cell, bool) {
	var c cell
	var behind, before [2]bool
	found := [2]bool{}
	n := a.g.surface.Normal(q)
	for k, o := range a.w.in {
		for _, i := range a.g.members[k] {
			f := &o.Faces[i]
			if !f.box.Grow(2 * Tolerance).Holds(q) {
				continue
			}
			in, unsure := f.holds(q, o.Solid.Edges)
			if unsure {
				return c, false
			}
			if !in {
				continue
			}
			behind[k] = f.Normal(q).Dot(n) > 0
			before[k] = !behind[k]
			// A bore drilled out to the size it has already, to tap it, becomes
			// the later hole's.
			again := found[0] && a.w.op == difference && periodic(a.g.surface)
			if c.name == "" || again {
				c.name = f.Name
			}
			if c.patch == 0 || again {
				c.patch = f.Patch
			}
			if c.thread == nil || again {
				c.thread = f.Thread
			}
			found[k] = true
			break
		}
	}
	if !found[0] && !found[1] {
		return cell{}, true
	}
	for k, o := range a.w.in {
		if found[k] {
			continue
		}
		switch o.Where(q) {
		case OnFace:
			return c, false
		case Inside:
			behind[k], before[k] = true, true
		}
	}
	in, out := a.w.op.keeps(behind[0], behind[1]), a.w.op.keeps(before[0], before[1])
	switch {
	case in && !out:
		c.keep = 1
	case out && !in:
		c.keep = -1
	}
	return c, true
}

// probe walks from share k of a half-edge into the cell on its left, along the
// surface's height (at constant sweep coordinate), and returns the point at a
// share of the way to the next segment. bounded is false when nothing comes, ok
// when the half-edge runs too nearly along the way itself.
func (a *arrangement) probe(h int, k, share float64) (q Vec, bounded, ok bool) {
	s := a.g.surface
	m := a.point(h, k)
	n := s.Normal(m)
	up := s.rise(m)
	rise := n.Cross(a.tangent(h, k)).Dot(up)
	if math.Abs(rise) < 0.05 {
		return m, false, false
	}
	sw, height := sweep(s, m)
	way := math.Copysign(1, rise)
	gap := math.Inf(1)
	const hair = 2 * mergeDistance
	for i := range a.pieces {
		at, hit := a.pieces[i].above(s, a.edges, sw, height, way)
		switch {
		case !hit || at < -hair || at < hair && a.pieces[i].edge == h/2:
		case at < hair:
			return m, false, false // too tight here; elsewhere there may be more room
		default:
			gap = math.Min(gap, at)
		}
	}
	_, pointed := s.tip()
	if math.IsInf(gap, 1) && pointed && way < 0 {
		gap = height // the tip is within the cell
	}
	if math.IsInf(gap, 1) {
		return m, false, true
	}
	height += way * gap * share
	if !periodic(s) {
		return s.Point(height, sw), true, true
	}
	return s.Point(sw, height), true, true
}

// above returns how far beyond a height, up or down by way, the piece is at a
// sweep coordinate; false when it is not there or well on the other side.
func (t *piece) above(s Surface, edges []Edge, sw, height, way float64) (float64, bool) {
	const slack = 4 * mergeDistance
	if way > 0 && t.hHigh < height-slack || way < 0 && t.hLow > height+slack || t.s0 == t.s1 {
		return 0, false
	}
	if periodic(s) {
		sw += 2 * math.Pi * math.Ceil((t.s0-sw)/(2*math.Pi))
	}
	if sw < t.s0 || sw > t.s1 {
		return 0, false
	}
	return way * (t.height(s, edges[t.edge].Curve, sw) - height), true
}
