package scene

import (
	"math"

	"plansheaf/publish/picture"
)

const (
	ringGap   = 3.0 // mm of paper between the art and the balloons
	ringStep  = 4.0 // mm by which the ring is widened when balloons find no room
	mostRings = 12
	clearance = 0.8 // mm of paper between a leader and what it passes
	// crowded weighs a mm that a dot's surroundings lack against a mm of leader.
	crowded = 6.0
	// forbidden is the cost of a leader that may not be drawn.
	forbidden = 1e7
)

// arrange gives every item with a spot a balloon on a ring around the frame, so that
// no leader crosses another or touches another's balloon or dot. The spots are in
// mm on paper from the frame's corner; margin is how far the ring of balloons'
// middles stands off the frame.
//
// Leaders of least length in all never cross: two that did would be shorter with
// their balloons exchanged. What they touch besides is forbidden one by one.
func arrange(frame picture.Box, spots [][]sighting) (balloons []balloon, margin float64) {
	var items []int
	for i, list := range spots {
		if len(list) > 0 {
			items = append(items, i)
		}
	}
	margin = balloonRadius + ringGap
	for try := 0; try < mostRings; try++ {
		places := ring(frame, margin)
		if len(places) >= len(items) {
			var clean bool
			if balloons, clean = fill(items, spots, places); clean {
				return balloons, margin
			}
		}
		margin += ringStep
	}
	return sound(balloons), margin - ringStep
}

// ring are the places for balloons' middles around a frame.
func ring(frame picture.Box, margin float64) []picture.Point {
	const pitch = 2*balloonRadius + balloonGap
	low, high := frame.Min.Minus(picture.Point{X: margin, Y: margin}), frame.Max.Plus(picture.Point{X: margin, Y: margin})
	columns := int((high.X-low.X)/pitch) + 1
	rows := int((high.Y-low.Y)/pitch) - 1 // the corners belong to the rows above and below
	var out []picture.Point
	for i := range columns {
		x := (low.X+high.X)/2 + (float64(i)-float64(columns-1)/2)*pitch
		out = append(out, picture.Point{X: x, Y: low.Y}, picture.Point{X: x, Y: high.Y})
	}
	for i := range max(rows, 0) {
		y := (low.Y+high.Y)/2 + (float64(i)-float64(rows-1)/2)*pitch
		out = append(out, picture.Point{X: low.X, Y: y}, picture.Point{X: high.X, Y: y})
	}
	return out
}

// refused are leaders that may not be drawn: item, spot and place by index.
type refused map[[3]int]bool

// mostTrials bounds how often leaders are refused on one ring.
const mostTrials = 200

// fill finds a balloon for each item on a ring's places; clean is false when some
// leader could not be kept clear of the rest.
func fill(items []int, spots [][]sighting, places []picture.Point) (out []balloon, clean bool) {
	no := refused{}
	for trial := 0; trial < mostTrials; trial++ {
		costs := make([][]float64, len(items))
		best := make([][]int, len(items))
		for i, item := range items {
			costs[i], best[i] = make([]float64, len(places)), make([]int, len(places))
			for p, place := range places {
				costs[i][p] = forbidden
				for s, spot := range spots[item] {
					cost := spot.at.Distance(place) + crowded*math.Max(0, roomy-spot.clear)
					if cost < costs[i][p] && !no[[3]int{i, s, p}] {
						costs[i][p], best[i][p] = cost, s
					}
				}
			}
		}
		match := assign(costs)
		out = out[:0]
		for i, p := range match {
			out = append(out, balloon{item: items[i], centre: places[p], spot: spots[items[i]][best[i][p]].at})
		}
		clean = true
		for i, p := range match {
			if costs[i][p] >= forbidden || !alone(out, i) {
				no[[3]int{i, best[i][p], p}] = true
				clean = false
				break
			}
		}
		if clean {
			return out, true
		}
	}
	return out, false
}

// alone reports whether the leader of one balloon crosses no other and keeps clear
// of all other balloons and dots.
func alone(list []balloon, i int) bool {
	me := list[i].leader()
	for j, other := range list {
		if j == i {
			continue
		}
		if toSegment(other.centre, me) < balloonRadius+clearance || toSegment(other.spot, me) < dotRadius+clearance ||
			crossing(me, other.leader()) {
			return false
		}
	}
	return true
}

// sound leaves out the balloons that are not clear of the rest.
func sound(list []balloon) []balloon {
	for i := 0; i < len(list); {
		if alone(list, i) {
			i++
			continue
		}
		list = append(list[:i:i], list[i+1:]...)
		i = 0
	}
	return list
}

// toSegment is the distance of a point from a line between its ends.
func toSegment(p picture.Point, l picture.Line) float64 {
	way, to := l.B.Minus(l.A), p.Minus(l.A)
	share := (to.X*way.X + to.Y*way.Y) / math.Max(way.X*way.X+way.Y*way.Y, 1e-12)
	return p.Distance(l.A.Plus(way.Times(math.Min(1, math.Max(0, share)))))
}

// crossing reports whether two lines cross between their ends, or touch.
func crossing(a, b picture.Line) bool {
	side := func(l picture.Line, p picture.Point) float64 {
		return (l.B.X-l.A.X)*(p.Y-l.A.Y) - (l.B.Y-l.A.Y)*(p.X-l.A.X)
	}
	return side(a, b.A)*side(a, b.B) <= 0 && side(b, a.A)*side(b, a.B) <= 0
}

// assign gives each row a column of its own so that the costs add up to the least:
// the Hungarian method with potentials (Kuhn 1955, Munkres 1957), in time rows² ×
// columns. There must be as many columns as rows at least.
func assign(costs [][]float64) []int {
	rows := len(costs)
	if rows == 0 {
		return nil
	}
	columns := len(costs[0])
	// Row 0 and column 0 stand for none.
	u, v := make([]float64, rows+1), make([]float64, columns+1)
	of, way := make([]int, columns+1), make([]int, columns+1)
	for row := 1; row <= rows; row++ {
		of[0] = row
		column := 0
		least := make([]float64, columns+1)
		for j := range least {
			least[j] = math.Inf(1)
		}
		used := make([]bool, columns+1)
		for of[column] != 0 {
			used[column] = true
			delta, next := math.Inf(1), 0
			for j := 1; j <= columns; j++ {
				if used[j] {
					continue
				}
				if c := costs[of[column]-1][j-1] - u[of[column]] - v[j]; c < least[j] {
					least[j], way[j] = c, column
				}
				if least[j] < delta {
					delta, next = least[j], j
				}
			}
			for j := 0; j <= columns; j++ {
				if used[j] {
					u[of[j]] += delta
					v[j] -= delta
				} else {
					least[j] -= delta
				}
			}
			column = next
		}
		for column != 0 {
			of[column] = of[way[column]]
			column = way[column]
		}
	}
	match := make([]int, rows)
	for j := 1; j <= columns; j++ {
		if of[j] > 0 {
			match[of[j]-1] = j - 1
		}
	}
	return match
}
