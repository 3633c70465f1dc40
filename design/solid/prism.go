package solid

import "math"

// prismNames are the names of a prism's end faces.
type prismNames struct{ low, high string }

// prism extrudes a region along Frame.Z by length. The region's first loop is
// the outer one, anticlockwise, the others clockwise; they must have been
// checked. Spans must bear names.
func prism(loops []Outline, length float64, f Frame, names prismNames) *Solid {
	s := &Solid{}
	low := Face{Surface: Plane{Frame{O: f.O, X: f.X, Y: f.Y.Mul(-1), Z: f.Z.Mul(-1)}}, Name: names.low}
	top := f
	top.O = f.Point(0, 0, length)
	high := Face{Surface: Plane{top}, Name: names.high}
	var sides []Face
	for _, o := range loops {
		n := len(o)
		v := len(s.Vertices)
		for _, sp := range o {
			s.Vertices = append(s.Vertices, f.Point(sp.From.X, sp.From.Y, 0), f.Point(sp.From.X, sp.From.Y, length))
		}
		// Edges of span i: e+3i low, e+3i+1 high, e+3i+2 upright at its start.
		e := len(s.Edges)
		step := 3
		if n == 1 {
			step = 2
		}
		var lowLoop, highLoop Loop
		for i, sp := range o {
			a, b := v+2*i, v+2*((i+1)%n)
			c, t0, t1 := sp.curve(f, 0)
			d, _, _ := sp.curve(f, length)
			s.Edges = append(s.Edges,
				Edge{Curve: c, T0: t0, T1: t1, Start: a, End: b},
				Edge{Curve: d, T0: t0, T1: t1, Start: a + 1, End: b + 1})
			side := Face{Surface: sp.wall(f), Inward: sp.Clockwise, Name: sp.name}
			lo, hi := e+step*i, e+step*i+1
			if n == 1 {
				side.Loops = []Loop{{{lo, false}}, {{hi, true}}}
			} else {
				s.Edges = append(s.Edges, Edge{Curve: Line{s.Vertices[a], f.Z}, T1: length, Start: a, End: a + 1})
				next := e + step*((i+1)%n) + 2
				side.Loops = []Loop{{{lo, false}, {next, false}, {hi, true}, {e + step*i + 2, true}}}
			}
			sides = append(sides, side)
			highLoop = append(highLoop, Use{hi, false})
			lowLoop = append(Loop{{lo, true}}, lowLoop...)
		}
		low.Loops, high.Loops = append(low.Loops, lowLoop), append(high.Loops, highLoop)
	}
	s.Faces = append(sides, low, high)
	return s.finish()
}

// curve returns the span's curve in the plane of f at height h, running along
// the span from t0 to t1.
func (s Span) curve(f Frame, h float64) (c Curve, t0, t1 float64) {
	if !s.Arc {
		from := f.Point(s.From.X, s.From.Y, h)
		d := f.X.Mul(s.To.X - s.From.X).Add(f.Y.Mul(s.To.Y - s.From.Y))
		return Line{from, d.Unit()}, 0, d.Len()
	}
	start, angle := s.sweep()
	g := Frame{O: f.Point(s.Centre.X, s.Centre.Y, h), X: f.X, Y: f.Y, Z: f.Z}
	if angle < 0 {
		g.Y, g.Z = g.Y.Mul(-1), g.Z.Mul(-1)
		start, angle = -start, -angle
	}
	return Circle{g, s.radius()}, start, start + angle
}

// wall returns the surface that the span makes when extruded. A straight span's
// own normal points to its right.
func (s Span) wall(f Frame) Surface {
	if s.Arc {
		g := f
		g.O = f.Point(s.Centre.X, s.Centre.Y, 0)
		return Cylinder{g, s.radius()}
	}
	_, d := s.at(0)
	x := f.X.Mul(d.X).Add(f.Y.Mul(d.Y))
	return Plane{Frame{O: f.Point(s.From.X, s.From.Y, 0), X: x, Y: f.Z, Z: x.Cross(f.Z)}}
}

// simplified returns the outline with spans that run straight on, or on along
// the same circle, made one. A name counts as different only when both were given.
func (o Outline) simplified() Outline {
	if len(o) < 3 {
		return o
	}
	joins := func(a, b Span) bool {
		if a.Arc != b.Arc || a.name != b.name && a.name != "" && b.name != "" {
			return false
		}
		if a.Arc {
			return a.Clockwise == b.Clockwise && a.Centre.dist(b.Centre) < Tolerance/10 && math.Abs(a.radius()-b.radius()) < Tolerance/10
		}
		_, d := a.at(1)
		_, e := b.at(0)
		return d.dot(e) > 0 && math.Abs(d.cross(e)) < angleTolerance
	}
	// Begin at a corner, so that no run is cut by the seam.
	first := -1
	for i := range o {
		if !joins(o[(i+len(o)-1)%len(o)], o[i]) {
			first = i
			break
		}
	}
	if first < 0 {
		p := o[0].From
		return Outline{{From: p, To: p, Arc: true, Centre: o[0].Centre, Clockwise: o[0].Clockwise, name: o[0].name}}
	}
	var out Outline
	for i := range o {
		s := o[(first+i)%len(o)]
		if n := len(out); n > 0 && joins(out[n-1], s) {
			out[n-1].To = s.To
			continue
		}
		out = append(out, s)
	}
	return out
}
