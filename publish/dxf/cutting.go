package dxf

import (
	"errors"
	"fmt"
	"math"

	"plansheaf/design/solid"
	"plansheaf/publish/picture"
)

// The layers of a cutting file.
const (
	OutlineLayer = "outline"
	HolesLayer   = "holes"
	// TapDrillLayer holds the holes that are to be tapped, at the diameter of the
	// tap drill: cut them, or drill them afterwards.
	TapDrillLayer = "holes-tap-drill-size"
)

// ErrNotFlat is given for a solid that is not cut out of a sheet.
var ErrNotFlat = errors.New("no closed outline can be cut out of a sheet")

// Cutting writes what cuts a sheet part out of its sheet, as it lies in x and y
// with its thickness along z: outlines on the layer OutlineLayer, what is cut out of
// them on HolesLayer and TapDrillLayer. Millimetres at true size, the part's own
// axes, seen from the top, on the line that the part ends at: the machine's
// operator allows for the kerf.
//
// Only what goes through the whole thickness is cut: of a counterbored or
// countersunk hole the hole itself. Pockets, blind holes, holes from the sides and
// marks are left out, and nothing else is in the file: no text, no frame, no
// dimension. Holes stand before the outlines that they lie in, since a part that is
// cut loose moves.
//
// A circle is a CIRCLE; every other contour is one closed LWPOLYLINE whose arcs are
// exact. The error is ErrNotFlat, wrapped with the name, where a contour does not
// close or is bounded by other curves than lines and arcs.
func Cutting(name string, s *solid.Solid) ([]byte, error) {
	contours, err := contoursOf(s)
	if err != nil {
		return nil, wrap(name, err)
	}
	f := newFile([]layer{
		{name: OutlineLayer, colour: ink, dashes: continuous, standard: true},
		{name: HolesLayer, colour: indices[picture.Notice], dashes: continuous, standard: true},
		{name: TapDrillLayer, colour: indices[picture.Safe], dashes: continuous, standard: true},
	}, nil, nil)
	box := s.Box()
	f.paper = point{box.Max.X, box.Max.Y}
	f.box = picture.BoxAround(picture.Point{X: box.Min.X, Y: box.Min.Y}, picture.Point{X: box.Max.X, Y: box.Max.Y})
	for _, name := range []string{TapDrillLayer, HolesLayer, OutlineLayer} {
		for _, c := range contours {
			if c.layer() == name {
				f.contour(pen{name, byLayer}, c)
			}
		}
	}
	data, err := f.bytes()
	return data, wrap(name, err)
}

// A contour is a closed ring of cuts with the material on its left.
type contour []cut

// A cut is a line or an arc of a circle that parts material from waste, with the
// material on its left.
type cut struct {
	from, to point
	arc      bool
	centre   point
	radius   float64
	start    float64 // radians
	sweep    float64 // radians, positive counter-clockwise
	tapped   bool
}

// layer is where the contour goes: with the material on its left it runs
// counter-clockwise around a part, clockwise around a hole.
func (c contour) layer() string {
	if c.area() > 0 {
		return OutlineLayer
	}
	for _, one := range c {
		if !one.tapped {
			return HolesLayer
		}
	}
	return TapDrillLayer
}

// area is what the contour encloses, mm², positive counter-clockwise.
func (c contour) area() float64 {
	sum := 0.0
	for _, one := range c {
		sum += (one.from.x*one.to.y - one.to.x*one.from.y) / 2
		if one.arc { // between the arc and its chord
			sum += one.radius * one.radius / 2 * (one.sweep - math.Sin(one.sweep))
		}
	}
	return sum
}

// round tells whether the contour is one circle.
func (c contour) round() bool {
	for _, one := range c {
		if !one.arc || !near(one.centre, c[0].centre) || math.Abs(one.radius-c[0].radius) > solid.Tolerance {
			return false
		}
	}
	return true
}

func near(a, b point) bool { return math.Hypot(a.x-b.x, a.y-b.y) <= solid.Tolerance }

// contour writes a contour as one entity.
func (f *file) contour(p pen, c contour) {
	if c.round() {
		f.circle(p, c[0].centre, c[0].radius)
		return
	}
	var bends []bend
	for _, one := range c {
		if one.arc {
			bends = append(bends, arcBends(one.centre, one.radius, one.start, one.sweep)...)
			continue
		}
		bends = append(bends, bend{at: one.from})
	}
	f.polyline(p, bends, true)
}

