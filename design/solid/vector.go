package solid

import "math"

// Tolerance is the distance in millimetres below which two points are one
// point, two surfaces one surface. Plans are written in hundredths of a
// millimetre and float64 keeps a metre to 1e-13 m, so there is room both ways.
const Tolerance = 1e-6

// angleTolerance (radians) is how far two unit vectors may differ and still be
// parallel: Tolerance over a part of about ten metres.
const angleTolerance = 1e-10

// Vec is a point or a direction in space, in millimetres.
type Vec struct{ X, Y, Z float64 }

// Add returns a + b.
func (a Vec) Add(b Vec) Vec { return Vec{a.X + b.X, a.Y + b.Y, a.Z + b.Z} }

// Sub returns a - b.
func (a Vec) Sub(b Vec) Vec { return Vec{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }

// neg returns -a without making negative zeros, which would print.
func (a Vec) neg() Vec { return Vec{0 - a.X, 0 - a.Y, 0 - a.Z} }

// Mul returns a scaled by k.
func (a Vec) Mul(k float64) Vec { return Vec{a.X * k, a.Y * k, a.Z * k} }

// Dot returns the scalar product.
func (a Vec) Dot(b Vec) float64 { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }

// Cross returns the vector product.
func (a Vec) Cross(b Vec) Vec {
	return Vec{a.Y*b.Z - a.Z*b.Y, a.Z*b.X - a.X*b.Z, a.X*b.Y - a.Y*b.X}
}

// Len returns the length.
func (a Vec) Len() float64 { return math.Sqrt(a.Dot(a)) }

// Unit returns a scaled to length 1; the zero vector stays zero.
func (a Vec) Unit() Vec {
	l := a.Len()
	if l == 0 {
		return a
	}
	return a.Mul(1 / l)
}

// Dist returns the distance between two points.
func (a Vec) Dist(b Vec) float64 { return a.Sub(b).Len() }

// along returns a + d*t, the point at t on a line.
func (a Vec) along(d Vec, t float64) Vec {
	return Vec{a.X + d.X*t, a.Y + d.Y*t, a.Z + d.Z*t}
}

// finite tells whether no coordinate is infinite or not a number.
func (a Vec) finite() bool {
	return !math.IsNaN(a.X-a.X) && !math.IsNaN(a.Y-a.Y) && !math.IsNaN(a.Z-a.Z)
}

// Frame is a right-handed set of axes: unit vectors at right angles, standing
// at O.
type Frame struct{ O, X, Y, Z Vec }

// World is the frame at the origin along the axes.
var World = Frame{X: Vec{X: 1}, Y: Vec{Y: 1}, Z: Vec{Z: 1}}

// FrameAlong returns a frame at o whose Z is the direction z, with X chosen
// along a world axis where that is possible, so that equal inputs give equal
// frames.
func FrameAlong(o, z Vec) Frame {
	z = z.Unit()
	x := Vec{X: 1}
	if math.Abs(z.X) > 0.9 {
		x = Vec{Y: 1}
	}
	x = x.Sub(z.Mul(x.Dot(z))).Unit()
	return Frame{O: o, X: x, Y: z.Cross(x), Z: z}
}

// Point returns the world point of frame coordinates.
func (f Frame) Point(x, y, z float64) Vec {
	return Vec{
		f.O.X + f.X.X*x + f.Y.X*y + f.Z.X*z,
		f.O.Y + f.X.Y*x + f.Y.Y*y + f.Z.Y*z,
		f.O.Z + f.X.Z*x + f.Y.Z*y + f.Z.Z*z,
	}
}

// Local returns the frame coordinates of a world point.
func (f Frame) Local(p Vec) Vec {
	d := p.Sub(f.O)
	return Vec{d.Dot(f.X), d.Dot(f.Y), d.Dot(f.Z)}
}

// Axis names one of the three axes.
type Axis int

// The three axes; the zero value is the first, as a plan's default is x.
const (
	AxisX Axis = iota
	AxisY
	AxisZ
)

// Vec returns the unit vector along the axis.
func (a Axis) Vec() Vec {
	switch a {
	case AxisY:
		return Vec{Y: 1}
	case AxisZ:
		return Vec{Z: 1}
	}
	return Vec{X: 1}
}

// String returns x, y or z.
func (a Axis) String() string { return [...]string{"x", "y", "z"}[a] }

// Box is an axis-aligned box; Min beyond Max means empty.
type Box struct{ Min, Max Vec }

// EmptyBox returns a box that holds nothing; adding to it works.
func EmptyBox() Box {
	i := math.Inf(1)
	return Box{Vec{i, i, i}, Vec{-i, -i, -i}}
}

// Add returns the smallest box that holds b and p.
func (b Box) Add(p Vec) Box {
	return Box{
		Vec{math.Min(b.Min.X, p.X), math.Min(b.Min.Y, p.Y), math.Min(b.Min.Z, p.Z)},
		Vec{math.Max(b.Max.X, p.X), math.Max(b.Max.Y, p.Y), math.Max(b.Max.Z, p.Z)},
	}
}

// Join returns the smallest box that holds both.
func (b Box) Join(c Box) Box { return b.Add(c.Min).Add(c.Max) }

// Grow returns the box made larger by d on each side.
func (b Box) Grow(d float64) Box {
	g := Vec{d, d, d}
	return Box{b.Min.Sub(g), b.Max.Add(g)}
}

// Meets tells whether the boxes share a point.
func (b Box) Meets(c Box) bool {
	return b.Min.X <= c.Max.X && c.Min.X <= b.Max.X &&
		b.Min.Y <= c.Max.Y && c.Min.Y <= b.Max.Y &&
		b.Min.Z <= c.Max.Z && c.Min.Z <= b.Max.Z
}

// Holds tells whether p lies in the box or on it.
func (b Box) Holds(p Vec) bool {
	return b.Min.X <= p.X && p.X <= b.Max.X &&
		b.Min.Y <= p.Y && p.Y <= b.Max.Y &&
		b.Min.Z <= p.Z && p.Z <= b.Max.Z
}

// Size returns the lengths of the sides.
func (b Box) Size() Vec { return b.Max.Sub(b.Min) }

// Centre returns the middle.
func (b Box) Centre() Vec { return b.Min.Add(b.Max).Mul(0.5) }

// Corners are the eight corners of a box, x changing first.
func (b Box) Corners() (out [8]Vec) {
	for i := range out {
		out[i] = b.Min
		if i&1 != 0 {
			out[i].X = b.Max.X
		}
		if i&2 != 0 {
			out[i].Y = b.Max.Y
		}
		if i&4 != 0 {
			out[i].Z = b.Max.Z
		}
	}
	return out
}

// Under is the box around a box that a placement has moved, exact for quarter turns;
// an empty box stays empty.
func (b Box) Under(p Placement) Box {
	out := EmptyBox()
	if b.Empty() {
		return out
	}
	for _, c := range b.Corners() {
		out = out.Add(p.Point(c))
	}
	return out
}

// Empty tells whether the box holds nothing.
func (b Box) Empty() bool { return b.Min.X > b.Max.X || b.Min.Y > b.Max.Y || b.Min.Z > b.Max.Z }

// meetsRay tells whether the line o + d*t comes within the box for any t >= from.
func (b Box) meetsRay(o, d Vec, from float64) bool {
	lo, hi := from, math.Inf(1)
	return clip(o.X, d.X, b.Min.X, b.Max.X, &lo, &hi) &&
		clip(o.Y, d.Y, b.Min.Y, b.Max.Y, &lo, &hi) &&
		clip(o.Z, d.Z, b.Min.Z, b.Max.Z, &lo, &hi)
}

// clip narrows lo to hi to where o + d*t lies between from and to, and tells
// whether anything is left.
func clip(o, d, from, to float64, lo, hi *float64) bool {
	if math.Abs(d) < 1e-300 {
		return o >= from && o <= to
	}
	t0, t1 := (from-o)/d, (to-o)/d
	if t0 > t1 {
		t0, t1 = t1, t0
	}
	*lo, *hi = math.Max(*lo, t0), math.Min(*hi, t1)
	return *lo <= *hi
}
