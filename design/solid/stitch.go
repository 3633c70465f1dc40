package solid

import (
	"math"
	"sort"
)

// stitcher gathers the faces of a result, their loops made of segments, and
// joins them to a solid.
type stitcher struct {
	w     *boolean
	faces []Face
	loops [][][]int // by face
}

func (s *stitcher) add(f Face, loops [][]int) {
	f.Loops, f.trim, f.box = nil, nil, Box{}
	s.faces, s.loops = append(s.faces, f), append(s.loops, loops)
}

// keepWhole hands on the faces that nothing divides, where the result has them.
func (w *boolean) keepWhole() {
	for k, o := range w.in {
		other := w.in[1-k].Solid
		for i := range o.Faces {
			if o.arranged != nil && o.arranged[i] {
				continue
			}
			f := o.Faces[i]
			inside := other.box.Meets(f.box) && o.facePlace(i, other) == Inside
			in := [2]bool{true, true}
			in[1-k] = inside
			out := in
			out[k] = false
			a, b := w.op.keeps(in[0], in[1]), w.op.keeps(out[0], out[1])
			if a == b {
				continue
			}
			var loops [][]int
			for _, l := range f.Loops {
				loops = append(loops, o.segmentsOf(l))
			}
			if b { // the material is now on the other side
				for j := range loops {
					loops[j] = turnedUses(loops[j])
				}
				if p, ok := f.Surface.(Plane); ok {
					p.Y, p.Z = p.Y.Mul(-1), p.Z.Mul(-1)
					f.Surface = p
				} else {
					f.Inward = !f.Inward
				}
			}
			w.out.add(f, loops)
		}
	}
}

// segmentsOf returns a loop's segments.
func (o *operand) segmentsOf(l Loop) []int {
	var out []int
	for _, u := range l {
		parts := o.parts[u.Edge]
		if u.Reversed {
			parts = turnedUses(parts)
		}
		out = append(out, parts...)
	}
	return out
}

// facePlace tells where a face that nothing divides lies to the other solid.
func (o *operand) facePlace(face int, other *Solid) Place {
	for _, k := range []float64{0.5, 0.23, 0.71, 0.07} {
		for _, l := range o.Faces[face].Loops {
			for _, u := range l {
				if p := other.Where(o.Solid.Edges[u.Edge].Point(k)); p != OnFace {
					return p
				}
			}
		}
	}
	return Outside
}

// use is a segment as a face runs through it.
type use struct {
	face, loop, at int
	reversed       bool
}

// solid joins the faces.
func (s *stitcher) solid() (*Solid, error) {
	uses := map[int][]use{}
	var order []int
	for f, loops := range s.loops {
		for l, loop := range loops {
			for i, x := range loop {
				id := x &^ reversedBit
				if uses[id] == nil {
					order = append(order, id)
				}
				uses[id] = append(uses[id], use{f, l, i, x&reversedBit != 0})
			}
		}
	}
	out := &Solid{Faces: s.faces}
	vertex := map[int]int{}
	at := func(v int) int {
		i, ok := vertex[v]
		if !ok {
			i = len(out.Vertices)
			vertex[v] = i
			out.Vertices = append(out.Vertices, s.w.verts.at[v])
		}
		return i
	}
	for f := range out.Faces {
		for _, loop := range s.loops[f] {
			out.Faces[f].Loops = append(out.Faces[f].Loops, make(Loop, len(loop)))
		}
	}
	for _, id := range order {
		g := &s.w.segs.list[id]
		pairs, err := s.pairs(g, uses[id])
		if err != nil {
			return nil, err
		}
		for _, p := range pairs {
			e := len(out.Edges)
			out.Edges = append(out.Edges, Edge{Curve: g.curve, T0: g.t0, T1: g.t1, Start: at(g.v0), End: at(g.v1)})
			for _, u := range p {
				out.Faces[u.face].Loops[u.loop][u.at] = Use{e, u.reversed}
			}
		}
	}
	out.joinEdges()
	return out.finish(), nil
}

// pairs sorts the uses of a segment into pairs of faces with material between
// them; more than one where bodies touch along an edge.
func (s *stitcher) pairs(g *segment, us []use) ([][2]use, error) {
	if len(us) == 2 && us[0].reversed != us[1].reversed {
		return [][2]use{{us[0], us[1]}}, nil
	}
	forward := 0
	for _, u := range us {
		if !u.reversed {
			forward++
		}
	}
	if 2*forward != len(us) {
		return nil, lost("faces do not close", g.middle())
	}
	mid := g.middle()
	t := g.curve.Tangent((g.t0 + g.t1) / 2).Unit()
	f := FrameAlong(mid, t)
	angle := func(u use) float64 {
		way := t
		if u.reversed {
			way = t.Mul(-1)
		}
		d := s.faces[u.face].Normal(mid).Cross(way)
		return math.Atan2(d.Dot(f.Y), d.Dot(f.X))
	}
	sorted := append([]use(nil), us...)
	sort.SliceStable(sorted, func(i, j int) bool { return angle(sorted[i]) < angle(sorted[j]) })
	// Going round the segment, material begins at a face that runs against it and
	// ends at one that runs along it.
	var out [][2]use
	n := len(sorted)
	for i, u := range sorted {
		if next := sorted[(i+1)%n]; u.reversed && !next.reversed {
			out = append(out, [2]use{u, next})
		}
	}
	if 2*len(out) != n {
		return nil, lost("faces do not close", mid)
	}
	return out, nil
}

