package solid

import "math"

// MaxPattern is how many holes a pattern may have.
const MaxPattern = 10000

// Grid returns the middles of a grid of count[0] by count[1] holes from a first
// one, step.X apart along the first axis and step.Y along the second; numbered
// along the first axis first. Counts below 1, or more than MaxPattern holes,
// give nil.
func Grid(from, step Vec2, count [2]int) []Vec2 {
	if count[0] < 1 || count[1] < 1 || count[0] > MaxPattern || count[1] > MaxPattern/count[0] {
		return nil
	}
	var at []Vec2
	for j := 0; j < count[1]; j++ {
		for i := 0; i < count[0]; i++ {
			at = append(at, Vec2{from.X + step.X*float64(i), from.Y + step.Y*float64(j)})
		}
	}
	return at
}

// Row returns the middles of count holes from a first one, each step from the
// one before. A count below 1 or above MaxPattern gives nil.
func Row(from, step Vec2, count int) []Vec2 {
	if count < 1 || count > MaxPattern {
		return nil
	}
	var at []Vec2
	for i := 0; i < count; i++ {
		at = append(at, from.along(step, float64(i)))
	}
	return at
}

// Ring returns the middles of count holes evenly spaced on a circle of diameter
// d about centre, the first at the angle first in radians from the first axis
// towards the second. A count below 1 or above MaxPattern gives nil.
func Ring(centre Vec2, d float64, count int, first float64) []Vec2 {
	if count < 1 || count > MaxPattern {
		return nil
	}
	var at []Vec2
	for i := 0; i < count; i++ {
		sin, cos := math.Sincos(first + 2*math.Pi*float64(i)/float64(count))
		at = append(at, Vec2{centre.X + d/2*cos, centre.Y + d/2*sin})
	}
	return at
}
