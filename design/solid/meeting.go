package solid

import (
	"math"
	"sort"
)

// findVertices finds where edges of one operand pierce or touch faces of the
// other.
func (w *boolean) findVertices(k int) {
	o, other := w.in[k], w.in[1-k]
	for i := range o.Edges {
		if !o.edges[i] {
			continue
		}
		e := &o.Solid.Edges[i]
		for j := range other.Faces {
			f := &other.Faces[j]
			if !other.near[j] || !o.boxes[i].Meets(f.box) {
				continue
			}
			ts, on := crossings(e.Curve, e.T0, e.T1, f.Surface)
			if on {
				w.crossRim(k, i, j)
				continue
			}
			for _, t := range ts {
				if p := e.Curve.Point(t); other.within(j, p) {
					w.verts.add(p)
				}
			}
		}
	}
}

// crossRim finds where an edge that lies in the surface of a face of the other
// operand crosses that face's edges, and notes that the edge may divide it.
func (w *boolean) crossRim(k, edge, face int) {
	o, other := w.in[k], w.in[1-k]
	e, f := &o.Solid.Edges[edge], &other.Faces[face]
	w.onFace[1-k][face] = append(w.onFace[1-k][face], edge)
	for _, l := range f.Loops {
		for _, u := range l {
			if !o.boxes[edge].Meets(other.boxes[u.Edge]) {
				continue
			}
			r := &other.Solid.Edges[u.Edge]
			fence := other.fence(f.Surface, face, u.Edge)
			if fence == nil {
				continue
			}
			ts, _ := crossings(e.Curve, e.T0, e.T1, fence)
			for _, t := range ts {
				p := e.Curve.Point(t)
				if _, ok := paramOn(r, p); ok {
					w.verts.add(p)
				}
			}
		}
	}
}

// fence returns a surface that meets a face's surface squarely, or at least not
// touching, along one of its edges.
func (o *operand) fence(s Surface, face, edge int) Surface {
	e := &o.Solid.Edges[edge]
	plane, flat := s.(Plane)
	switch c := e.Curve.(type) {
	case Line:
		n := s.Normal(c.Point((e.T0 + e.T1) / 2))
		return Plane{Frame{O: c.O, X: c.D, Y: n, Z: c.D.Cross(n)}}
	case Circle:
		if flat && plane.Z.Cross(c.Z).Len() < 1e-6 {
			return Cylinder{c.Frame, c.R}
		}
		return Plane{c.Frame}
	case Ellipse:
		if !flat {
			return Plane{c.Frame}
		}
	}
	for _, other := range e.Faces {
		if other != face && other >= 0 {
			return o.Faces[other].Surface
		}
	}
	return nil
}

// paramOn returns the parameter, between the edge's ends, of a point on the
// edge; false when it is not on it.
func paramOn(e *Edge, p Vec) (float64, bool) {
	t := e.Curve.Param(p)
	if period := e.Curve.Period(); period > 0 {
		t += period * math.Ceil((e.T0-t)/period-1e-9)
		if t > e.T1 && t-period >= e.T0-1e-6 {
			t -= period
		}
	}
	t = math.Max(e.T0, math.Min(e.T1, t))
	return t, e.Curve.Point(t).Dist(p) < mergeDistance
}

// faceCurve is a curve in which two faces' surfaces meet.
type faceCurve struct {
	curve Curve
	faces [2]int
}

// meetFaces works out the curves between faces near each other, and notes the
// pairs that coincide.
func (w *boolean) meetFaces() []faceCurve {
	a, b := w.in[0], w.in[1]
	var out []faceCurve
	for i := range a.Faces {
		if !a.near[i] {
			continue
		}
		f := &a.Faces[i]
		box := f.box.Grow(2 * Tolerance)
		for j := range b.Faces {
			g := &b.Faces[j]
			if !b.near[j] || !box.Meets(g.box) {
				continue
			}
			both := common(box, g.box.Grow(2*Tolerance))
			if same, _ := f.Surface.same(g.Surface, both.Centre(), both.Size().Len()+Tolerance); same {
				w.same = append(w.same, [2]int{i, j})
				continue
			}
			curves := meetSurfaces(f.Surface, g.Surface, both)
			for _, p := range append(ownVertices(curves), tipsOn(f.Surface, g.Surface)...) {
				if a.within(i, p) && b.within(j, p) {
					w.verts.add(p)
				}
			}
			for _, c := range curves {
				out = append(out, faceCurve{c, [2]int{i, j}})
			}
		}
	}
	return out
}

// ownVertices returns the points where the curves between two surfaces turn
// back or cross each other.
func ownVertices(curves []Curve) []Vec {
	var out []Vec
	for i, c := range curves {
		switch c := c.(type) {
		case Meet:
			if !c.Round {
				out = append(out, c.Point(0), c.Point(math.Pi))
			}
		case Ellipse:
			for _, d := range curves[i+1:] {
				if d, ok := d.(Ellipse); ok {
					ts, _ := crossings(c, 0, 2*math.Pi, Plane{d.Frame})
					for _, t := range ts {
						out = append(out, c.Point(t))
					}
				}
			}
		}
	}
	return out
}

// tipsOn returns the tips of cones that lie on the other surface: straight lines
// end there.
func tipsOn(a, b Surface) []Vec {
	var out []Vec
	if tip, ok := a.tip(); ok && math.Abs(b.Off(tip)) < Tolerance {
		out = append(out, tip)
	}
	if tip, ok := b.tip(); ok && math.Abs(a.Off(tip)) < Tolerance {
		out = append(out, tip)
	}
	return out
}