// contoursOf finds the contours of a sheet part, in the order of its edges.
func contoursOf(s *solid.Solid) ([]contour, error) {
	if s == nil || len(s.Faces) == 0 {
		return nil, ErrNotFlat
	}
	cuts := cutsOf(s)
	leaving := map[spot][]int{}
	for i, c := range cuts {
		at := spotOf(c.from)
		leaving[at] = append(leaving[at], i)
	}
	var list []contour
	used := make([]bool, len(cuts))
	outlines := 0
	for i := range cuts {
		if used[i] {
			continue
		}
		ring := contour{cuts[i]}
		used[i] = true
		for last := cuts[i]; !near(last.to, cuts[i].from); {
			next := -1
			for _, k := range leaving[spotOf(last.to)] {
				// Where two rings touch, the sharpest turn to the left keeps
				// to the same piece of material.
				if !used[k] && (next < 0 || turnBetween(last, cuts[k]) > turnBetween(last, cuts[next])) {
					next = k
				}
			}
			if next < 0 {
				return nil, fmt.Errorf("%w: it is open at (%s, %s) mm", ErrNotFlat, decimal(last.to.x), decimal(last.to.y))
			}
			used[next] = true
			last = cuts[next]
			ring = append(ring, last)
		}
		list = append(list, ring)
		if ring.area() > 0 {
			outlines++
		}
	}
	if outlines == 0 {
		return nil, ErrNotFlat
	}
	return list, nil
}

// turnBetween is the turn from the end of a to the start of b, radians, positive to
// the left.
func turnBetween(a, b cut) float64 {
	ux, uy := a.heading(1)
	vx, vy := b.heading(0)
	return math.Atan2(ux*vy-uy*vx, ux*vx+uy*vy)
}

// heading is the direction at a share of the cut.
func (c cut) heading(share float64) (x, y float64) {
	if !c.arc {
		d := math.Hypot(c.to.x-c.from.x, c.to.y-c.from.y)
		return (c.to.x - c.from.x) / d, (c.to.y - c.from.y) / d
	}
	sin, cos := math.Sincos(c.start + c.sweep*share)
	way := math.Copysign(1, c.sweep)
	return -sin * way, cos * way
}

// at is the point at a share of the cut.
func (c cut) at(share float64) point {
	if !c.arc {
		return point{c.from.x + (c.to.x-c.from.x)*share, c.from.y + (c.to.y-c.from.y)*share}
	}
	sin, cos := math.Sincos(c.start + c.sweep*share)
	return point{c.centre.x + c.radius*cos, c.centre.y + c.radius*sin}
}

// reversed runs the other way.
func (c cut) reversed() cut {
	c.from, c.to = c.to, c.from
	c.start, c.sweep = c.start+c.sweep, -c.sweep
	return c
}

// A spot is a place rounded so that places a rounding apart are the same one.
type spot struct{ x, y int64 }

// spotSize, mm, and spotShift, which keeps sizes that people choose off the borders
// between spots.
const (
	spotSize  = 1e-4
	spotShift = 0.3141592653
)

func spotOf(p point) spot {
	return spot{int64(math.Floor(p.x/spotSize + spotShift)), int64(math.Floor(p.y/spotSize + spotShift))}
}

// A trace tells apart the cuts that edges give: by their middle and their ends.
type trace struct{ middle, low, high spot }

func (c cut) trace() trace {
	t := trace{spotOf(c.at(0.5)), spotOf(c.from), spotOf(c.to)}
	if closed := near(c.from, c.to); closed { // where a ring begins says nothing
		t.middle, t.low = spotOf(c.centre), spotOf(point{c.radius, 0})
		t.high = t.low
	} else if t.low.x > t.high.x || t.low.x == t.high.x && t.low.y > t.high.y {
		t.low, t.high = t.high, t.low
	}
	return t
}

