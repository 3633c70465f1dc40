package solid

import "math"

// finish works out what methods of a solid rely on: which faces an edge joins,
// boxes, trims. Every way of making a solid ends here.
func (s *Solid) finish() *Solid {
	for i := range s.Edges {
		s.Edges[i].Faces = [2]int{-1, -1}
	}
	s.box = EmptyBox()
	for i := range s.Faces {
		s.finishFace(i)
	}
	return s
}

// finishFace does the work of finish for one face.
func (s *Solid) finishFace(i int) {
	f := &s.Faces[i]
	f.trim = nil
	for _, l := range f.Loops {
		for _, u := range l {
			s.trimEdge(i, u)
		}
	}
	f.box = s.faceBox(f, Stay)
	s.box = s.box.Join(f.box)
}

// trimEdge notes that a face runs through an edge.
func (s *Solid) trimEdge(face int, u Use) {
	f, e := &s.Faces[face], &s.Edges[u.Edge]
	side := 0
	if u.Reversed {
		side = 1
	}
	e.Faces[side] = face
	f.trim = append(f.trim, trimPieces(f.Surface, e, u.Edge, s.Vertices)...)
}

// faceBox returns the exact box of a face under a placement. Cylinders and cones
// consist of straight lines, so the extremes lie on the edges or at a tip.
func (s *Solid) faceBox(f *Face, p Placement) Box {
	b := EmptyBox()
	for _, l := range f.Loops {
		for _, u := range l {
			e := &s.Edges[u.Edge]
			c := e.Curve
			if p != Stay {
				c = c.Placed(p)
			}
			b = b.Join(curveBox(c, e.T0, e.T1))
		}
	}
	if c, ok := f.Surface.(Cone); ok && f.hasTip(s.Edges) {
		b = b.Add(p.Point(c.O))
	}
	return b
}

// hasTip tells whether a cone face holds the cone's tip.
func (f *Face) hasTip(edges []Edge) bool {
	c, ok := f.Surface.(Cone)
	if !ok {
		return false
	}
	// Just off the tip, away from where edges might run into it.
	for _, u := range []float64{0.1234, 2.5, -1.9} {
		if in, unsure := f.holds(c.Point(u, 20*nearEdge*(1+1/c.Slope)), edges); !unsure {
			return in
		}
	}
	return false
}

// BoxUnder returns the exact bounding box of the solid under a placement.
func (s *Solid) BoxUnder(p Placement) Box {
	b := EmptyBox()
	for i := range s.Faces {
		b = b.Join(s.faceBox(&s.Faces[i], p))
	}
	return b
}

// curveBox returns the exact box of a piece of a curve.
func curveBox(c Curve, t0, t1 float64) Box {
	b := EmptyBox().Add(c.Point(t0)).Add(c.Point(t1))
	axes := [3]Vec{{X: 1}, {Y: 1}, {Z: 1}}
	switch c := c.(type) {
	case Circle:
		for _, d := range axes {
			for _, t := range extremes(c.R*d.Dot(c.X), c.R*d.Dot(c.Y), t0, t1) {
				b = b.Add(c.Point(t))
			}
		}
	case Ellipse:
		for _, d := range axes {
			for _, t := range extremes(c.A*d.Dot(c.X), c.B*d.Dot(c.Y), t0, t1) {
				b = b.Add(c.Point(t))
			}
		}
	case Line:
	default:
		b = sampledBox(c, t0, t1, b)
	}
	return b
}

// sampledBox adds the extremes of a curve without a closed form to a box: the outermost samples, each
// closed in on where it is no end.
func sampledBox(c Curve, t0, t1 float64, b Box) Box {
	const n = 24
	var at [n + 1]Vec
	t := func(i int) float64 { return t0 + (t1-t0)*float64(i)/n }
	for i := range at {
		at[i] = c.Point(t(i))
	}
	for _, d := range []Vec{{X: 1}, {Y: 1}, {Z: 1}, {X: -1}, {Y: -1}, {Z: -1}} {
		best := 0
		for i := range at {
			if at[i].Dot(d) < at[best].Dot(d) {
				best = i
			}
		}
		// The outermost sample may be an end and the curve still rise beside it.
		lo, hi := t(max(best-1, 0)), t(min(best+1, n))
		b = b.Add(c.Point(lowest(func(x float64) float64 { return c.Point(x).Dot(d) }, lo, hi)))
	}
	return b
}

// Placed returns the solid under a placement. Features move along.
func (s *Solid) Placed(p Placement) *Solid {
	out := &Solid{
		Faces:    append([]Face(nil), s.Faces...),
		Edges:    append([]Edge(nil), s.Edges...),
		Vertices: append([]Vec(nil), s.Vertices...),
	}
	for i := range out.Vertices {
		out.Vertices[i] = p.Point(out.Vertices[i])
	}
	for i := range out.Edges {
		out.Edges[i].Curve = out.Edges[i].Curve.Placed(p)
	}
	for i := range out.Faces {
		out.Faces[i].Surface = out.Faces[i].Surface.Placed(p)
	}
	for _, f := range s.features {
		out.features = append(out.features, f.placed(p))
	}
	return out.finish()
}

// placed returns the feature under a placement; its box is that of the turned
// box's corners, exact for quarter turns.
func (f Feature) placed(p Placement) Feature {
	f.At, f.Dir, f.Along = p.Point(f.At), p.Direction(f.Dir), p.Direction(f.Along)
	f.Box = f.Box.Under(p)
	return f
}

// Mirrored returns the solid mirrored left to right in the plane x = 0, without
// features, whose names would then be wrong.
func (s *Solid) Mirrored() *Solid {
	m := func(v Vec) Vec { return Vec{-v.X, v.Y, v.Z} }
	out := &Solid{Faces: append([]Face(nil), s.Faces...), Edges: append([]Edge(nil), s.Edges...)}
	for _, v := range s.Vertices {
		out.Vertices = append(out.Vertices, m(v))
	}
	reversed := make([]bool, len(s.Edges))
	for i := range out.Edges {
		e := &out.Edges[i]
		e.Curve, reversed[i] = e.Curve.mirrored()
		if !reversed[i] {
			continue
		}
		middle := 0.0
		if c, ok := e.Curve.(Meet); ok && !c.Round {
			middle = math.Pi
		}
		e.T0, e.T1 = middle-e.T1, middle-e.T0
		e.Start, e.End = e.End, e.Start
	}
	for i := range out.Faces {
		f := &out.Faces[i]
		f.Surface = f.Surface.mirrored()
		loops := make([]Loop, len(f.Loops))
		for k, l := range f.Loops {
			turned := make(Loop, len(l))
			for j, u := range l {
				turned[len(l)-1-j] = Use{u.Edge, u.Reversed == reversed[u.Edge]}
			}
			loops[k] = turned
		}
		f.Loops = loops
	}
	return out.finish()
}
