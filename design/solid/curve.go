package solid

import "math"

// Curve is an unbounded or closed curve that an edge lies on: [Line],
// [Circle], [Ellipse] or [Meet].
type Curve interface {
	// Point returns the point at parameter t: millimetres along a line, radians
	// on the others.
	Point(t float64) Vec
	// Tangent returns the derivative of Point by t.
	Tangent(t float64) Vec
	// Param returns the parameter of the point of the curve that p, on the
	// curve, stands for; angles come out in (-π, π].
	Param(p Vec) float64
	// Period is the parameter step after which a closed curve repeats, 0 for
	// an open one.
	Period() float64
	// Placed returns the curve under a placement.
	Placed(p Placement) Curve
	// mirrored returns the curve mirrored in the plane x = 0 and whether its
	// parameter then runs the other way: t becomes -t, or π - t on a Meet that
	// does not run round.
	mirrored() (Curve, bool)
}

// Line is the straight line O + D*t; D is a unit vector.
type Line struct{ O, D Vec }

// Circle is the circle of radius R, mm, about Frame.O in the plane of Frame.X
// and Frame.Y; t is the angle from X towards Y.
type Circle struct {
	Frame
	R float64
}

// Ellipse is O + X*A*cos t + Y*B*sin t, half axes A and B in mm.
type Ellipse struct {
	Frame
	A, B float64
}

// Meet is a curve in which a cylinder or cone (Base) meets another curved
// surface, or a cone a plane, where no simpler curve says it: over each angle u
// of Base within From to To it holds the lower (Upper false) or upper crossing
// of Base's straight line at u with Other.
//
// When Round, u runs once around and t is u. Else the curve turns back (or
// leaves the part) at From and To, and t runs 0 to π with
// u = middle - half*cos t, which keeps the curve smooth up to its ends.
type Meet struct {
	Base, Other Surface
	Upper       bool
	Round       bool
	From, To    float64
}

// Point returns O + D*t.
func (c Line) Point(t float64) Vec { return c.O.along(c.D, t) }

// Tangent returns D.
func (c Line) Tangent(float64) Vec { return c.D }

// Param returns the distance along the line.
func (c Line) Param(p Vec) float64 { return p.Sub(c.O).Dot(c.D) }

// Period returns 0.
func (c Line) Period() float64 { return 0 }

// Placed returns the line under a placement.
func (c Line) Placed(p Placement) Curve { return Line{p.Point(c.O), p.Direction(c.D)} }

func (c Line) mirrored() (Curve, bool) {
	return Line{Vec{-c.O.X, c.O.Y, c.O.Z}, Vec{-c.D.X, c.D.Y, c.D.Z}}, false
}

// Point returns the point at angle t.
func (c Circle) Point(t float64) Vec {
	sin, cos := math.Sincos(t)
	return c.Frame.Point(c.R*cos, c.R*sin, 0)
}

// Tangent returns the derivative at t, of length R.
func (c Circle) Tangent(t float64) Vec {
	sin, cos := math.Sincos(t)
	return c.X.Mul(-c.R * sin).Add(c.Y.Mul(c.R * cos))
}

// Param returns the angle of p.
func (c Circle) Param(p Vec) float64 {
	d := p.Sub(c.O)
	return math.Atan2(d.Dot(c.Y), d.Dot(c.X))
}

// Period returns 2π.
func (c Circle) Period() float64 { return 2 * math.Pi }

// Placed returns the circle under a placement.
func (c Circle) Placed(p Placement) Curve { return Circle{p.Frame(c.Frame), c.R} }

func (c Circle) mirrored() (Curve, bool) { return Circle{mirrorRound(c.Frame), c.R}, true }

// mirrorRound mirrors the frame of a closed curve so that X and the plane are
// the mirror images and Y is reversed: angle t then stands for -t.
func mirrorRound(f Frame) Frame {
	m := func(v Vec) Vec { return Vec{-v.X, v.Y, v.Z} }
	return Frame{O: m(f.O), X: m(f.X), Y: m(f.Y).Mul(-1), Z: m(f.Z)}
}

// Point returns the point at parameter t.
func (c Ellipse) Point(t float64) Vec {
	sin, cos := math.Sincos(t)
	return c.Frame.Point(c.A*cos, c.B*sin, 0)
}

// Tangent returns the derivative at t.
func (c Ellipse) Tangent(t float64) Vec {
	sin, cos := math.Sincos(t)
	return c.X.Mul(-c.A * sin).Add(c.Y.Mul(c.B * cos))
}

// Param returns the parameter of p.
func (c Ellipse) Param(p Vec) float64 {
	d := p.Sub(c.O)
	return math.Atan2(d.Dot(c.Y)/c.B, d.Dot(c.X)/c.A)
}

// Period returns 2π.
func (c Ellipse) Period() float64 { return 2 * math.Pi }

// Placed returns the ellipse under a placement.
func (c Ellipse) Placed(p Placement) Curve { return Ellipse{p.Frame(c.Frame), c.A, c.B} }

func (c Ellipse) mirrored() (Curve, bool) { return Ellipse{mirrorRound(c.Frame), c.A, c.B}, true }

// u returns the angle on Base at parameter t.
func (c Meet) u(t float64) float64 {
	if c.Round {
		return t
	}
	return (c.From+c.To)/2 - (c.To-c.From)/2*math.Cos(t)
}

// Point returns the point at parameter t.
func (c Meet) Point(t float64) Vec {
	u := c.u(t)
	v, _ := c.height(u)
	if !c.Round && (t <= 0 || t >= math.Pi) {
		// Both branches turn back in one point; rounding under the root would
		// set their ends some millionths apart.
		if mid, half2, single := crossingsAt(c.Base, c.Other, u); !single && math.Abs(half2) < 1e-9 {
			v = mid
		}
	}
	return c.Base.Point(u, v)
}