// joinEdges makes one edge of two that run on along one curve between the same
// faces, where a vertex was needed only for the working.
func (s *Solid) joinEdges() {
	s.setEdgeFaces()
	ends := make([][]int, len(s.Vertices)) // edges at each vertex
	for i, e := range s.Edges {
		ends[e.Start] = append(ends[e.Start], i)
		if e.End != e.Start {
			ends[e.End] = append(ends[e.End], i)
		}
	}
	gone := make([]bool, len(s.Edges))
	for v := range ends {
		if len(ends[v]) != 2 {
			continue
		}
		a, b := ends[v][0], ends[v][1]
		joined, ok := joinPair(s.Edges[a], s.Edges[b], v, s.Vertices)
		if !ok {
			continue
		}
		gone[b] = true
		for _, far := range []int{s.Edges[b].Start, s.Edges[b].End} {
			for i, e := range ends[far] {
				if e == b {
					ends[far][i] = a
				}
			}
			if n := len(ends[far]); n == 2 && ends[far][0] == ends[far][1] {
				ends[far] = ends[far][:1]
			}
		}
		s.Edges[a] = joined
	}
	s.compact(gone)
}

// setEdgeFaces sets the faces of all edges from the loops.
func (s *Solid) setEdgeFaces() {
	for i := range s.Edges {
		s.Edges[i].Faces = [2]int{-1, -1}
	}
	for f := range s.Faces {
		for _, l := range s.Faces[f].Loops {
			for _, u := range l {
				side := 0
				if u.Reversed {
					side = 1
				}
				s.Edges[u.Edge].Faces[side] = f
			}
		}
	}
}

// joinPair returns the edge that two make together across vertex v. It keeps
// the way of the first.
func joinPair(a, b Edge, v int, verts []Vec) (Edge, bool) {
	if a.Start == a.End || b.Start == b.End || !sameCurve(a.Curve, b.Curve, verts[v]) {
		return a, false
	}
	// How b runs to a.
	same := a.End == v && b.Start == v || a.Start == v && b.End == v
	faces := b.Faces
	if !same {
		faces[0], faces[1] = faces[1], faces[0]
	}
	if faces != a.Faces {
		return a, false
	}
	span := b.T1 - b.T0
	if _, line := a.Curve.(Line); !line && a.Curve.Period() == 0 {
		return a, false // a Meet that turns back keeps its ends
	}
	far := b.Start + b.End - v
	if a.End == v {
		a.End = far
		a.T1 += span
	} else {
		a.Start = far
		a.T0 -= span
	}
	return a, true
}

// sameCurve tells whether two curves that meet at p are one.
func sameCurve(a, b Curve, p Vec) bool {
	const slack = 1e-7
	switch a := a.(type) {
	case Line:
		b, ok := b.(Line)
		return ok && a.D.Cross(b.D).Len() < slack
	case Circle:
		b, ok := b.(Circle)
		return ok && a.O.Dist(b.O) < mergeDistance && math.Abs(a.R-b.R) < mergeDistance && a.Z.Cross(b.Z).Len() < slack
	case Ellipse:
		b, ok := b.(Ellipse)
		return ok && a == b
	case Meet:
		b, ok := b.(Meet)
		return ok && a == b
	}
	return false
}

// compact drops edges that are gone, uses of them, and vertices without edges.
func (s *Solid) compact(gone []bool) {
	number := make([]int, len(s.Edges))
	var edges []Edge
	for i, e := range s.Edges {
		number[i] = len(edges)
		if !gone[i] {
			edges = append(edges, e)
		}
	}
	for f := range s.Faces {
		for l, loop := range s.Faces[f].Loops {
			kept := loop[:0]
			for _, u := range loop {
				if !gone[u.Edge] {
					kept = append(kept, Use{number[u.Edge], u.Reversed})
				}
			}
			s.Faces[f].Loops[l] = kept
		}
	}
	used := make([]int, len(s.Vertices))
	for i := range used {
		used[i] = -1
	}
	var verts []Vec
	at := func(v int) int {
		if used[v] < 0 {
			used[v] = len(verts)
			verts = append(verts, s.Vertices[v])
		}
		return used[v]
	}
	for i := range edges {
		edges[i].Start, edges[i].End = at(edges[i].Start), at(edges[i].End)
	}
	s.Edges, s.Vertices = edges, verts
}
