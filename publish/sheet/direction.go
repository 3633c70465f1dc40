package sheet

import (
	"math"

	"plansheaf/design/solid"
	"plansheaf/publish/view"
)

// eye is a view's direction with its name, where it is one of the six.
type eye struct {
	name string
	view.Direction
}

// eyes are the six principal views, in the order of preference.
var eyes = []eye{
	{"front", view.Front}, {"top", view.Top}, {"right", view.Right},
	{"left", view.Left}, {"bottom", view.Bottom}, {"back", view.Back},
}

func eyeNamed(name string) (eye, bool) {
	for _, e := range eyes {
		if e.name == name {
			return e, true
		}
	}
	return eye{}, false
}

// lying turns the view on the paper by a quarter: what was up lies to the right.
func (e eye) lying() eye {
	e.Right, e.Up = e.Up, e.Right.Mul(-1)
	return e
}

// from is the view on the part from a side of this one: (1,0) from its right,
// (0,1) from above, unfolded so that it lines up with this view.
func (e eye) from(right, up int) eye {
	n := eye{Direction: e.From(right, up)}
	for _, known := range eyes {
		if known.Toward.Dist(n.Toward) < 1e-9 {
			n.name = known.name
		}
	}
	return n
}

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

// sameWay reports whether two unit vectors lie along each other, either way.
func sameWay(a, b solid.Vec) bool { return math.Abs(a.Dot(b)) > 1-1e-9 }
