package solid

// Crossing is a piece of curve in which faces of two solids run through each
// other, from parameter T0 to T1 > T0.
type Crossing struct {
	Curve  Curve
	T0, T1 float64
	// Faces are the faces of the first and of the second solid that it lies in.
	Faces [2]int
}

// Crossings returns the curves in which the boundaries of two solids in one set
// of axes run through each other: where a screw drawn at its major diameter enters
// the face around a hole drilled for its thread, where a part clashes with
// another. Where faces only touch or coincide there are none, nor along edges of
// either solid. They come in a settled order.
func Crossings(a, b *Solid) []Crossing {
	if _, done := apart(a, b, union); done {
		return nil
	}
	w := newBoolean(a, b, union)
	w.findVertices(0)
	w.findVertices(1)
	curves := w.meetFaces()
	w.splitEdges()
	edges := len(w.segs.list)
	w.splitCurves(curves)
	out := make([]Crossing, len(w.segs.list)-edges)
	for i := range out {
		s := &w.segs.list[edges+i]
		out[i] = Crossing{Curve: s.curve, T0: s.t0, T1: s.t1, Faces: [2]int{-1, -1}}
	}
	for k := range w.onFace {
		for _, face := range sortedKeys(w.onFace[k]) {
			for _, s := range w.onFace[k][face] {
				if i := s - edges; i >= 0 && out[i].Faces[k] < 0 {
					out[i].Faces[k] = face
				}
			}
		}
	}
	return out
}

// Only returns some faces of a solid, in the order given, with their edges: a
// shell that is open, for measuring what those faces do. Face i of it is face
// faces[i] of the solid.
func (s *Solid) Only(faces []int) *Solid {
	out := &Solid{}
	edges, vertices := map[int]int{}, map[int]int{}
	vertex := func(v int) int {
		n, seen := vertices[v]
		if !seen {
			n = len(out.Vertices)
			vertices[v] = n
			out.Vertices = append(out.Vertices, s.Vertices[v])
		}
		return n
	}
	for _, index := range faces {
		f := s.Faces[index]
		loops := make([]Loop, len(f.Loops))
		for k, l := range f.Loops {
			for _, u := range l {
				n, seen := edges[u.Edge]
				if !seen {
					n = len(out.Edges)
					edges[u.Edge] = n
					e := s.Edges[u.Edge]
					e.Start, e.End = vertex(e.Start), vertex(e.End)
					out.Edges = append(out.Edges, e)
				}
				loops[k] = append(loops[k], Use{n, u.Reversed})
			}
		}
		f.Loops = loops
		out.Faces = append(out.Faces, f)
	}
	return out.finish()
}
