package layout

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
)

// lineUpWithin (mm) is how far features that are said to line up may stay apart:
// below what a workshop marks out and drills to. Common practice, no source.
const lineUpWithin = 0.05

// seat lays a use's face on another and lines features up: the face's normal is
// turned against the other's, the first pair of features is brought together in the
// plane, a second pair settles the turn about the normal. Pairs that do not meet
// then are a finding, but the use stands as the first ones have it.
func (l *Layout) seat(a *plan.Assembly, use *plan.Use, number int, turn solid.Placement) (solid.Placement, bool) {
	seat := use.Seat
	mine, why := l.own(use, seat.Mine.Path())
	if why != nil {
		l.missing(seat.Mine, a, use, why, fmt.Sprintf("it has no face %q to be seated by", seat.Mine.Text))
		return turn, false
	}
	l.hangs("seated on", seat.At)
	onto, why := l.theirs(a, use, number, seat.Onto)
	if why != nil {
		l.missing(seat.Onto, a, use, why, fmt.Sprintf("there is no face %q to seat it on", seat.Onto.Text))
		return turn, false
	}
	pairs, ok := l.pairs(a, use, number)
	if !ok {
		return turn, false
	}
	p := turn.Then(against(turn.Direction(mine.Dir), onto.Dir))
	l.follows(seat.Spin, seat.Gap)
	if seat.Spin.Given() {
		if v, ok := l.pose.QuantityIn(seat.Spin, quantity.Angle); ok {
			p = p.Then(solid.Turned(onto.Dir, v.SI))
		}
	}
	if len(pairs) > 1 {
		angle := spin(pairs, p, onto.Dir)
		if seat.Spin.Given() && math.Abs(angle) > solid.Tolerance {
			l.miss(a, use, seat.Spin.At, fmt.Sprintf("spin turns it one way, but for its second pair of features to line up it must turn %s further", degrees(angle)))
		}
		p = p.Then(solid.Turned(onto.Dir, angle))
	}
	gap := 0.0
	if seat.Gap.Given() {
		gap, _ = l.pose.Length(seat.Gap)
	}
	// Out of the plane the faces decide, in the plane the features, or the middles
	// of the faces where none are named.
	from, to := mine.At, onto.At
	if len(pairs) > 0 {
		from, to = pairs[0][0].At, pairs[0][1].At
	}
	inPlane := flat(to.Sub(p.Point(from)), onto.Dir)
	height := onto.At.Sub(p.Point(mine.At)).Dot(onto.Dir) + gap
	p = p.Then(solid.Moved(inPlane.Add(onto.Dir.Mul(height))))
	l.meet(a, use, pairs, p, onto.Dir)
	return p, true
}

// theirs is the feature that a repeated use's reference means for one of its
// instances. A use repeated without a step takes the features of a pattern, or of
// another repeated use, one after the other.
func (l *Layout) theirs(a *plan.Assembly, use *plan.Use, number int, w plan.Word) (solid.Feature, *miss) {
	if number == 0 || use.Step.Given() {
		return l.feature(a, w.Path())
	}
	loc := l.local(a)
	spots, known := loc.spots[w.Text]
	if !known {
		spots = l.spots(a, w)
		loc.spots[w.Text] = spots
	}
	if len(spots) < 2 {
		return l.feature(a, w.Path())
	}
	if number > len(spots) {
		return solid.Feature{}, &miss{absent: fmt.Sprintf("there are fewer places than uses: %d", len(spots))}
	}
	s := spots[number-1]
	return l.feature(a, append(plan.Word{Text: s.Path}.Path(), plan.Word{Text: s.Feature}.Path()...))
}

// spots are what a reference stands for, wherever the motions stand.
func (l *Layout) spots(a *plan.Assembly, w plan.Word) []reckon.Spot {
	if still := l.standing(a); still != nil {
		if known, asked := still.spots[w.Text]; asked {
			return known
		}
	}
	return l.r.Spots(a, w)
}

