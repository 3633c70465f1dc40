package solid

import "math"

// Measures are the integrals over a solid of density 1.
type Measures struct {
	Volume float64 // mm³
	Area   float64 // mm², of the whole boundary
	Centre Vec     // of mass, mm
	// Inertia is the tensor about Centre along the axes, mm⁵: moments on the
	// diagonal, negative products of inertia beside it.
	Inertia [3][3]float64
}

// Measure returns volume, area, centre and inertia. Each integral is brought
// down to the face's edges, and along these a Gauss rule is exact or nearly so;
// no facets come in. Errors are of the order of rounding (1e-12 of the size) with
// straight, circular and elliptic edges, and below 1e-6 where curved faces meet
// in a [Meet].
func (s *Solid) Measure() Measures {
	var sum integrals
	ref := s.box.Centre()
	for i := range s.Faces {
		s.addFace(&sum, &s.Faces[i], ref)
	}
	m := Measures{Volume: sum.volume, Area: sum.area}
	if sum.volume == 0 {
		return m
	}
	c := sum.first.Mul(1 / sum.volume)
	m.Centre = ref.Add(c)
	v := sum.volume
	xx, yy, zz := sum.square.X-v*c.X*c.X, sum.square.Y-v*c.Y*c.Y, sum.square.Z-v*c.Z*c.Z
	xy, yz, zx := sum.mixed.X-v*c.X*c.Y, sum.mixed.Y-v*c.Y*c.Z, sum.mixed.Z-v*c.Z*c.X
	m.Inertia = [3][3]float64{{yy + zz, -xy, -zx}, {-xy, xx + zz, -yz}, {-zx, -yz, xx + yy}}
	return m
}

// FaceArea returns the exact area of a face, mm².
func (s *Solid) FaceArea(face int) float64 {
	var sum integrals
	s.addFace(&sum, &s.Faces[face], s.box.Centre())
	return sum.area
}

// integrals are those of 1, x, y, z, x², y², z², xy, yz, zx over the volume, by
// the divergence theorem, and of 1 over the boundary.
type integrals struct {
	volume, area         float64
	first, square, mixed Vec
}

// add adds the integrand at a point p (from the reference point) with outward
// normal n, weighted by w.
func (m *integrals) add(p, n Vec, w float64) {
	m.area += w
	m.volume += w * p.Dot(n) / 3
	x, y, z := p.X*n.X*w, p.Y*n.Y*w, p.Z*n.Z*w
	m.first = m.first.Add(Vec{x * p.X / 2, y * p.Y / 2, z * p.Z / 2})
	m.square = m.square.Add(Vec{x * p.X * p.X / 3, y * p.Y * p.Y / 3, z * p.Z * p.Z / 3})
	m.mixed = m.mixed.Add(Vec{x * p.X * p.Y / 2, y * p.Y * p.Z / 2, z * p.Z * p.X / 2})
}

// Gauss-Legendre nodes and weights on [0, 1].
var (
	gauss4 = gauss([]float64{0.3399810435848563, 0.8611363115940526}, []float64{0.6521451548625461, 0.3478548451374538})
	gauss8 = gauss(
		[]float64{0.1834346424956498, 0.5255324099163290, 0.7966664774136267, 0.9602898564975363},
		[]float64{0.3626837833783620, 0.3137066458778873, 0.2223810344533745, 0.1012285362903763})
)

type gaussNode struct{ x, w float64 }

func gauss(x, w []float64) []gaussNode {
	var n []gaussNode
	for i := range x {
		n = append(n, gaussNode{(1 - x[i]) / 2, w[i] / 2}, gaussNode{(1 + x[i]) / 2, w[i] / 2})
	}
	return n
}

// addFace adds a face. With F the integral of the integrand f over v from a
// fixed height, ∫∫ f du dv = -∮ F du around the face in its parameters, with the
// face on the left. F is periodic in u on cylinders and cones, so faces that run
// all round need no seam; on a cone the fixed height is the tip.
func (s *Solid) addFace(sum *integrals, f *Face, ref Vec) {
	var start float64
	if _, pointed := f.Surface.tip(); !pointed {
		_, start = f.Surface.Param(f.box.Centre())
	}
	// Loops run with the face on their left seen from outside; seen along the
	// surface's own normal that is the right on an inward face.
	sign := -1.0
	if f.Inward {
		sign = 1
	}
	for _, l := range f.Loops {
		for _, u := range l {
			e := &s.Edges[u.Edge]
			k := sign
			if u.Reversed {
				k = -k
			}
			if isGenerator(f.Surface, e.Curve) {
				continue // u stays
			}
			for _, part := range gaussParts(e, math.Pi/9) {
				addPart(sum, f, e.Curve, part[0], part[1], start, k, ref)
			}
		}
	}
}

// gaussParts cuts an edge into stretches short enough for the Gauss rule; a curve
// without a closed form, such as a Meet, into stretches of at most meet.
func gaussParts(e *Edge, meet float64) [][2]float64 {
	n := 1
	switch e.Curve.(type) {
	case Circle, Ellipse:
		n = int(math.Ceil((e.T1 - e.T0) / (math.Pi / 3)))
	case Line:
	default:
		n = int(math.Ceil((e.T1 - e.T0) / meet))
	}
	parts := make([][2]float64, n)
	for i := range parts {
		parts[i] = [2]float64{e.T0 + (e.T1-e.T0)*float64(i)/float64(n), e.T0 + (e.T1-e.T0)*float64(i+1)/float64(n)}
	}
	return parts
}

// addPart adds a stretch of a face's edge.
func addPart(sum *integrals, f *Face, c Curve, t0, t1, start, k float64, ref Vec) {
	nodes := gauss8
	if _, ok := c.(Line); ok {
		nodes = gauss4
	}
	for _, n := range nodes {
		t := t0 + (t1-t0)*n.x
		p := c.Point(t)
		u, v := f.Surface.Param(p)
		du := angleRate(f.Surface, p, c.Tangent(t)) * (t1 - t0) * n.w * k
		if du == 0 {
			continue
		}
		// Up from the edge the surface runs straight, with one normal.
		o, d := f.Surface.line(u)
		normal := f.Normal(p)
		o = o.Sub(ref)
		for _, m := range gauss4 {
			h := start + (v-start)*m.x
			sum.add(o.along(d, h), normal, du*(v-start)*m.w*f.Surface.stretch(h))
		}
	}
}

// angleRate returns how fast the parameter u changes along direction d at p.
func angleRate(s Surface, p, d Vec) float64 {
	f, round := s.round()
	if !round {
		_, along := s.line(0)
		return d.Dot(along.Cross(s.Normal(p)))
	}
	q := p.Sub(f.O)
	x, y := q.Dot(f.X), q.Dot(f.Y)
	r := x*x + y*y
	if r < 1e-18 {
		return 0
	}
	return (x*d.Dot(f.Y) - y*d.Dot(f.X)) / r
}
