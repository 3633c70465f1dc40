package layout

import (
	"fmt"
	"math"

	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/solid"
)

// seat lays a use's face on another and lines features up: the face's normal is
// turned against the other's, the first pair of features is brought together in the
// plane, a second pair settles the turn about the normal.
func (l *Layout) seat(a *plan.Assembly, use *plan.Use, turn solid.Placement) (solid.Placement, bool) {
	seat := use.Seat
	mine, ok := l.own(use, seat.Mine.Path())
	if !ok {
		l.report(seat.Mine.At, a, use, fmt.Sprintf("it has no face %q to be seated by", seat.Mine.Text))
		return turn, false
	}
	onto, ok := l.feature(a, seat.Onto.Path())
	if !ok {
		l.report(seat.Onto.At, a, use, fmt.Sprintf("there is no face %q to seat it on", seat.Onto.Text))
		return turn, false
	}
	p := turn.Then(against(turn.Direction(mine.Dir), onto.Dir))
	if seat.Spin.Given() {
		if v, ok := l.r.QuantityIn(seat.Spin, quantity.Angle); ok {
			p = p.Then(solid.Turned(onto.Dir, v.SI))
		}
	}
	pairs, ok := l.pairs(a, use)
	if !ok {
		return p, false
	}
	if len(pairs) > 1 {
		p = p.Then(spin(pairs, p, onto.Dir))
	}
	gap := 0.0
	if seat.Gap.Given() {
		gap, _ = l.r.Length(seat.Gap)
	}
	// Out of the plane the faces decide, in the plane the features, or the middles
	// of the faces where none are named.
	from, to := mine.At, onto.At
	if len(pairs) > 0 {
		from, to = pairs[0][0].At, pairs[0][1].At
	}
	inPlane := flat(to.Sub(p.Point(from)), onto.Dir)
	height := onto.At.Sub(p.Point(mine.At)).Dot(onto.Dir) + gap
	return p.Then(solid.Moved(inPlane.Add(onto.Dir.Mul(height)))), true
}

// pairs are the features to line up: mine in my own axes, theirs in the assembly's.
func (l *Layout) pairs(a *plan.Assembly, use *plan.Use) (pairs [][2]solid.Feature, ok bool) {
	for _, pair := range use.Seat.LineUp {
		mine, found := l.own(use, pair[0].Path())
		if !found {
			l.report(pair[0].At, a, use, fmt.Sprintf("it has no feature %q to line up", pair[0].Text))
			return nil, false
		}
		theirs, found := l.feature(a, pair[1].Path())
		if !found {
			l.report(pair[1].At, a, use, fmt.Sprintf("there is no feature %q to line up with", pair[1].Text))
			return nil, false
		}
		pairs = append(pairs, [2]solid.Feature{mine, theirs})
	}
	return pairs, true
}

// against turns a face's normal so that it points against another.
func against(mine, onto solid.Vec) solid.Placement {
	want := onto.Mul(-1)
	axis := mine.Cross(want)
	sin, cos := math.Sqrt(axis.Dot(axis)), mine.Dot(want)
	if sin > solid.Tolerance {
		return solid.Turned(axis, math.Atan2(sin, cos))
	}
	if cos > 0 {
		return solid.Stay
	}
	// Straight opposite: half a turn about any axis in the face.
	side := solid.Vec{X: 1}
	if math.Abs(mine.X) > 0.9 {
		side = solid.Vec{Y: 1}
	}
	return solid.Turned(mine.Cross(side), math.Pi)
}

// flat is v without its part along the normal.
func flat(v, normal solid.Vec) solid.Vec { return v.Sub(normal.Mul(v.Dot(normal))) }

// spin is the turn about the normal that brings my second feature, seen from the
// first, the way that theirs lies.
func spin(pairs [][2]solid.Feature, p solid.Placement, normal solid.Vec) solid.Placement {
	mine := flat(p.Point(pairs[1][0].At).Sub(p.Point(pairs[0][0].At)), normal)
	theirs := flat(pairs[1][1].At.Sub(pairs[0][1].At), normal)
	angle := math.Atan2(mine.Cross(theirs).Dot(normal), mine.Dot(theirs))
	if math.Abs(angle) < solid.Tolerance {
		return solid.Stay
	}
	return solid.Turned(normal, angle)
}
