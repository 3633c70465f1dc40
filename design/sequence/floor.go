package sequence

import (
	"math"

	"plansheaf/design/plan"
	"plansheaf/design/solid"
)

// A floor is the top of the bench that the work rests on: nothing reaches below it.
type floor struct {
	up    solid.Vec // away from the bench, a unit vector
	level float64   // of the bench, along up, mm
}

// onFloor stands for the bench where a body's index says what is in the way.
const onFloor = -2

// upward is the way up of work that rests on a face.
var upward = map[string]solid.Vec{
	"bottom": {Z: 1}, "top": {Z: -1}, "left": {X: 1}, "right": {X: -1}, "front": {Y: 1}, "back": {Y: -1},
}

// floorUnder is the bench under some bodies where they rest on a face; nil where none is,
// because the work is in one's hands.
func (b *bench) floorUnder(face string, bodies []int) *floor {
	up, lies := upward[face]
	if !lies || len(bodies) == 0 {
		return nil
	}
	f := &floor{up: up, level: math.Inf(1)}
	for _, i := range bodies {
		low, _ := span(b.boxes[i], up)
		if low < f.level && !square(b.at[i]) { // the box may be larger than what it holds
			low, _ = span(b.bodies[i].Solid.BoxUnder(b.at[i]), up)
		}
		f.level = math.Min(f.level, low)
	}
	return f
}

// square reports whether a placement keeps boxes along the axes.
func square(at solid.Placement) bool {
	for _, v := range at.Turn {
		if math.Max(math.Abs(v.X), math.Max(math.Abs(v.Y), math.Abs(v.Z))) < 1-sameDirection*sameDirection {
			return false
		}
	}
	return true
}

// under is the floor seen from a frame's axes.
func (f *floor) under(frame solid.Frame) *floor {
	if f == nil {
		return nil
	}
	return &floor{
		up:    solid.Vec{X: frame.X.Dot(f.up), Y: frame.Y.Dot(f.up), Z: frame.Z.Dot(f.up)},
		level: f.level - frame.O.Dot(f.up),
	}
}

// above is how far the lowest point of a round lies above the floor, both in the axes of
// the round; less than zero where it stands in the bench.
func (f *floor) above(one stem) float64 {
	return math.Min(f.up.Z*one.From, f.up.Z*one.To) - math.Hypot(f.up.X, f.up.Y)*one.R - f.level
}

// shadow adds the directions in which a bar would stand in the bench.
func (f *floor) shadow(bar arm, into *angles) {
	across := math.Hypot(f.up.X, f.up.Y)
	room := math.Min(f.up.Z*bar.From, f.up.Z*bar.To) - f.level
	if across < sameDirection {
		if room < -touching {
			into.all = true
		}
		return
	}
	// Turned by u from straight downward, the bar's lowest point is
	// end·cos u + half·sin u below its axis, end being its outer one while it points
	// down and its inner one while it points up.
	k := room / across
	wide := leaning(bar.Reach, bar.Half, k)
	if wide > math.Pi/2 {
		wide = leaning(bar.Inner, bar.Half, k)
	}
	switch down := math.Atan2(-f.up.Y, -f.up.X); {
	case wide <= 0:
	case wide >= math.Pi:
		into.all = true
	default:
		into.take(down-wide, down+wide)
	}
}

// leaning is the largest u, 0 to pi, at which end·cos u + half·sin u is k; 0 where it is
// always less.
func leaning(end, half, k float64) float64 {
	most := math.Hypot(end, half)
	if k >= most {
		return 0
	}
	return math.Min(math.Pi, math.Atan2(half, end)+math.Acos(math.Max(-1, k/most)))
}

// runs is how far bodies that lie in a box move along a direction before they meet the
// bench.
func (f *floor) runs(box solid.Box, dir solid.Vec) float64 {
	fall := -dir.Dot(f.up)
	if fall < sameDirection {
		return math.Inf(1)
	}
	low, _ := span(box, f.up)
	return math.Max(0, low-f.level) / fall
}

// on is how the work lies in a step of the bench.
func (b *bench) on(turn int) string {
	if b.tryOn != "" {
		return b.tryOn
	}
	return b.rests[b.g.Steps[b.order[turn]].Step].On
}

// handy (kg) is from which mass on lifting counts as such: ISO 11228-1 takes up what
// weighs 3 kg or more. What is lighter is taken in hand and turned while it is worked
// on, without any word of the plan.
const handy = 3.0

// picked reports whether the work of a step, with all that it adds, is taken in hand
// while it is done: it is light, and nothing that earlier steps left loose would fall
// out. Of what nobody has weighed nothing is claimed.
func (b *bench) picked(turn int) bool {
	kg, known := b.mass(turn + 1)
	return kg < handy && (!known || len(b.falling(turn+1, plan.Hand)) == 0)
}

// mass is what the work weighs before the step at a place in the order, and whether all
// of it is known.
func (b *bench) mass(turn int) (kg float64, known bool) {
	known = true
	for i, since := range b.since {
		if since < turn && b.bodies[i].Part != nil {
			kg += b.bodies[i].Part.Mass
			known = known && b.bodies[i].Part.Weighed
		}
	}
	return kg, known
}
