package view

import (
	"errors"
	"math"

	"plansheaf/design/solid"
)

// Direction is how a view looks: Right and Up lie in the paper, Toward points
// from what is seen to the eye. They are unit vectors at right angles with
// Right × Up = Toward.
type Direction struct{ Right, Up, Toward solid.Vec }

// The six principal views (ISO 128-3): x runs right, y back, z up.
var (
	Front  = Direction{solid.Vec{X: 1}, solid.Vec{Z: 1}, solid.Vec{Y: -1}}
	Back   = Direction{solid.Vec{X: -1}, solid.Vec{Z: 1}, solid.Vec{Y: 1}}
	Left   = Direction{solid.Vec{Y: -1}, solid.Vec{Z: 1}, solid.Vec{X: -1}}
	Right  = Direction{solid.Vec{Y: 1}, solid.Vec{Z: 1}, solid.Vec{X: 1}}
	Top    = Direction{solid.Vec{X: 1}, solid.Vec{Y: 1}, solid.Vec{Z: 1}}
	Bottom = Direction{solid.Vec{X: 1}, solid.Vec{Y: -1}, solid.Vec{Z: -1}}
)

// Isometric looks from the front, the right and above, all three axes equally
// shortened (ISO 5456-3).
var Isometric = mustLook(solid.Vec{X: 1, Y: -1, Z: 1}, solid.Vec{Z: 1})

// named are the directions that a plan can name.
var named = map[string]Direction{
	"front": Front, "back": Back, "left": Left, "right": Right, "top": Top, "bottom": Bottom,
	"pictorial": Isometric, "isometric": Isometric,
}

// Named returns the direction of that name: front, back, left, right, top,
// bottom, isometric, or pictorial, which is the same as isometric.
func Named(name string) (Direction, bool) {
	d, ok := named[name]
	return d, ok
}

// errNoDirection is what [Look] gives for vectors that fix no direction.
var errNoDirection = errors.New("view: no direction: zero, not finite, or up runs towards the eye")

// Look returns the direction towards an eye that stands far away in direction
// toward, with up (not along toward) drawn upward. Neither needs unit length.
func Look(toward, up solid.Vec) (Direction, error) {
	z := toward.Unit()
	x := up.Unit().Cross(z)
	if !(math.Abs(z.Len()-1) < 1e-6) || !(x.Len() > 1e-6) {
		return Direction{}, errNoDirection
	}
	x = x.Unit()
	return Direction{x, z.Cross(x), z}, nil
}

// mustLook is Look for the directions of this package.
func mustLook(toward, up solid.Vec) Direction {
	d, err := Look(toward, up)
	if err != nil {
		panic(err)
	}
	return d
}

// From returns the view of what this view shows from a side: (1, 0) from its
// right, (-1, 0) from its left, (0, 1) from above, (0, -1) from below, unfolded
// so that it lines up with this view. It is what projected views of a sheet are
// made with.
func (d Direction) From(right, up int) Direction {
	switch {
	case right > 0:
		return Direction{d.Toward.Mul(-1), d.Up, d.Right}
	case right < 0:
		return Direction{d.Toward, d.Up, d.Right.Mul(-1)}
	case up > 0:
		return Direction{d.Right, d.Toward.Mul(-1), d.Up}
	case up < 0:
		return Direction{d.Right, d.Toward, d.Up.Mul(-1)}
	}
	return d
}

// valid tells whether the direction is a right-handed set of unit vectors.
func (d Direction) valid() bool {
	const slack = 1e-9
	return math.Abs(d.Right.Len()-1) < slack && math.Abs(d.Up.Len()-1) < slack &&
		d.Right.Cross(d.Up).Dist(d.Toward) < slack
}

// placement turns the world so that x, y, z become right, up, toward.
func (d Direction) placement() solid.Placement {
	p := solid.Placement{Turn: [3]solid.Vec{d.Right, d.Up, d.Toward}}
	return p.Inverse()
}
