package picture

import "math"

// A Box is an upright rectangle on the paper. The zero Box is a point at the
// origin; Nothing is the box around nothing.
type Box struct{ Min, Max Point }

// Nothing is the box around nothing: whatever it is joined with wins.
var Nothing = Box{Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}}

// Empty reports whether nothing lies in the box.
func (b Box) Empty() bool { return b.Min.X > b.Max.X || b.Min.Y > b.Max.Y }

// Width is the box's extent in x; 0 when empty.
func (b Box) Width() float64 { return max(0, b.Max.X-b.Min.X) }

// Height is the box's extent in y; 0 when empty.
func (b Box) Height() float64 { return max(0, b.Max.Y-b.Min.Y) }

// Centre is the middle of the box.
func (b Box) Centre() Point { return Point{(b.Min.X + b.Max.X) / 2, (b.Min.Y + b.Max.Y) / 2} }

// Join is the smallest box around both.
func (b Box) Join(c Box) Box {
	return Box{
		Point{min(b.Min.X, c.Min.X), min(b.Min.Y, c.Min.Y)},
		Point{max(b.Max.X, c.Max.X), max(b.Max.Y, c.Max.Y)},
	}
}

// Grow is the box widened by d on every side.
func (b Box) Grow(d float64) Box {
	return Box{Point{b.Min.X - d, b.Min.Y - d}, Point{b.Max.X + d, b.Max.Y + d}}
}

// Overlaps reports whether the insides of both boxes meet.
func (b Box) Overlaps(c Box) bool {
	return b.Min.X < c.Max.X && c.Min.X < b.Max.X && b.Min.Y < c.Max.Y && c.Min.Y < b.Max.Y
}

// Contains reports whether c lies in b, its edge included.
func (b Box) Contains(c Box) bool {
	return c.Empty() || b.Min.X <= c.Min.X && c.Max.X <= b.Max.X && b.Min.Y <= c.Min.Y && c.Max.Y <= b.Max.Y
}

// BoxAround is the smallest box around points.
func BoxAround(points ...Point) Box {
	box := Nothing
	for _, p := range points {
		box = box.Join(Box{p, p})
	}
	return box
}

// Bounds is the box between the line's ends.
func (l Line) Bounds() Box { return BoxAround(l.A, l.B) }

// Bounds is exact: ends and the extremes that the sweep passes.
func (a Arc) Bounds() Box {
	from, to := a.Ends()
	box := BoxAround(from, to)
	sin, cos := math.Sincos(a.Tilt)
	for _, first := range []float64{
		math.Atan2(-a.RY*sin, a.RX*cos), // dx/dt = 0
		math.Atan2(a.RY*cos, a.RX*sin),  // dy/dt = 0
	} {
		for _, t := range []float64{first, first + math.Pi} {
			if a.passes(t) {
				box = box.Join(BoxAround(a.At(t)))
			}
		}
	}
	return box
}

// passes reports whether the arc's sweep passes parameter t.
func (a Arc) passes(t float64) bool {
	way := t - a.Start
	if a.Sweep < 0 {
		way = -way
	}
	way = math.Mod(way, 2*math.Pi)
	if way < 0 {
		way += 2 * math.Pi
	}
	return way <= math.Abs(a.Sweep)
}

// Bounds is exact: ends and the curve's own extremes.
func (b Bezier) Bounds() Box {
	box := BoxAround(b.A, b.B)
	for _, t := range append(
		bezierExtremes(b.A.X, b.C1.X, b.C2.X, b.B.X),
		bezierExtremes(b.A.Y, b.C1.Y, b.C2.Y, b.B.Y)...) {
		box = box.Join(BoxAround(b.At(t)))
	}
	return box
}

// At is the point of the curve at parameter t between 0 and 1.
func (b Bezier) At(t float64) Point {
	u := 1 - t
	return b.A.Times(u * u * u).Plus(b.C1.Times(3 * u * u * t)).
		Plus(b.C2.Times(3 * u * t * t)).Plus(b.B.Times(t * t * t))
}

// bezierExtremes are the parameters inside (0, 1) where a coordinate of a cubic
// Bézier turns round.
func bezierExtremes(p0, p1, p2, p3 float64) []float64 {
	a, b, c := p3-3*p2+3*p1-p0, 2*(p2-2*p1+p0), p1-p0
	var roots []float64
	switch disc := b*b - 4*a*c; {
	case math.Abs(a) < 1e-12 && math.Abs(b) < 1e-12:
	case math.Abs(a) < 1e-12:
		roots = []float64{-c / b}
	case disc >= 0:
		root := math.Sqrt(disc)
		roots = []float64{(-b + root) / (2 * a), (-b - root) / (2 * a)}
	}
	var inside []float64
	for _, t := range roots {
		if t > 0 && t < 1 {
			inside = append(inside, t)
		}
	}
	return inside
}

// Bounds is the smallest box around what the marks cover, line widths left out;
// Nothing for no marks. A clip covers at most its outline.
func Bounds(marks []Mark) Box {
	box := Nothing
	for _, m := range marks {
		box = box.Join(markBounds(m))
	}
	return box
}

func markBounds(m Mark) Box {
	switch m := m.(type) {
	case Path:
		return CurveBounds(m.Curves)
	case Text:
		return m.Bounds()
	case Group:
		box := Bounds(m.Marks)
		return Box{box.Min.Plus(m.Shift), box.Max.Plus(m.Shift)}
	case Clip:
		inner, outer := Bounds(m.Marks), CurveBounds(m.Outline)
		return Box{
			Point{max(inner.Min.X, outer.Min.X), max(inner.Min.Y, outer.Min.Y)},
			Point{min(inner.Max.X, outer.Max.X), min(inner.Max.Y, outer.Max.Y)},
		}
	}
	return Nothing
}

// CurveBounds is the smallest box around curves.
func CurveBounds(curves []Curve) Box {
	box := Nothing
	for _, c := range curves {
		box = box.Join(c.Bounds())
	}
	return box
}
