package reckon

import (
	"maps"
	"math"
	"slices"
)

// corner is what a node comes to with each of its inputs at that end that takes it
// furthest to a side, all at once. An input that does nothing alone may do something with
// the others: beyond max(0, -gap) every input of the gap seems idle. So the ends are tried
// that take the values in between furthest, and then both ends of each.
func (w *web) corner(of int, side float64) (si float64, ok bool) {
	ways := map[int]float64{}
	var leaves, idle []int
	for _, e := range w.nodes[of].effects {
		ways[e.leaf] = e.worst(side)
		leaves = append(leaves, e.leaf)
		if e.idle() {
			idle = append(idle, e.leaf)
		}
	}
	list := w.between(leaves, []int{of})
	si = w.at(of, list, ways)
	if len(idle) > 0 {
		ways, si = w.within(of, side, list, idle, ways, si)
	}
	for _, leaf := range idle {
		if w.left <= 0 {
			break
		}
		ways[leaf] = -ways[leaf]
		if other := w.at(of, list, ways); side*other > side*si {
			si = other
		} else {
			ways[leaf] = -ways[leaf]
		}
	}
	return si, !math.IsNaN(si)
}

// mostWithin is how many values in between give their ends to try.
const mostWithin = 16

// within tries, for inputs that do nothing alone, the ends that take a value between
// them and the node furthest to either side, and keeps what takes the node furthest.
func (w *web) within(of int, side float64, list, idle []int, ways map[int]float64, si float64) (map[int]float64, float64) {
	tried := 0
	for _, at := range slices.Backward(list) {
		if at == of || len(w.nodes[at].effects) < 2 {
			continue
		}
		if tried++; tried > mostWithin || w.left <= 0 {
			break
		}
		for _, to := range []float64{-1, 1} {
			try := maps.Clone(ways)
			for _, e := range w.nodes[at].effects {
				if slices.Contains(idle, e.leaf) {
					try[e.leaf] = e.worst(to)
				}
			}
			if other := w.at(of, list, try); side*other > side*si {
				ways, si = try, other
			}
		}
	}
	return ways, si
}

// mostCorners is how many inputs may be tried in all combinations of their ends.
const mostCorners = 6

// corners are the least and the greatest that a node comes to in any combination of its
// inputs' ends; false for more inputs than can be tried, or where it has no value in one.
func (w *web) corners(of int) (least, greatest float64, ok bool) {
	n := w.nodes[of]
	if len(n.effects) > mostCorners {
		return 0, 0, false
	}
	var leaves []int
	for _, e := range n.effects {
		leaves = append(leaves, e.leaf)
	}
	list := w.between(leaves, []int{of})
	least, greatest = n.nominal, n.nominal
	ways := map[int]float64{}
	for combination := range 1 << len(leaves) {
		for i, leaf := range leaves {
			ways[leaf] = float64(combination>>i&1)*2 - 1
		}
		si := w.at(of, list, ways)
		if math.IsNaN(si) || w.left <= 0 {
			return 0, 0, false
		}
		least, greatest = min(least, si), max(greatest, si)
	}
	return least, greatest, true
}

// at is what a node comes to with inputs an own way to their ends.
func (w *web) at(of int, list []int, ways map[int]float64) float64 {
	for _, at := range list {
		w.again(at, ways[at])
	}
	si := w.vals[of]
	w.restore(list)
	return si
}
