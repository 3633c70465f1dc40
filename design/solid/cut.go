package solid

import (
	"fmt"
	"math"
)

// AreaMoments are the integrals over a plane area, a bar's section or a cut through a
// solid, in the plane's two axes.
type AreaMoments struct {
	Area   float64 // mm²
	Centre Vec2    // of the area, mm
	// About1 is the second moment about the line through Centre along the first
	// axis, the integral of the second coordinate's square; About2 that about the
	// second; Product the integral of both coordinates' product. mm⁴.
	About1, About2, Product float64
	Low, High               Vec2 // of the area's box, mm
}

// Least returns the smaller principal second moment, mm⁴: that about the axis through
// Centre about which the area bends most easily.
func (m AreaMoments) Least() float64 {
	return (m.About1+m.About2)/2 - math.Hypot((m.About1-m.About2)/2, m.Product)
}

// SectionMoments returns the integrals over a bar's section, slots, bores and corner
// radii counted, with the section's lowest corner at the origin. Spans are lines and
// arcs, along which the rule used is exact to rounding. The error is [Faults].
func SectionMoments(s Section) (AreaMoments, error) {
	reg, err := s.region()
	if err != nil {
		return AreaMoments{}, err
	}
	low, high := reg.loops[0].bounds()
	sum := areaSum{ref: low.add(high).mul(0.5)}
	for _, loop := range reg.loops {
		for _, span := range loop {
			sum.span(span)
		}
	}
	m := sum.moments()
	m.Low, m.High = low, high
	return m, nil
}

// CutMoments returns the integrals over the area in which the plane at right angles
// to an axis, at mm along it, meets the solid; its two axes are the other two, x
// before y before z. Where a flat face lies in the plane what stands below it counts.
// It fails where the plane misses the solid, or the cut does.
func (s *Solid) CutMoments(axis Axis, at float64) (AreaMoments, error) {
	dir := axis.Vec()
	if low, high := s.box.Min.Dot(dir), s.box.Max.Dot(dir); !(at > low+Tolerance && at < high-Tolerance) {
		return AreaMoments{}, fmt.Errorf("a cut at %s misses the part, which reaches from %s to %s", mm(at), mm(low), mm(high))
	}
	const room = 1 // mm around the part, so that no faces of the two coincide
	size := s.box.Max.Sub(s.box.Min).Add(Vec{2 * room, 2 * room, 2 * room})
	half, err := Build(Shape{Base: Group{{Shape: Block{Size: size}, Along: AxisZ}}})
	if err != nil {
		return AreaMoments{}, err
	}
	corner := s.box.Min.Sub(Vec{room, room, room})
	corner = corner.along(dir, at-corner.Dot(dir))
	lower, err := Subtract(s, half.Placed(Moved(corner)))
	if err != nil {
		return AreaMoments{}, err
	}
	axes := across(axis)
	flat := func(p Vec) Vec2 { return Vec2{p.Dot(axes[0].Vec()), p.Dot(axes[1].Vec())} }
	sum := areaSum{ref: flat(s.box.Centre())}
	box := EmptyBox()
	for i := range lower.Faces {
		f := &lower.Faces[i]
		plane, ok := f.Surface.(Plane)
		if !ok || math.Abs(plane.O.Dot(dir)-at) > Tolerance || math.Abs(plane.Z.Dot(dir)) < 1-angleTolerance {
			continue
		}
		box = box.Join(f.box)
		for _, loop := range f.Loops {
			for _, use := range loop {
				sum.edge(&lower.Edges[use.Edge], use.Reversed, flat)
			}
		}
	}
	if sum.area == 0 {
		return AreaMoments{}, fmt.Errorf("a cut at %s gives no area", mm(at))
	}
	m := sum.moments()
	m.Low, m.High = flat(box.Min), flat(box.Max)
	return m, nil
}

// areaSum adds up the integrals over an area along its boundary, by the theorem of
// Green, from a reference point.
type areaSum struct {
	ref     Vec2
	area    float64
	first   Vec2
	square  Vec2 // of the first coordinate, of the second
	product float64
}

// add adds a point of the boundary and its way, weighted.
func (s *areaSum) add(p, d Vec2, w float64) {
	x, y := p.X-s.ref.X, p.Y-s.ref.Y
	dx, dy := d.X*w, d.Y*w
	s.area += (x*dy - y*dx) / 2
	s.first = s.first.add(Vec2{x * x * dy / 2, -y * y * dx / 2})
	s.square = s.square.add(Vec2{x * x * x * dy / 3, -y * y * y * dx / 3})
	s.product += x * x * y * dy / 2
}

// span adds a span of an outline.
func (s *areaSum) span(span Span) {
	parts := 1
	if span.Arc {
		_, angle := span.sweep()
		parts = int(math.Ceil(math.Abs(angle) / (math.Pi / 3)))
	}
	length := span.length()
	for i := range parts {
		for _, n := range gauss8 {
			p, dir := span.at((float64(i) + n.x) / float64(parts))
			s.add(p, dir, length*n.w/float64(parts))
		}
	}
}

// edge adds an edge of a flat face.
func (s *areaSum) edge(e *Edge, reversed bool, flat func(Vec) Vec2) {
	way := 1.0
	if reversed {
		way = -1
	}
	for _, part := range gaussParts(e, math.Pi/9) {
		for _, n := range gauss8 {
			t := part[0] + (part[1]-part[0])*n.x
			s.add(flat(e.Curve.Point(t)), flat(e.Curve.Tangent(t)), way*(part[1]-part[0])*n.w)
		}
	}
}

// moments brings the sums to the area's centre. A boundary that runs clockwise, as
// that of a face does whose plane's axes are left-handed, has all signs turned.
func (s *areaSum) moments() AreaMoments {
	sign := 1.0
	if s.area < 0 {
		sign = -1
	}
	a := s.area * sign
	c := s.first.mul(sign / a)
	return AreaMoments{
		Area: a, Centre: s.ref.add(c),
		About1: s.square.Y*sign - a*c.Y*c.Y, About2: s.square.X*sign - a*c.X*c.X, Product: s.product*sign - a*c.X*c.Y,
	}
}
