package solid

import "math"

// kind is what trimming, booleans, meshes and measures ask of a surface beyond what
// [Surface] tells everyone. A kind of surface answers all of it in one place; what it
// may still need elsewhere, doc.go says.
//
// Points of a surface are told apart by two coordinates: the sweep coordinate, which is
// v on a plane and the angle u on round surfaces, and the height, the other one.
type kind interface {
	// round returns the frame whose Z a round surface runs about; ok is false where
	// u is no angle, that is on a plane.
	round() (axis Frame, ok bool)
	// line returns the straight line within the surface at constant u: v times d from o.
	line(u float64) (o, d Vec)
	// rise returns the unit direction of growing height at p.
	rise(p Vec) Vec
	// sweepScale returns how many mm one unit of the sweep coordinate is at a height.
	sweepScale(h float64) float64
	// stretch returns the area of a unit of u times a unit of v at height v.
	stretch(v float64) float64
	// turning returns the directions along which a circle's or ellipse's extremes are
	// those of sweep coordinate or height.
	turning() []Vec
	// tip returns the point in which all lines meet, if there is one.
	tip() (at Vec, ok bool)
	// widest returns the largest radius between two heights, 0 on a plane.
	widest(h0, h1 float64) float64
	// meet returns the curves in which the surface meets another that it does not
	// coincide with, as far as reach goes; known is false for a kind that it does not
	// know: then the other one is asked. Surfaces that only touch have none.
	meet(other Surface, reach Box) (curves []Curve, known bool)
	// same tells whether it coincides with another surface within Tolerance as far as
	// reach (mm) from near, and whether their own normals agree.
	same(other Surface, near Vec, reach float64) (same, agree bool)
}

func (s Plane) round() (Frame, bool)            { return Frame{}, false }
func (s Plane) line(u float64) (o, d Vec)       { return s.Point(u, 0), s.Y }
func (s Plane) rise(Vec) Vec                    { return s.X }
func (s Plane) sweepScale(float64) float64      { return 1 }
func (s Plane) stretch(float64) float64         { return 1 }
func (s Plane) turning() []Vec                  { return []Vec{s.Y, s.X} }
func (s Plane) tip() (Vec, bool)                { return Vec{}, false }
func (s Plane) widest(float64, float64) float64 { return 0 }

func (s Plane) meet(other Surface, reach Box) ([]Curve, bool) {
	switch other := other.(type) {
	case Plane:
		return planePlane(s, other), true
	case Cylinder:
		return planeCylinder(s, other), true
	case Cone:
		return planeCone(s, other, reach), true
	}
	return nil, false
}

func (s Plane) same(other Surface, near Vec, reach float64) (same, agree bool) {
	b, ok := other.(Plane)
	if !ok || !parallel(s.Z, b.Z, reach) {
		return false, false
	}
	return math.Abs(s.Off(near)-math.Copysign(1, s.Z.Dot(b.Z))*b.Off(near)) < Tolerance, s.Z.Dot(b.Z) > 0
}

func (s Cylinder) round() (Frame, bool)       { return s.Frame, true }
func (s Cylinder) rise(Vec) Vec               { return s.Z }
func (s Cylinder) sweepScale(float64) float64 { return s.R }
func (s Cylinder) stretch(float64) float64    { return s.R }
func (s Cylinder) turning() []Vec             { return []Vec{s.Z} }
func (s Cylinder) tip() (Vec, bool)           { return Vec{}, false }

func (s Cylinder) widest(float64, float64) float64 { return s.R }

func (s Cylinder) line(u float64) (o, d Vec) {
	sin, cos := math.Sincos(u)
	return s.Frame.Point(s.R*cos, s.R*sin, 0), s.Z
}

func (s Cylinder) meet(other Surface, reach Box) ([]Curve, bool) {
	switch other := other.(type) {
	case Cylinder:
		return cylinderCylinder(s, other, reach), true
	case Cone:
		return cylinderCone(s, other, reach), true
	}
	return nil, false
}

func (s Cylinder) same(other Surface, near Vec, reach float64) (same, agree bool) {
	b, ok := other.(Cylinder)
	if !ok || math.Abs(s.R-b.R) >= Tolerance || !parallel(s.Z, b.Z, reach) {
		return false, false
	}
	d := b.O.Sub(s.O)
	return d.Sub(s.Z.Mul(d.Dot(s.Z))).Len() < Tolerance, true
}

func (s Cone) round() (Frame, bool) { return s.Frame, true }
func (s Cone) turning() []Vec       { return []Vec{s.Z} }
func (s Cone) tip() (Vec, bool)     { return s.O, true }

func (s Cone) line(u float64) (o, d Vec) {
	sin, cos := math.Sincos(u)
	return s.O, s.Z.Add(s.X.Mul(s.Slope * cos)).Add(s.Y.Mul(s.Slope * sin))
}

func (s Cone) rise(p Vec) Vec {
	u, _ := s.Param(p)
	_, d := s.line(u)
	return d.Unit()
}

func (s Cone) sweepScale(h float64) float64 { return math.Max(math.Abs(h)*s.Slope, nearEdge) }

func (s Cone) stretch(v float64) float64 { return s.Slope * v * math.Sqrt(1+s.Slope*s.Slope) }

func (s Cone) widest(h0, h1 float64) float64 { return s.Slope * math.Max(h0, h1) }

func (s Cone) meet(other Surface, reach Box) ([]Curve, bool) {
	if other, ok := other.(Cone); ok {
		return coneCone(s, other, reach), true
	}
	return nil, false
}

func (s Cone) same(other Surface, near Vec, reach float64) (same, agree bool) {
	b, ok := other.(Cone)
	if !ok || math.Abs(s.Slope-b.Slope)*reach >= Tolerance || !parallel(s.Z, b.Z, reach) {
		return false, false
	}
	return s.O.Dist(b.O) < Tolerance && s.Z.Dot(b.Z) > 0, true
}

// parallel tells whether two directions part by less than Tolerance within reach.
func parallel(x, y Vec, reach float64) bool { return x.Cross(y).Len()*reach < Tolerance }

// periodic tells whether the sweep coordinate comes round after 2π.
func periodic(s Surface) bool {
	_, round := s.round()
	return round
}
