package solid

import (
	"math"
	"sort"
)

// ring is a loop of half-edges of an arrangement that bounds kept cells of one
// keep.
type ring struct {
	halves []int
	wrap   int     // how often it runs round the axis, with the cell on its left
	area   float64 // in the surface's parameters, positive around the cell
	height float64 // mean height of a ring that wraps
	trim   Face    // the ring alone as a face, to see what lies in it
}

// emit makes faces of the kept cells.
func (a *arrangement) emit() error {
	for _, keep := range []int{1, -1} {
		rings, err := a.rings(keep)
		if err != nil {
			return err
		}
		faces, err := a.group(rings)
		if err != nil {
			return err
		}
		for _, f := range faces {
			a.hand(f, keep)
		}
	}
	return nil
}

// bounds tells whether the half-edge bounds the kept cells of that keep.
func (a *arrangement) bounds(h, keep int) bool {
	l, r := a.cells[a.cell[h]], a.cells[a.cell[h^1]]
	if l.keep != keep {
		return false
	}
	return r.keep != keep || !sameThread(l.thread, r.thread)
}

func sameThread(a, b *Thread) bool { return a == b || a != nil && b != nil && *a == *b }

// rings walks the boundary of the kept cells.
func (a *arrangement) rings(keep int) ([]ring, error) {
	used := make([]bool, len(a.cell))
	var out []ring
	for h := range a.cell {
		if used[h] || !a.bounds(h, keep) {
			continue
		}
		var r ring
		for x := h; !used[x]; {
			used[x] = true
			r.halves = append(r.halves, x)
			t := x ^ 1
			hs := a.outs[a.from(t)]
			i := a.place[t]
			for n := 0; ; n++ {
				if n == len(hs) {
					return nil, lost("an edge ends", a.w.verts.at[a.from(t)])
				}
				i = (i + len(hs) - 1) % len(hs)
				if a.bounds(hs[i], keep) {
					x = hs[i]
					break
				}
			}
		}
		a.measureRing(&r)
		out = append(out, r)
	}
	return out, nil
}

// measureRing works out how a ring lies in the surface.
func (a *arrangement) measureRing(r *ring) {
	s := a.g.surface
	r.trim.Surface = s
	var turn, moment, weight float64
	for _, h := range r.halves {
		e := &a.edges[h/2]
		r.trim.trim = append(r.trim.trim, a.pieces[a.first[h/2]:a.first[h/2+1]]...)
		k := 1.0
		if h&1 == 1 {
			k = -1
		}
		if isGenerator(s, e.Curve) {
			continue
		}
		if _, line := e.Curve.(Line); line {
			from, to := a.w.verts.at[e.Start], a.w.verts.at[e.End]
			u0, v0 := s.Param(from)
			u1, v1 := s.Param(to)
			r.area -= k * (u1 - u0) * (v0 + v1) / 2
			continue
		}
		for _, part := range gaussParts(e, math.Pi/2) {
			for _, n := range gauss8 {
				t := part[0] + (part[1]-part[0])*n.x
				p := e.Curve.Point(t)
				_, v := s.Param(p)
				du := angleRate(s, p, e.Curve.Tangent(t)) * (part[1] - part[0]) * n.w * k
				turn += du
				r.area -= v * du
				moment += v * math.Abs(du)
				weight += math.Abs(du)
			}
		}
	}
	if periodic(s) {
		r.wrap = int(math.Round(turn / (2 * math.Pi)))
	}
	if weight > 0 {
		r.height = moment / weight
	}
}

// group puts rings together to faces: outer ones with the holes in them, and on
// round surfaces lower rings with the upper ones above them.
func (a *arrangement) group(rings []ring) ([][]ring, error) {
	var faces [][]ring
	var lower, upper, holes []ring
	for _, r := range rings {
		switch {
		case r.wrap > 0:
			lower = append(lower, r)
		case r.wrap < 0:
			upper = append(upper, r)
		case r.area > 0:
			faces = append(faces, []ring{r})
		default:
			holes = append(holes, r)
		}
	}
	byHeight := func(rs []ring) { sort.SliceStable(rs, func(i, j int) bool { return rs[i].height < rs[j].height }) }
	byHeight(lower)
	byHeight(upper)
	if _, pointed := a.g.surface.tip(); pointed && len(upper) == len(lower)+1 {
		faces = append(faces, []ring{upper[0]})
		upper = upper[1:]
	}
	if len(lower) != len(upper) {
		return nil, lost("a round face stays open", a.w.verts.at[a.from(rings[0].halves[0])])
	}
	for i := range lower {
		faces = append(faces, []ring{lower[i], upper[i]})
	}
	for _, h := range holes {
		best := a.around(faces, h)
		if best < 0 {
			return nil, lost("a hole is in no face", a.point(h.halves[0], 0.5))
		}
		faces[best] = append(faces[best], h)
	}
	return faces, nil
}

// around returns the smallest face that a hole lies in, -1 for none. Holes may
// touch the rings around them, so the place to look at is one clear of them all.
func (a *arrangement) around(faces [][]ring, hole ring) int {
	for _, h := range hole.halves {
		for _, k := range []float64{0.5, 0.21, 0.83} {
			p := a.point(h, k)
			best, area, sure := -1, math.Inf(1), true
			for i, f := range faces {
				in := false
				for _, r := range f {
					if r.wrap == 0 && r.area < 0 {
						continue
					}
					x, unsure := r.trim.holds(p, a.edges)
					in, sure = in != x, sure && !unsure
				}
				size := math.Abs(f[0].area)
				if len(f) > 1 && f[1].wrap != 0 {
					size = math.Abs(f[0].area + f[1].area)
				}
				if in && size < area {
					best, area = i, size
				}
			}
			if sure && best >= 0 {
				return best
			}
		}
	}
	return -1
}

// hand gives a face to the stitcher.
func (a *arrangement) hand(rings []ring, keep int) {
	c := a.cells[a.cell[rings[0].halves[0]]]
	f := Face{Surface: a.g.surface, Inward: keep < 0, Name: c.name, Thread: c.thread, Patch: c.patch}
	if p, ok := f.Surface.(Plane); ok && f.Inward {
		p.Y, p.Z = p.Y.Mul(-1), p.Z.Mul(-1)
		f.Surface, f.Inward = p, false
	}
	var loops [][]int
	for _, r := range rings {
		var l []int
		for _, h := range r.halves {
			l = append(l, a.segs[h/2]|(h&1)*reversedBit)
		}
		if keep < 0 {
			l = turnedUses(l)
		}
		loops = append(loops, l)
	}
	a.w.out.add(f, loops)
}

// turnedUses returns a loop of segments run the other way.
func turnedUses(l []int) []int {
	out := make([]int, len(l))
	for i, s := range l {
		out[len(l)-1-i] = s ^ reversedBit
	}
	return out
}
