package scene

import (
	"cmp"
	"math"
	"slices"

	"plansheaf/publish/picture"
)

const (
	ringGap   = 3.0 // mm of paper between the art and the balloons
	ringStep  = 4.0 // mm by which the ring is widened when balloons find no room
	mostRings = 4   // rings that are tried with all balloons on one
	moreRings = 6   // rings around the best of them for those that found no room
	clearance = 0.6 // mm of paper between a leader and what it passes
	// crowded weighs a mm that a dot's surroundings lack against a mm of leader.
	crowded = 6.0
	// worth is how much shorter, mm, a leader must become for its balloon to be moved.
	worth = 5.0
	// forbidden is the cost of a leader that may not be drawn.
	forbidden = 1e7
)

// arrange gives every item with a spot a balloon on a ring around the frame, so that
// no leader crosses another or touches another's balloon or dot. The spots are in
// mm on paper from the frame's corner; margin is how far the ring of balloons'
// middles stands off the frame.
//
// Leaders of least length in all never cross: two that did would be shorter with
// their balloons exchanged. What they touch besides is refused one by one. Where
// spots lie too thick for that, those that found no room stand on rings farther out.
func arrange(frame picture.Box, spots [][]sighting) (balloons []balloon, margin float64) {
	var items []int
	for i, list := range spots {
		if len(list) > 0 {
			items = append(items, i)
		}
	}
	first := balloonRadius + ringGap
	for len(ring(frame, first)) < len(items) {
		first += ringStep
	}
	margin = first
	for try := range mostRings {
		at := first + float64(try)*ringStep
		list := fill(items, spots, ring(frame, at))
		if len(list) > len(balloons) {
			balloons, margin = list, at
		}
		if len(list) == len(items) {
			break
		}
	}
	balloons = shorten(balloons, spots, ring(frame, margin))
	return insert(frame, balloons, margin, items, spots)
}

// insert gives balloons to the items that have none, on the ring's free places and on
// rings around it; an item whose every leader would touch something goes without.
func insert(frame picture.Box, list []balloon, margin float64, items []int, spots [][]sighting) ([]balloon, float64) {
	const pitch = 2*balloonRadius + balloonGap
	widest := margin
	for _, item := range items {
		if slices.ContainsFunc(list, func(b balloon) bool { return b.item == item }) {
			continue
		}
		for k := range moreRings {
			at := margin + float64(k)*pitch
			if b, found := nearest(list, item, spots[item], ring(frame, at)); found {
				list, widest = append(list, b), math.Max(widest, at)
				break
			}
		}
	}
	slices.SortFunc(list, func(a, b balloon) int { return cmp.Compare(a.item, b.item) })
	return list, widest
}

// nearest is the balloon of an item with the cheapest leader that goes with those
// of a list.
func nearest(list []balloon, item int, spots []sighting, places []picture.Point) (best balloon, found bool) {
	least := math.Inf(1)
	for _, place := range places {
		if slices.ContainsFunc(list, func(b balloon) bool { return b.centre.Distance(place) < 2*balloonRadius+balloonGap }) {
			continue
		}
		for _, spot := range spots {
			b := balloon{item: item, centre: place, spot: spot.at}
			if cost := spot.cost(place); cost < least && !slices.ContainsFunc(list, b.disturbs) {
				best, found, least = b, true, cost
			}
		}
	}
	return best, found
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

// cost is what a leader from the spot to a place costs: its length, and more where
// its dot is crowded.
func (s sighting) cost(place picture.Point) float64 {
	return s.at.Distance(place) + crowded*math.Max(0, roomy-s.clear)
}

// shorten gives the balloons, the longest leader first, free places with shorter
// ones: what was refused for another's sake may be free by now.
func shorten(list []balloon, spots [][]sighting, places []picture.Point) []balloon {
	order := slices.Clone(list)
	slices.SortStableFunc(order, func(a, b balloon) int { return cmp.Compare(b.leader().Length(), a.leader().Length()) })
	for _, b := range order {
		i := slices.Index(list, b)
		others := slices.Delete(slices.Clone(list), i, i+1)
		if c, found := nearest(others, b.item, spots[b.item], places); found && c.leader().Length() < b.leader().Length()-worth {
			list[i] = c
		}
	}
	return list
}

// refused are leaders that may not be drawn: item, spot and place by index.
type refused map[[3]int]bool

// mostTrials bounds how often leaders are refused on one ring.
const mostTrials = 40

// fill finds balloons for items on a ring's places, for as many as it can.
func fill(items []int, spots [][]sighting, places []picture.Point) (most []balloon) {
	no := refused{}
	for range mostTrials {
		costs, best := no.costs(items, spots, places)
		match := assign(costs)
		var list []balloon
		for i, p := range match {
			list = append(list, balloon{item: items[i], centre: places[p], spot: spots[items[i]][best[i][p]].at})
		}
		clean := true
		for i, p := range match {
			if disturbed(list, i) || costs[i][p] >= forbidden {
				clean = false
				no[[3]int{i, best[i][p], p}] = true
			}
		}
		if clean {
			return list
		}
		if list = sound(list); len(list) > len(most) {
			most = list
		}
	}
	return most
}

// costs are the least cost of a leader from each item to each place, and the spot
// that it ends on.
func (no refused) costs(items []int, spots [][]sighting, places []picture.Point) (costs [][]float64, best [][]int) {
	costs, best = make([][]float64, len(items)), make([][]int, len(items))
	for i, item := range items {
		costs[i], best[i] = make([]float64, len(places)), make([]int, len(places))
		for p, place := range places {
			costs[i][p] = forbidden
			for s, spot := range spots[item] {
				cost := spot.cost(place)
				if cost < costs[i][p] && !no[[3]int{i, s, p}] {
					costs[i][p], best[i][p] = cost, s
				}
			}
		}
	}
	return costs, best
}

// disturbed reports whether a balloon's leader is in another's way: of two leaders
// that cross, the longer is.
func disturbed(list []balloon, i int) bool {
	me := list[i].leader()
	for j, other := range list {
		if j == i {
			continue
		}
		if other.touched(me) || crossing(me, other.leader()) && me.Length() >= other.leader().Length() {
			return true
		}
	}
	return false
}

// touched reports whether a line comes too near to a balloon's circle or dot.
func (b balloon) touched(l picture.Line) bool {
	return toSegment(b.centre, l) < balloonRadius+clearance || toSegment(b.spot, l) < dotRadius+clearance
}

// disturbs reports whether two balloons do not go together: a leader crosses or
// touches what belongs to the other.
func (b balloon) disturbs(other balloon) bool {
	me, you := b.leader(), other.leader()
	return other.touched(me) || b.touched(you) || crossing(me, you)
}

// sound leaves out balloons until the rest go together, those that disturb most
// first.
func sound(list []balloon) []balloon {
	pairs, count := make([][]bool, len(list)), make([]int, len(list)) // who disturbs whom, how many each
	for i := range list {
		pairs[i] = make([]bool, len(list))
		for j := range i {
			if list[i].disturbs(list[j]) {
				pairs[i][j], pairs[j][i] = true, true
				count[i]++
				count[j]++
			}
		}
	}
	out := make([]bool, len(list))
	for {
		worst, most := 0, 0
		for i, n := range count {
			if !out[i] && n > most {
				worst, most = i, n
			}
		}
		if most == 0 {
			break
		}
		out[worst] = true
		for j, disturbed := range pairs[worst] {
			if disturbed {
				count[j]--
			}
		}
	}
	var rest []balloon
	for i, b := range list {
		if !out[i] {
			rest = append(rest, b)
		}
	}
	return rest
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
