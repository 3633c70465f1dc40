package reckon

import "math"

// corner is what a node comes to with each of its inputs at that end that takes it
// furthest to a side, all at once. An input that does nothing alone may do something with
// the others, so both of its ends are tried.
func (w *web) corner(of int, side float64) (si float64, ok bool) {
	ways := map[int]float64{}
	var leaves, idle []int
	for _, e := range w.nodes[of].effects {
		ways[e.leaf] = e.worst(side)
		leaves = append(leaves, e.leaf)
		if e.low == 0 && e.high == 0 {
			idle = append(idle, e.leaf)
		}
	}
	list := w.between(leaves, []int{of})
	si = w.at(of, list, ways)
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