// cutsOf finds where, looking along z, there is material on one side only. All
// edges are looked at, since a wall's edges may lie at the top, at the bottom or,
// below a counterbore, between.
func cutsOf(s *solid.Solid) []cut {
	var list []cut
	seen := map[trace]int{} // place in list, or -1 for what is no cut
	for i := range s.Edges {
		e := &s.Edges[i]
		c, flat := flatEdge(e)
		if !flat {
			continue
		}
		c.tapped = s.Faces[e.Faces[0]].Thread != nil || s.Faces[e.Faces[1]].Thread != nil
		key := c.trace()
		if at, known := seen[key]; known {
			if at >= 0 && c.tapped {
				list[at].tapped = true
			}
			continue
		}
		seen[key] = -1
		if c, parts := parting(s, e, c); parts {
			seen[key] = len(list)
			list = append(list, c)
		}
	}
	return list
}

// flatEdge is an edge that lies level, seen from the top.
func flatEdge(e *solid.Edge) (cut, bool) {
	a, b := e.Point(0), e.Point(1)
	c := cut{from: point{a.X, a.Y}, to: point{b.X, b.Y}}
	switch curve := e.Curve.(type) {
	case solid.Line:
		return c, math.Abs(a.Z-b.Z) <= solid.Tolerance && !near(c.from, c.to)
	case solid.Circle:
		if math.Abs(curve.Z.Z) < 1-1e-12 {
			return c, false
		}
		way := math.Copysign(1, curve.Z.Z)
		c.arc, c.centre, c.radius = true, point{curve.O.X, curve.O.Y}, curve.R
		c.start = math.Atan2(a.Y-curve.O.Y, a.X-curve.O.X)
		c.sweep = way * (e.T1 - e.T0)
		return c, true
	}
	return c, false
}

// parting turns a cut so that the material lies on its left, and tells whether it
// parts material from nothing.
func parting(s *solid.Solid, e *solid.Edge, c cut) (cut, bool) {
	for _, face := range e.Faces {
		if f := &s.Faces[face]; wholeWall(s, f) {
			n := f.Normal(e.Point(0.5))
			x, y := c.heading(0.5)
			if n.X*-y+n.Y*x > 0 { // the way out lies on the left
				return c.reversed(), true
			}
			return c, true
		}
	}
	left := 0
	for _, share := range []float64{0.5, 0.13, 0.88} {
		switch a, b := beside(s, c, share, sideStep), beside(s, c, share, -sideStep); {
		case a == b:
			return c, false
		case a:
			left++
		default:
			left--
		}
	}
	switch left {
	case 3:
		return c, true
	case -3:
		return c.reversed(), true
	}
	return c, false
}

// wholeWall tells whether a face is a plain upright wall from the bottom of the part
// to its top: there is nothing but air in front of it, at any height.
func wholeWall(s *solid.Solid, f *solid.Face) bool {
	switch surface := f.Surface.(type) {
	case solid.Plane:
		if math.Abs(surface.Z.Z) > 1e-12 {
			return false
		}
	case solid.Cylinder:
		if math.Abs(surface.Z.Z) < 1-1e-12 {
			return false
		}
	default:
		return false
	}
	uses := 0
	low, high := s.Box().Min.Z, s.Box().Max.Z
	for _, loop := range f.Loops {
		for _, use := range loop {
			uses++
			e := &s.Edges[use.Edge]
			a, b := e.Point(0).Z, e.Point(1).Z
			if math.Abs(a-b) > solid.Tolerance {
				continue // upright
			}
			if math.Abs(a-low) > solid.Tolerance && math.Abs(a-high) > solid.Tolerance {
				return false
			}
		}
	}
	return uses == 4 && len(f.Loops) == 1 || uses == 2 && len(f.Loops) == 2
}

// sideStep is how far beside a cut the material is looked for, mm.
const sideStep = 1e-3

// beside tells whether there is material anywhere above or below the place beside a
// cut: at a share of its length, a step to its left.
func beside(s *solid.Solid, c cut, share, step float64) bool {
	for try := range 8 { // until the ray keeps clear of edges
		k := share + 0.003*float64(try)
		p := c.at(k)
		x, y := c.heading(k)
		sure := true
		hits := s.Line(solid.Vec{X: p.x - y*step, Y: p.y + x*step}, solid.Vec{Z: 1})
		for _, h := range hits {
			sure = sure && !h.Unsure
		}
		if sure {
			return len(hits) > 0
		}
	}
	return false
}
