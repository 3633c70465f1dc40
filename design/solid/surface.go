package solid

import "math"

// Surface is an unbounded surface that a face lies on: [Plane], [Cylinder] or
// [Cone]. Others join by these same methods and those of kind.go.
//
// Every surface has parameters u, v. For a plane they are the frame's x and y
// in millimetres; for a cylinder and a cone u is the angle about the frame's Z
// in radians, from X towards Y, and v the distance along Z in millimetres. The
// own normal is ∂u × ∂v: away from the axis on cylinders and cones.
type Surface interface {
	// Point returns the point at u, v.
	Point(u, v float64) Vec
	// Param returns the u, v of the point of the surface nearest to p (on a
	// cone: at the same distance along the axis).
	Param(p Vec) (u, v float64)
	// Normal returns the unit own normal at the point p on the surface.
	Normal(p Vec) Vec
	// Off returns about how far p lies off the surface, in millimetres,
	// positive on the side its own normal points to; zero exactly on the surface.
	Off(p Vec) float64
	// LineHits returns the parameters t, in growing order, at which the line
	// o + d*t crosses the surface; touching counts twice. A line within the
	// surface gives none.
	LineHits(o, d Vec) []float64
	// Placed returns the surface under a placement.
	Placed(p Placement) Surface
	// mirrored returns the surface mirrored in the plane x = 0; its own normal
	// is then the mirror image of what it was.
	mirrored() Surface
	kind
}

// Plane is the plane through Frame.O along Frame.X and Frame.Y; its own normal
// is Frame.Z.
type Plane struct{ Frame }

// Cylinder is the round surface of radius R, in millimetres, about Frame.Z.
type Cylinder struct {
	Frame
	R float64
}

// Cone is the half cone with its tip at Frame.O that opens along +Frame.Z: at
// distance v along the axis its radius is Slope*v. Slope is the tangent of half
// the included angle.
type Cone struct {
	Frame
	Slope float64
}

// Param returns the plane's coordinates of p.
func (s Plane) Param(p Vec) (u, v float64) { d := p.Sub(s.O); return d.Dot(s.X), d.Dot(s.Y) }

// Point returns the point at u, v.
func (s Plane) Point(u, v float64) Vec { return s.Frame.Point(u, v, 0) }

// Normal returns Frame.Z.
func (s Plane) Normal(Vec) Vec { return s.Z }

// Off returns the signed distance of p.
func (s Plane) Off(p Vec) float64 { return p.Sub(s.O).Dot(s.Z) }

// LineHits returns where the line crosses the plane.
func (s Plane) LineHits(o, d Vec) []float64 {
	k := d.Dot(s.Z)
	if math.Abs(k) <= angleTolerance*d.Len() {
		return nil
	}
	return []float64{-s.Off(o) / k}
}

// Placed returns the plane under a placement.
func (s Plane) Placed(p Placement) Surface { return Plane{p.Frame(s.Frame)} }

func (s Plane) mirrored() Surface { return Plane{mirrorFrame(s.Frame)} }

// mirrorFrame mirrors a frame in the plane x = 0 and turns its X about to keep
// it right-handed.
func mirrorFrame(f Frame) Frame {
	m := func(v Vec) Vec { return Vec{-v.X, v.Y, v.Z} }
	return Frame{O: m(f.O), X: m(f.X).Mul(-1), Y: m(f.Y), Z: m(f.Z)}
}

// Param returns angle and height of p.
func (s Cylinder) Param(p Vec) (u, v float64) {
	q := s.Local(p)
	return math.Atan2(q.Y, q.X), q.Z
}

// Point returns the point at angle u and height v.
func (s Cylinder) Point(u, v float64) Vec {
	sin, cos := math.Sincos(u)
	return s.Frame.Point(s.R*cos, s.R*sin, v)
}

// Normal returns the direction away from the axis.
func (s Cylinder) Normal(p Vec) Vec {
	d := p.Sub(s.O)
	return d.Sub(s.Z.Mul(d.Dot(s.Z))).Unit()
}

// Off returns the distance from the axis less the radius.
func (s Cylinder) Off(p Vec) float64 {
	d := p.Sub(s.O)
	return d.Sub(s.Z.Mul(d.Dot(s.Z))).Len() - s.R
}

