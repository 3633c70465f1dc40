package sheet

import (
	"math"

	"plansheaf/design/solid"
)

// eye is how a view looks at the part: Right and Up lie in the paper, Toward
// points from the part to the eye. Right × Up = Toward.
type eye struct {
	name              string
	right, up, toward solid.Vec
}

// eyes are the six principal views.
var eyes = []eye{
	{"front", solid.Vec{X: 1}, solid.Vec{Z: 1}, solid.Vec{Y: -1}},
	{"top", solid.Vec{X: 1}, solid.Vec{Y: 1}, solid.Vec{Z: 1}},
	{"right", solid.Vec{Y: 1}, solid.Vec{Z: 1}, solid.Vec{X: 1}},
	{"left", solid.Vec{Y: -1}, solid.Vec{Z: 1}, solid.Vec{X: -1}},
	{"bottom", solid.Vec{X: 1}, solid.Vec{Y: -1}, solid.Vec{Z: -1}},
	{"back", solid.Vec{X: -1}, solid.Vec{Z: 1}, solid.Vec{Y: 1}},
}

func eyeNamed(name string) (eye, bool) {
	for _, e := range eyes {
		if e.name == name {
			return e, true
		}
	}
	return eye{}, false
}

// quarter turns the view on the paper by a quarter, so that what was up lies to
// the left and what was right is up.
func (e eye) quarter() eye {
	e.right, e.up = e.up.Mul(-1), e.right
	return e
}

// back turns it the other way: what was up lies to the right.
func (e eye) lying() eye {
	e.right, e.up = e.up, e.right.Mul(-1)
	return e
}

// from is the view on the part from a side of this one: (1,0) from its right,
// (0,1) from above, unfolded so that it lines up with this view.
func (e eye) from(right, up int) eye {
	n := eye{right: e.right, up: e.up, toward: e.toward}
	switch {
	case right > 0:
		n.right, n.toward = e.toward.Mul(-1), e.right
	case right < 0:
		n.right, n.toward = e.toward, e.right.Mul(-1)
	case up > 0:
		n.up, n.toward = e.toward.Mul(-1), e.up
	case up < 0:
		n.up, n.toward = e.toward, e.up.Mul(-1)
	}
	for _, known := range eyes {
		if known.toward.Dist(n.toward) < 1e-9 {
			n.name = known.name
		}
	}
	return n
}

// flat is a point of the part on the view's paper at 1:1, x right, y down.
func (e eye) flat(p solid.Vec) point { return point{X: p.Dot(e.right), Y: -p.Dot(e.up)} }

// axisOf is the part's axis that runs along a direction, and whether it runs the
// same way.
func axisOf(v solid.Vec) (solid.Axis, bool) {
	switch {
	case math.Abs(v.X) > 0.9:
		return solid.AxisX, v.X > 0
	case math.Abs(v.Y) > 0.9:
		return solid.AxisY, v.Y > 0
	}
	return solid.AxisZ, v.Z > 0
}

// on is a point's coordinate along an axis.
func on(p solid.Vec, a solid.Axis) float64 { return p.Dot(a.Vec()) }

var axes = [3]solid.Axis{solid.AxisX, solid.AxisY, solid.AxisZ}

// straight reports whether a direction runs along one of the axes.
func straight(v solid.Vec) bool {
	return math.Abs(v.X) > 1-1e-9 || math.Abs(v.Y) > 1-1e-9 || math.Abs(v.Z) > 1-1e-9
}