// common returns the box that both hold.
func common(a, b Box) Box {
	return Box{
		Vec{math.Max(a.Min.X, b.Min.X), math.Max(a.Min.Y, b.Min.Y), math.Max(a.Min.Z, b.Min.Z)},
		Vec{math.Min(a.Max.X, b.Max.X), math.Min(a.Max.Y, b.Max.Y), math.Min(a.Max.Z, b.Max.Z)},
	}
}

// splitEdges makes segments of all edges, cut at the vertices on them, and gives
// each face the other operand's segments that lie in it.
func (w *boolean) splitEdges() {
	for _, o := range w.in {
		for i := range o.Solid.Edges {
			e := &o.Solid.Edges[i]
			a, b := w.verts.add(o.Vertices[e.Start]), w.verts.add(o.Vertices[e.End])
			if !o.edges[i] {
				o.parts[i] = []int{w.segs.add(e.Curve, e.T0, e.T1, a, b)}
				continue
			}
			o.parts[i] = w.split(e, a, b, o.boxes[i])
		}
	}
	for k := range w.onFace {
		o, other := w.in[k], w.in[1-k]
		for _, face := range sortedKeys(w.onFace[k]) {
			var kept []int
			for _, edge := range w.onFace[k][face] {
				for _, s := range other.parts[edge] {
					if o.within(face, w.segs.list[s&^reversedBit].middle()) {
						kept = append(kept, s&^reversedBit)
					}
				}
			}
			w.onFace[k][face] = kept
		}
	}
}

func sortedKeys(m map[int][]int) []int {
	var keys []int
	for k := range m {
		keys = append(keys, k)
	}
	sort.Ints(keys)
	return keys
}

// cut is a vertex on an edge.
type cut struct {
	t float64
	v int
}

// split makes segments of an edge between vertices a and b.
func (w *boolean) split(e *Edge, a, b int, box Box) []int {
	cuts := []cut{{e.T0, a}}
	w.verts.inBox(box, func(v int) {
		if v == a || v == b {
			return
		}
		if t, ok := paramOn(e, w.verts.at[v]); ok {
			cuts = append(cuts, cut{t, v})
		}
	})
	sortCuts(cuts[1:])
	cuts = append(cuts, cut{e.T1, b})
	var out []int
	for i := 0; i+1 < len(cuts); i++ {
		if s := w.segs.add(e.Curve, cuts[i].t, cuts[i+1].t, cuts[i].v, cuts[i+1].v); s >= 0 {
			out = append(out, s)
		}
	}
	return out
}

func sortCuts(c []cut) {
	sort.Slice(c, func(i, j int) bool {
		if c[i].t != c[j].t {
			return c[i].t < c[j].t
		}
		return c[i].v < c[j].v
	})
}

// splitCurves cuts the curves between faces at the vertices on them and keeps
// what lies in both faces.
func (w *boolean) splitCurves(curves []faceCurve) {
	a, b := w.in[0], w.in[1]
	for _, c := range curves {
		box := common(a.Faces[c.faces[0]].box, b.Faces[c.faces[1]].box).Grow(2 * Tolerance)
		var cuts []cut
		w.verts.inBox(box, func(v int) {
			p := w.verts.at[v]
			t := c.curve.Param(p)
			if c.curve.Point(t).Dist(p) < mergeDistance {
				cuts = append(cuts, cut{t, v})
			}
		})
		if m, ok := c.curve.(Meet); ok && !m.Round {
			cuts = w.meetEnds(m, cuts)
		}
		sortCuts(cuts)
		period := c.curve.Period()
		if len(cuts) == 0 {
			if period == 0 {
				continue
			}
			if p := c.curve.Point(0); a.within(c.faces[0], p) && b.within(c.faces[1], p) {
				v := w.verts.add(p)
				w.keepCurve(c, 0, period, v, v)
			}
			continue
		}
		if period > 0 {
			cuts = append(cuts, cut{cuts[0].t + period, cuts[0].v})
		}
		for i := 0; i+1 < len(cuts); i++ {
			w.keepCurve(c, cuts[i].t, cuts[i+1].t, cuts[i].v, cuts[i+1].v)
		}
	}
}

// meetEnds sets the cuts at the ends of a curve that turns back: a curve that
// begins and ends in one point needs both, and near the ends many parameters
// give one point.
func (w *boolean) meetEnds(m Meet, cuts []cut) []cut {
	ends := [2]Vec{m.Point(0), m.Point(math.Pi)}
	kept := cuts[:0]
	at := [2]int{-1, -1}
	for _, c := range cuts {
		end := false
		for k, p := range ends {
			if w.verts.at[c.v].Dist(p) < mergeDistance {
				at[k], end = c.v, true
			}
		}
		if !end {
			kept = append(kept, c)
		}
	}
	for k, v := range at {
		if v >= 0 {
			kept = append(kept, cut{math.Pi * float64(k), v})
		}
	}
	return kept
}

// keepCurve makes a segment of a stretch of curve if it lies in both faces.
func (w *boolean) keepCurve(c faceCurve, t0, t1 float64, v0, v1 int) {
	// Two places are looked at, since one may be where the curve touches a rim.
	for _, k := range []float64{0.5, 0.381} {
		p := c.curve.Point(t0 + (t1-t0)*k)
		if !w.in[0].within(c.faces[0], p) || !w.in[1].within(c.faces[1], p) {
			return
		}
	}
	s := w.segs.add(c.curve, t0, t1, v0, v1)
	if s < 0 {
		return
	}
	for k, f := range c.faces {
		w.onFace[k][f] = append(w.onFace[k][f], s&^reversedBit)
	}
}
