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
		list = append(list, ring.merged())
		if ring.area() > 0 {
			outlines++
		}
	}
	if outlines == 0 {
		return nil, ErrNotFlat
	}
	return list, nil
}

// merged joins cuts that go on along one line or circle: what splits them lies
// above or below.
func (c contour) merged() contour {
	list := contour{c[0]}
	for _, next := range c[1:] {
		if last := &list[len(list)-1]; last.leadsOn(next) {
			*last = last.with(next)
			continue
		}
		list = append(list, next)
	}
	if last := len(list) - 1; last > 0 && list[last].leadsOn(list[0]) {
		list[0] = list[last].with(list[0])
		list = list[:last]
	}
	return list
}

// leadsOn tells whether next, which begins where c ends, is more of the same line or
// circle.
func (c cut) leadsOn(next cut) bool {
	if c.arc != next.arc {
		return false
	}
	if c.arc {
		return near(c.centre, next.centre) && math.Abs(c.radius-next.radius) <= solid.Tolerance && c.sweep*next.sweep > 0
	}
	return math.Abs(turnBetween(c, next)) < 1e-9
}

func (c cut) with(next cut) cut {
	c.to, c.sweep, c.tapped = next.to, c.sweep+next.sweep, c.tapped && next.tapped
	return c
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
