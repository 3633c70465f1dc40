package basket

import (
	"cmp"
	"encoding/binary"
	"slices"
)

// Bounds of the states that stand side by side, and of the steps from one item to the
// next.
const (
	mostStates = 20_000
	fewStates  = 20
	mostSteps  = 300_000
)

// A state is what has been spent once some items are decided.
type state struct {
	spent []int64 // at the suppliers whose orders have a floor
	rest  int64   // elsewhere
	from  int     // the state before, in its layer
	pick  int     // the option of this layer's item
	bound int64
}

// A leaf is the search where all about the suppliers is decided: which options cost
// least, where each order costs its floor at least.
type leaf struct {
	*search
	floored []int   // suppliers, ascending
	floors  []int64 // of theirs
	fixed   int64
	picks   []option // of every good
	order   []int    // goods with more than one option, the costliest first
	options [][]option
	bounds  [][]int64 // ways to bound what is left: quarters by supplier
	after   [][]int64 // by way and place in the order: what the goods from there on cost at least, in quarters
}

// leaf goes through the items one by one, state by state. Whatever it leaves out
// costs no less than the bound that it notes.
func (s *search) leaf(bound int64, k []int64) {
	l := &leaf{search: s, picks: make([]option, len(s.goods))}
	for i := range s.suppliers {
		l.fixed += s.fixed(i)
		if f := s.floor(i); f > 0 {
			l.floored, l.floors = append(l.floored, i), append(l.floors, f)
		}
	}
	lists := l.lists()
	for len(l.drop(lists)) > 0 {
		lists = l.lists()
	}
	start := state{spent: make([]int64, len(l.floored))}
	for i, options := range lists {
		if !options.whole {
			s.unsearched = min(s.unsearched, bound)
		}
		switch len(options.list) {
		case 0:
			return
		case 1:
			l.picks[i] = options.list[0]
			start = l.with(start, options.list[0])
			continue
		}
		l.order, l.options = append(l.order, i), append(l.options, options.list)
	}
	if len(l.order) == 0 {
		s.offer(l.picks)
		return
	}
	l.prepare(k)
	l.layers(start)
}

func (l *leaf) lists() []optionList {
	lists := make([]optionList, len(l.goods))
	for i, g := range l.goods {
		lists[i] = l.optionsOf(g, l.floored)
	}
	return lists
}

// drop takes the floors away that any choice of options reaches.
func (l *leaf) drop(lists []optionList) (dropped []int) {
	var floored []int
	var floors []int64
	for f, supplier := range l.floored {
		sum := int64(0)
		for _, options := range lists {
			sum += leastAt(options, supplier)
		}
		if sum >= l.floors[f] {
			dropped = append(dropped, supplier)
			continue
		}
		floored, floors = append(floored, supplier), append(floors, l.floors[f])
	}
	l.floored, l.floors = floored, floors
	return dropped
}

// leastAt is what is spent at a supplier whichever option is taken.
func leastAt(options optionList, supplier int) int64 {
	least := int64(-1)
	for _, o := range options.list {
		here := int64(0)
		for _, p := range o.spent {
			if p.supplier == supplier {
				here = p.amount
			}
		}
		if least < 0 || here < least {
			least = here
		}
	}
	if !options.whole {
		return 0
	}
	return max(0, least)
}

// with is a state with an item bought by an option.
func (l *leaf) with(st state, o option) state {
	out := state{spent: slices.Clone(st.spent), rest: st.rest}
	for _, p := range o.spent {
		if at, floored := slices.BinarySearch(l.floored, p.supplier); floored {
			out.spent[at] += p.amount
		} else {
			out.rest += p.amount
		}
	}
	return out
}