// height returns the v on Base of the chosen crossing at u, and whether there
// is one; just off the turning points it answers for the turning point.
func (c Meet) height(u float64) (v float64, ok bool) {
	mid, half2, single := crossingsAt(c.Base, c.Other, u)
	switch {
	case single:
		return mid, !c.Upper && !math.IsNaN(mid) && !math.IsInf(mid, 0)
	case half2 < 0:
		return mid, false
	case c.Upper:
		return mid + math.Sqrt(half2), true
	}
	return mid - math.Sqrt(half2), true
}

// crossingsAt returns where the straight line of base at u crosses another
// surface: at mid ± √half2, not at all when half2 is negative, at mid alone when
// single. half2 comes from the other surface's own distance at mid, which keeps
// its digits where the difference of two squares would lose them.
func crossingsAt(base, other Surface, u float64) (mid, half2 float64, single bool) {
	o, d := base.line(u)
	var a, b, c float64
	switch s := other.(type) {
	case Plane:
		return -s.Off(o) / d.Dot(s.Z), 0, true
	case Cylinder:
		a, b, c = s.quadratic(o, d)
	case Cone:
		a, b, c = s.quadratic(o, d)
	}
	if math.Abs(a) < 1e-12 { // along one of the other surface's own lines
		return -c / (2 * b), 0, true
	}
	mid = -b / a
	return mid, -residual(other, o.along(d, mid)) / a, false
}

// residual returns the value at p of the quadratic form that vanishes on a
// cylinder or cone.
func residual(s Surface, p Vec) float64 {
	f, _ := s.round()
	w := p.Sub(f.O)
	z := w.Dot(f.Z)
	r := w.Sub(f.Z.Mul(z)).Len()
	if s, ok := s.(Cone); ok {
		return (r - s.Slope*z) * (r + s.Slope*z)
	}
	radius := s.(Cylinder).R
	return (r - radius) * (r + radius)
}

// Tangent returns the derivative at t. The curve lies square to both surfaces'
// normals; how fast it runs follows from the angle on Base, or, where the curve
// runs nearly along Base's straight lines, from steps along it.
func (c Meet) Tangent(t float64) Vec {
	rate := 1.0
	if !c.Round {
		rate = (c.To - c.From) / 2 * math.Sin(t)
	}
	if plane, ok := c.Other.(Plane); ok {
		return c.planeTangent(plane, c.u(t)).Mul(rate)
	}
	p := c.Point(t)
	dir := c.Base.Normal(p).Cross(c.Other.Normal(p))
	l := dir.Len()
	if l < 1e-5 {
		// Where the surfaces touch, the curve ends and sets out like t², and
		// rounding hides its first steps.
		h := 1e-2
		if !c.Round && t > math.Pi/2 {
			h = -h
		}
		return c.Point(t + h).Sub(p).Mul(1 / h)
	}
	f, _ := c.Base.round()
	around := angleRate(c.Base, p, dir)
	if axis := p.Sub(f.O).Cross(f.Z).Len(); math.Abs(around)*axis > 1e-3*l {
		return dir.Mul(rate / around)
	}
	dir = dir.Mul(1 / l)
	return dir.Mul(c.difference(t, 1e-3).Dot(dir))
}

// planeTangent returns the derivative by the angle u of where a cone's straight
// line crosses a plane.
func (c Meet) planeTangent(s Plane, u float64) Vec {
	f, _ := c.Base.round()
	o, d := c.Base.line(u)
	_, ahead := c.Base.line(u + math.Pi/2)
	turn := ahead.Sub(f.Z) // derivative of d by u
	k := d.Dot(s.Z)
	v := -s.Off(o) / k
	return turn.Mul(v).Add(d.Mul(-v * turn.Dot(s.Z) / k))
}

// difference returns the derivative at t from steps h along the curve: of fourth
// order, of second near the ends of a curve that turns back.
func (c Meet) difference(t, h float64) Vec {
	if c.Round || t > 2*h && t < math.Pi-2*h {
		near, far := c.Point(t+h).Sub(c.Point(t-h)), c.Point(t+2*h).Sub(c.Point(t-2*h))
		return near.Mul(8).Sub(far).Mul(1 / (12 * h))
	}
	if t > math.Pi/2 {
		h = -h
	}
	return c.Point(t + h).Mul(4).Sub(c.Point(t + 2*h)).Sub(c.Point(t).Mul(3)).Mul(1 / (2 * h))
}

// Param returns the parameter of p.
func (c Meet) Param(p Vec) float64 {
	u, _ := c.Base.Param(p)
	if c.Round {
		return u
	}
	mid, half := (c.From+c.To)/2, (c.To-c.From)/2
	u += 2 * math.Pi * math.Round((mid-u)/(2*math.Pi))
	return math.Acos(math.Max(-1, math.Min(1, (mid-u)/half)))
}

// Period returns 2π for a curve that runs round, else 0.
func (c Meet) Period() float64 {
	if c.Round {
		return 2 * math.Pi
	}
	return 0
}

// Placed returns the curve under a placement.
func (c Meet) Placed(p Placement) Curve {
	c.Base, c.Other = c.Base.Placed(p), c.Other.Placed(p)
	return c
}

func (c Meet) mirrored() (Curve, bool) {
	switch s := c.Base.(type) {
	case Cylinder:
		c.Base = Cylinder{mirrorRound(s.Frame), s.R}
	case Cone:
		c.Base = Cone{mirrorRound(s.Frame), s.Slope}
	}
	c.Other = c.Other.mirrored()
	if c.Round {
		return c, true
	}
	c.From, c.To = -c.To, -c.From
	return c, true
}