// LineHits returns where the line crosses the cylinder.
func (s Cylinder) LineHits(o, d Vec) []float64 {
	a, b, c := s.quadratic(o, d)
	if a <= angleTolerance*angleTolerance*d.Dot(d) {
		return nil
	}
	return quadraticRoots(a, b, c)
}

// quadratic returns a, b, c with a*t² + 2*b*t + c = 0 where the line meets the
// surface.
func (s Cylinder) quadratic(o, d Vec) (a, b, c float64) {
	w := o.Sub(s.O)
	dz, wz := d.Dot(s.Z), w.Dot(s.Z)
	dp, wp := d.Sub(s.Z.Mul(dz)), w.Sub(s.Z.Mul(wz))
	return dp.Dot(dp), dp.Dot(wp), wp.Dot(wp) - s.R*s.R
}

// Placed returns the cylinder under a placement.
func (s Cylinder) Placed(p Placement) Surface { return Cylinder{p.Frame(s.Frame), s.R} }

func (s Cylinder) mirrored() Surface { return Cylinder{mirrorFrame(s.Frame), s.R} }

// Param returns angle and distance from the tip along the axis.
func (s Cone) Param(p Vec) (u, v float64) {
	q := s.Local(p)
	return math.Atan2(q.Y, q.X), q.Z
}

// Point returns the point at angle u, v from the tip along the axis.
func (s Cone) Point(u, v float64) Vec {
	sin, cos := math.Sincos(u)
	r := s.Slope * v
	return s.Frame.Point(r*cos, r*sin, v)
}

// Normal returns the unit normal away from the axis; at the tip, -Frame.Z.
func (s Cone) Normal(p Vec) Vec {
	d := p.Sub(s.O)
	r := d.Sub(s.Z.Mul(d.Dot(s.Z)))
	if r.Len() < Tolerance {
		return s.Z.Mul(-1)
	}
	return r.Unit().Sub(s.Z.Mul(s.Slope)).Unit()
}

// Off returns the distance across the cone's side, positive outside.
func (s Cone) Off(p Vec) float64 {
	d := p.Sub(s.O)
	z := d.Dot(s.Z)
	r := d.Sub(s.Z.Mul(z)).Len()
	return (r - s.Slope*z) / math.Sqrt(1+s.Slope*s.Slope)
}

// LineHits returns where the line crosses the half cone.
func (s Cone) LineHits(o, d Vec) []float64 {
	a, b, c := s.quadratic(o, d)
	var hits []float64
	if math.Abs(a) <= 1e-14*d.Dot(d) {
		if math.Abs(b) <= 1e-14*d.Len() {
			return nil
		}
		hits = []float64{-c / (2 * b)}
	} else {
		hits = quadraticRoots(a, b, c)
	}
	kept := hits[:0]
	for _, t := range hits {
		if o.along(d, t).Sub(s.O).Dot(s.Z) >= 0 {
			kept = append(kept, t)
		}
	}
	return kept
}

// quadratic returns a, b, c with a*t² + 2*b*t + c = 0 where the line meets the
// double cone.
func (s Cone) quadratic(o, d Vec) (a, b, c float64) {
	w := o.Sub(s.O)
	dz, wz := d.Dot(s.Z), w.Dot(s.Z)
	k := 1 + s.Slope*s.Slope
	return d.Dot(d) - k*dz*dz, d.Dot(w) - k*dz*wz, w.Dot(w) - k*wz*wz
}

// Placed returns the cone under a placement.
func (s Cone) Placed(p Placement) Surface { return Cone{p.Frame(s.Frame), s.Slope} }

func (s Cone) mirrored() Surface { return Cone{mirrorFrame(s.Frame), s.Slope} }

// quadraticRoots solves a*t² + 2*b*t + c = 0 without cancellation.
func quadraticRoots(a, b, c float64) []float64 {
	disc := b*b - a*c
	if disc < 0 {
		return nil
	}
	q := -(b + math.Copysign(math.Sqrt(disc), b))
	t0 := q / a
	t1 := t0
	if q != 0 {
		t1 = c / q
	}
	if t0 > t1 {
		t0, t1 = t1, t0
	}
	return []float64{t0, t1}
}