// prepare sorts the items and bounds what each rest of them costs.
func (l *leaf) prepare(k []int64) {
	weight := func(n int) int64 {
		sum := int64(0)
		for _, p := range l.options[n][0].spent {
			sum += p.amount
		}
		return sum
	}
	by := make([]int, len(l.order))
	for i := range by {
		by[i] = i
	}
	slices.SortStableFunc(by, func(a, b int) int { return cmp.Compare(weight(b), weight(a)) })
	order, options := make([]int, len(by)), make([][]option, len(by))
	for i, n := range by {
		order[i], options[i] = l.order[n], l.options[n]
	}
	l.order, l.options = order, options
	some, all := make([]int64, len(k)), make([]int64, len(k))
	for _, supplier := range l.floored {
		some[supplier], all[supplier] = k[supplier], 4
	}
	l.bounds = [][]int64{some, make([]int64, len(k)), all}
	for _, quarters := range l.bounds {
		after := make([]int64, len(l.order)+1)
		for n := len(l.order) - 1; n >= 0; n-- {
			least := int64(-1)
			for _, o := range l.options[n] {
				sum := int64(0)
				for _, p := range o.spent {
					sum += (4 - quarters[p.supplier]) * p.amount
				}
				if least < 0 || sum < least {
					least = sum
				}
			}
			after[n] = after[n+1] + least
		}
		l.after = append(l.after, after)
	}
}

// bounded is what a state comes to at least once the items from n on are bought.
func (l *leaf) bounded(st state, n int) int64 {
	best := int64(0)
	for i, quarters := range l.bounds {
		sum := l.after[i][n] + 4*st.rest
		for f, supplier := range l.floored {
			sum += quarters[supplier]*max(l.floors[f], st.spent[f]) + (4-quarters[supplier])*st.spent[f]
		}
		best = max(best, (sum+3)/4)
	}
	return l.fixed + best
}

// layers takes every state from item to item. States with the same amounts below the
// floors differ in what lies above alone.
func (l *leaf) layers(start state) {
	layers := [][]state{{start}}
	for n := range l.order {
		layers[n] = l.trimmed(layers[n], len(l.options[n]))
		var next []state
		at := map[string]int{}
		for from, st := range layers[n] {
			for pick, o := range l.options[n] {
				to := l.with(st, o)
				to.from, to.pick, to.bound = from, pick, l.bounded(to, n+1)
				if l.work++; to.bound >= l.best {
					continue
				}
				key := l.key(to)
				if i, known := at[key]; !known {
					at[key] = len(next)
					next = append(next, to)
				} else if l.above(to) < l.above(next[i]) {
					next[i] = to
				}
			}
		}
		layers = append(layers, next)
	}
	last := layers[len(l.order)]
	if len(last) == 0 {
		return
	}
	end := 0
	for i, st := range last {
		if st.bound < last[end].bound {
			end = i
		}
	}
	for n := len(l.order) - 1; n >= 0; n-- {
		l.picks[l.order[n]] = l.options[n][layers[n+1][end].pick]
		end = layers[n+1][end].from
	}
	l.offer(l.picks)
}

// key tells states apart by what was spent below the floors.
func (l *leaf) key(st state) string {
	var b []byte
	for f, spent := range st.spent {
		b = binary.BigEndian.AppendUint64(b, uint64(min(spent, l.floors[f])))
	}
	return string(b)
}

// above is what was spent beyond the floors.
func (l *leaf) above(st state) int64 {
	sum := st.rest
	for f, spent := range st.spent {
		sum += max(0, spent-l.floors[f])
	}
	return sum
}

// trimmed keeps the most promising states where they are too many for so many options
// each, or where the work runs out.
func (l *leaf) trimmed(states []state, options int) []state {
	most := max(fewStates, min(mostStates, mostSteps/options))
	if l.work > mostWork {
		most = fewStates
	}
	if len(states) <= most {
		return states
	}
	slices.SortStableFunc(states, func(a, b state) int { return cmp.Compare(a.bound, b.bound) })
	l.unsearched = min(l.unsearched, states[most].bound)
	return states[:most]
}
