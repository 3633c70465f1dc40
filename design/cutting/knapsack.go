package cutting

import "sort"

// A knapsack looks for the pattern of greatest value that a bar can give.
type knapsack struct {
	problem *Problem
	room    int64
	items   []item
	barred  map[string]bool // patterns that may not be found
	steps   int             // left before the search gives up

	counts []int // by piece, as it is tried
	nested []int // by nest, how many of its pieces are tried
	best   []int
	value  float64 // of best
	open   float64 // the most that what was not searched could be worth
}

// An item is a piece that is worth something.
type item struct {
	piece  int
	weight int64 // with its kerf
	value  float64
	most   int
}

// knapsackSteps is how many tries one search may take.
const knapsackSteps = 30_000

// stepCost is what a step of a knapsack takes beside one of a pivot.
const stepCost = 10

// fill returns the pattern worth more than above that is worth most, nil when there
// is none, and the most that any allowed pattern may be worth: above when nothing is
// worth more, unless the search had to give up.
func (s *search) fill(bar int, values []float64, demand []int, above float64, barred map[string]bool) (counts []int, most float64) {
	p := s.problem
	k := &knapsack{
		problem: p, room: p.room(p.Bars[bar]), barred: barred, steps: knapsackSteps,
		counts: make([]int, len(p.Pieces)), nested: make([]int, len(p.Nests)), value: above,
	}
	for i, piece := range p.Pieces {
		if values[i] > 0 && demand[i] > 0 && p.fits(p.Bars[bar], piece) {
			weight := piece.Length + p.Kerf
			k.items = append(k.items, item{piece: i, weight: weight, value: values[i], most: int(min(int64(demand[i]), k.room/weight))})
		}
	}
	sort.SliceStable(k.items, func(i, j int) bool {
		a, b := k.items[i], k.items[j]
		return a.value*float64(b.weight) > b.value*float64(a.weight)
	})
	left := p.Most
	if left == 0 {
		left = int(k.room) // a piece is no shorter than a micrometre
	}
	k.try(0, k.room, left, 0)
	s.tried += stepCost * (knapsackSteps - k.steps)
	if k.steps < 0 && len(barred) == 0 {
		if best, value, ok := k.table(left); ok {
			if value > above {
				return best, value
			}
			return nil, above
		}
	}
	if k.steps < 0 {
		return k.best, max(k.value, k.open)
	}
	return k.best, k.value
}

// try decides how many of the item at and of those after it.
func (k *knapsack) try(at int, room int64, left int, value float64) {
	if k.steps--; k.steps < 0 {
		k.open = max(k.open, value+k.hope(at, room, left))
		return
	}
	if at == len(k.items) || room <= 0 || left == 0 {
		if value > k.value && !k.barred[key(k.counts)] {
			k.value, k.best = value, append([]int(nil), k.counts...)
		}
		return
	}
	if value+k.hope(at, room, left) <= k.value {
		return
	}
	it := k.items[at]
	extra := int64(0)
	if nest := k.problem.Pieces[it.piece].Nest; nest > 0 && k.nested[nest-1] == 0 {
		extra = k.problem.Nests[nest-1]
	}
	most := min(int64(min(it.most, left)), max(0, room-extra)/it.weight)
	for n := int(most); n >= 0; n-- {
		rest := room - int64(n)*it.weight
		if n > 0 {
			rest -= extra
		}
		k.take(it.piece, n)
		k.try(at+1, rest, left-n, value+float64(n)*it.value)
		k.take(it.piece, -n)
	}
}

func (k *knapsack) take(piece, n int) {
	k.counts[piece] += n
	if nest := k.problem.Pieces[piece].Nest; nest > 0 {
		k.nested[nest-1] += n
	}
}

// hope is the most that the items from at on can add: the best of them cut to fill
// the room to the end, or so many of the dearest as may still be taken.
func (k *knapsack) hope(at int, room int64, left int) float64 {
	sum, dearest := 0.0, 0.0
	full := false
	for _, it := range k.items[at:] {
		dearest = max(dearest, it.value)
		if full {
			continue
		}
		whole := int64(it.most)
		if whole*it.weight >= room {
			sum += it.value * float64(room) / float64(it.weight)
			full = true
			continue
		}
		sum += float64(whole) * it.value
		room -= whole * it.weight
	}
	return min(sum, dearest*float64(left))
}

// A lot is an item in so many pieces; lots of 1, 2, 4 ... make any number.
type lot struct{ item, n int }

// tableCells bounds the table below.
const tableCells = 20_000_000

// table finds the best pattern of at most so many pieces by a table over the room in
// steps of the pieces' common measure. It serves where a search would take too long,
// if the measure is coarse enough.
func (k *knapsack) table(most int) (counts []int, value float64, ok bool) {
	if len(k.problem.Nests) > 0 || len(k.items) == 0 {
		return nil, 0, false
	}
	measure, least := int64(0), k.items[0].weight
	var lots []lot
	for i, it := range k.items {
		measure, least = gcd(measure, it.weight), min(least, it.weight)
		for n, left := 1, it.most; left > 0; n *= 2 {
			n = min(n, left)
			lots = append(lots, lot{i, n})
			left -= n
		}
	}
	layers := 1 // of the table, by how many pieces are taken; one where any number may be
	if int64(most) < k.room/least {
		layers = most + 1
	}
	width := k.room/measure + 1
	if width > tableCells || width*int64(len(lots)*layers) > tableCells {
		return nil, 0, false
	}
	counts, value = k.fillTable(lots, measure, int(width), layers)
	return counts, value, true
}

func (k *knapsack) fillTable(lots []lot, measure int64, width, layers int) (counts []int, value float64) {
	best := make([]float64, width*layers)
	taken := make([]bool, width*layers*len(lots))
	// shift is how far in the table a lot leads: its room, and its pieces where they count.
	shift := func(l lot) (room, pieces int) {
		if layers > 1 {
			pieces = l.n
		}
		return int(k.items[l.item].weight/measure) * l.n, pieces
	}
	for i, l := range lots {
		room, pieces := shift(l)
		worth := k.items[l.item].value * float64(l.n)
		for layer := layers - 1; layer >= pieces; layer-- {
			for at := width - 1; at >= room; at-- {
				cell := layer*width + at
				if v := best[cell-pieces*width-room] + worth; v > best[cell] {
					best[cell], taken[i*width*layers+cell] = v, true
				}
			}
		}
	}
	counts = make([]int, len(k.problem.Pieces))
	cell := width*layers - 1
	value = best[cell]
	for i := len(lots) - 1; i >= 0; i-- {
		if taken[i*width*layers+cell] {
			room, pieces := shift(lots[i])
			counts[k.items[lots[i].item].piece] += lots[i].n
			cell -= pieces*width + room
		}
	}
	return counts, value
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// key tells patterns apart.
func key(counts []int) string {
	b := make([]byte, 0, 4*len(counts))
	for _, n := range counts {
		b = append(b, byte(n), byte(n>>8), byte(n>>16), byte(n>>24))
	}
	return string(b)
}
