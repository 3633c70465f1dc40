package picture

import "math"

// A Point is a place on the paper: millimetres from the top-left corner, y
// growing downward.
type Point struct{ X, Y float64 }

// Plus is p moved by q.
func (p Point) Plus(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Minus is the way from q to p.
func (p Point) Minus(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Times is p stretched by k about the origin.
func (p Point) Times(k float64) Point { return Point{p.X * k, p.Y * k} }

// Distance is the length from p to q.
func (p Point) Distance(q Point) float64 { return math.Hypot(p.X-q.X, p.Y-q.Y) }

// A Curve is a piece of a path: a Line, an Arc or a Bezier.
type Curve interface {
	// Ends are the first and the last point.
	Ends() (from, to Point)
	// Length is the way along the curve in millimetres.
	Length() float64
	// Bounds is the smallest box around the curve.
	Bounds() Box
	// Moved is the curve stretched by scale about the origin, then shifted.
	Moved(scale float64, shift Point) Curve
}

// Line is a straight line.
type Line struct{ A, B Point }

// Arc is part of an ellipse, or all of it. The point at parameter t is
//
//	Centre + turn(Tilt) · (RX cos t, RY sin t)
//
// with y downward, so growing t runs clockwise on the paper. RX equals RY for a
// circle. A Sweep of ±2π is the whole.
type Arc struct {
	Centre Point
	RX, RY float64 // mm
	Tilt   float64 // radians, clockwise on the paper
	Start  float64 // parameter, radians
	Sweep  float64 // radians
}

// Bezier is a cubic Bézier curve.
type Bezier struct{ A, C1, C2, B Point }

// Ends are the line's ends.
func (l Line) Ends() (Point, Point) { return l.A, l.B }

// Ends are the arc's ends.
func (a Arc) Ends() (Point, Point) { return a.At(a.Start), a.At(a.Start + a.Sweep) }

// Ends are the curve's ends.
func (b Bezier) Ends() (Point, Point) { return b.A, b.B }

// At is the point of the arc's ellipse at parameter t.
func (a Arc) At(t float64) Point {
	return a.Centre.Plus(turned(Point{a.RX * math.Cos(t), a.RY * math.Sin(t)}, a.Tilt))
}

// turned is p turned clockwise on the paper about the origin.
func turned(p Point, angle float64) Point {
	if angle == 0 {
		return p
	}
	sin, cos := math.Sincos(angle)
	return Point{p.X*cos - p.Y*sin, p.X*sin + p.Y*cos}
}

// Length is the line's length.
func (l Line) Length() float64 { return l.A.Distance(l.B) }

// Length is exact for circles and within 1e-9 relative for ellipses.
func (a Arc) Length() float64 {
	if a.RX == a.RY {
		return a.RX * math.Abs(a.Sweep)
	}
	speed := func(t float64) float64 { return math.Hypot(a.RX*math.Sin(t), a.RY*math.Cos(t)) }
	return simpson(speed, a.Start, a.Start+a.Sweep)
}

// Length is within 1e-6 relative for curves without cusps.
func (b Bezier) Length() float64 {
	speed := func(t float64) float64 {
		u := 1 - t
		d := b.C1.Minus(b.A).Times(3 * u * u).
			Plus(b.C2.Minus(b.C1).Times(6 * u * t)).
			Plus(b.B.Minus(b.C2).Times(3 * t * t))
		return math.Hypot(d.X, d.Y)
	}
	return simpson(speed, 0, 1)
}

// simpson integrates f between two bounds, in absolute value.
func simpson(f func(float64) float64, from, to float64) float64 {
	const panels = 64
	h := (to - from) / panels
	sum := f(from) + f(to)
	for i := 1; i < panels; i++ {
		weight := 2.0
		if i%2 == 1 {
			weight = 4
		}
		sum += weight * f(from+float64(i)*h)
	}
	return math.Abs(sum * h / 3)
}

// Moved stretches and shifts the line.
func (l Line) Moved(scale float64, shift Point) Curve {
	return Line{l.A.Times(scale).Plus(shift), l.B.Times(scale).Plus(shift)}
}

// Moved stretches and shifts the arc. A negative scale turns it by half a turn.
func (a Arc) Moved(scale float64, shift Point) Curve {
	a.Centre = a.Centre.Times(scale).Plus(shift)
	a.RX, a.RY = a.RX*math.Abs(scale), a.RY*math.Abs(scale)
	if scale < 0 {
		a.Tilt += math.Pi
	}
	return a
}

// Moved stretches and shifts the curve.
func (b Bezier) Moved(scale float64, shift Point) Curve {
	return Bezier{
		b.A.Times(scale).Plus(shift), b.C1.Times(scale).Plus(shift),
		b.C2.Times(scale).Plus(shift), b.B.Times(scale).Plus(shift),
	}
}

// Polyline joins points by straight lines.
func Polyline(points ...Point) []Curve {
	var curves []Curve
	for i := 1; i < len(points); i++ {
		curves = append(curves, Line{points[i-1], points[i]})
	}
	return curves
}

// Polygon joins points by straight lines and the last to the first.
func Polygon(points ...Point) []Curve {
	if len(points) == 0 {
		return nil
	}
	return Polyline(append(points[:len(points):len(points)], points[0])...)
}

// Rectangle is a closed outline with its top-left corner at at.
func Rectangle(at Point, width, height float64) []Curve {
	return Polygon(at, Point{at.X + width, at.Y}, Point{at.X + width, at.Y + height}, Point{at.X, at.Y + height})
}

// RoundRectangle is a rectangle whose corners are rounded by radius, which is
// cut down to half the shorter side.
func RoundRectangle(at Point, width, height, radius float64) []Curve {
	r := min(radius, width/2, height/2)
	if r <= 0 {
		return Rectangle(at, width, height)
	}
	left, top, right, bottom := at.X, at.Y, at.X+width, at.Y+height
	corner := func(x, y, start float64) Arc {
		return Arc{Centre: Point{x, y}, RX: r, RY: r, Start: start, Sweep: math.Pi / 2}
	}
	return []Curve{
		Line{Point{left + r, top}, Point{right - r, top}},
		corner(right-r, top+r, -math.Pi/2),
		Line{Point{right, top + r}, Point{right, bottom - r}},
		corner(right-r, bottom-r, 0),
		Line{Point{right - r, bottom}, Point{left + r, bottom}},
		corner(left+r, bottom-r, math.Pi/2),
		Line{Point{left, bottom - r}, Point{left, top + r}},
		corner(left+r, top+r, math.Pi),
	}
}

// Circle is a whole circle.
func Circle(centre Point, radius float64) []Curve {
	return []Curve{Arc{Centre: centre, RX: radius, RY: radius, Sweep: 2 * math.Pi}}
}

// MoveCurves stretches curves by scale about the origin and shifts them.
func MoveCurves(curves []Curve, scale float64, shift Point) []Curve {
	moved := make([]Curve, len(curves))
	for i, c := range curves {
		moved[i] = c.Moved(scale, shift)
	}
	return moved
}