// pairs are the features to line up: mine in my own axes, theirs in the assembly's.
func (l *Layout) pairs(a *plan.Assembly, use *plan.Use, number int) (pairs [][2]solid.Feature, ok bool) {
	for _, pair := range use.Seat.LineUp {
		mine, why := l.own(use, pair[0].Path())
		if why != nil {
			l.missing(pair[0], a, use, why, fmt.Sprintf("it has no feature %q to line up", pair[0].Text))
			return nil, false
		}
		l.hangs("lined up with", pair[1].At)
		theirs, why := l.theirs(a, use, number, pair[1])
		if why != nil {
			l.missing(pair[1], a, use, why, fmt.Sprintf("there is no feature %q to line up with", pair[1].Text))
			return nil, false
		}
		pairs = append(pairs, [2]solid.Feature{mine, theirs})
	}
	return pairs, true
}

// meet finds pairs after the first that stay apart in the plane.
func (l *Layout) meet(a *plan.Assembly, use *plan.Use, pairs [][2]solid.Feature, p solid.Placement, normal solid.Vec) {
	for i := 1; i < len(pairs); i++ {
		apart := length(flat(p.Point(pairs[i][0].At).Sub(pairs[i][1].At), normal))
		if apart <= lineUpWithin {
			continue
		}
		first, this := use.Seat.LineUp[0], use.Seat.LineUp[i]
		mine := length(flat(p.Direction(pairs[i][0].At.Sub(pairs[0][0].At)), normal))
		theirs := length(flat(pairs[i][1].At.Sub(pairs[0][1].At), normal))
		says := fmt.Sprintf("once %s meets %s, %s misses %s by %s: mine are %s apart, theirs %s",
			first[0].Text, first[1].Text, this[0].Text, this[1].Text, millimetres(apart), millimetres(mine), millimetres(theirs))
		l.miss(a, use, this[0].At, says)
	}
}

// miss reports features that are said to line up and do not.
func (l *Layout) miss(a *plan.Assembly, use *plan.Use, at finding.Span, says string) {
	l.note(SeatMisses, finding.Finding{At: at, Subject: a.ID.Text + "." + use.ID.Text, Message: fmt.Sprintf("%q: %s", use.ID.Text, says)})
}

// millimetres prints a length for a message, to a hundredth.
func millimetres(v float64) string { return rounded(v) + " mm" }

// degrees prints an angle in radians for a message.
func degrees(v float64) string { return rounded(v*180/math.Pi) + "°" }

func rounded(v float64) string {
	text := strings.TrimRight(strings.TrimRight(strconv.FormatFloat(v, 'f', 2, 64), "0"), ".")
	if text == "-0" {
		return "0"
	}
	return text
}

// against turns a face's normal so that it points against another.
func against(mine, onto solid.Vec) solid.Placement { return toward(mine, onto.Mul(-1)) }

// toward turns a direction into another, by the least turn.
func toward(mine, want solid.Vec) solid.Placement {
	axis := mine.Cross(want)
	sin, cos := length(axis), mine.Dot(want)
	if sin > solid.Tolerance {
		return solid.Turned(axis, math.Atan2(sin, cos))
	}
	if cos > 0 {
		return solid.Stay
	}
	// Straight opposite: half a turn about any axis across.
	side := solid.Vec{X: 1}
	if math.Abs(mine.X) > 0.9*length(mine) {
		side = solid.Vec{Y: 1}
	}
	return solid.Turned(mine.Cross(side), math.Pi)
}

// flat is v without its part along the normal.
func flat(v, normal solid.Vec) solid.Vec { return v.Sub(normal.Mul(v.Dot(normal))) }

// spin is the angle about the normal that brings my second feature, seen from the
// first, the way that theirs lies.
func spin(pairs [][2]solid.Feature, p solid.Placement, normal solid.Vec) float64 {
	mine := flat(p.Point(pairs[1][0].At).Sub(p.Point(pairs[0][0].At)), normal)
	theirs := flat(pairs[1][1].At.Sub(pairs[0][1].At), normal)
	angle := math.Atan2(mine.Cross(theirs).Dot(normal), mine.Dot(theirs))
	if math.Abs(angle) < solid.Tolerance {
		return 0
	}
	return angle
}
