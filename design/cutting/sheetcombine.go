package cutting

import (
	"fmt"
	"slices"
)

// A blend is pieces sawn from one rectangle: a single one, or two blends side by
// side or one over the other.
type blend struct {
	size   [2]int64
	used   int64 // area of the pieces
	counts []uint8
	axis   int // along which its two halves lie
	halves [2]int
	kind   int // of a single piece, with halves not in use
	single bool
}

const (
	mostBlends = 1200 // of one sheet
	mostEach   = 200  // pieces of a kind that a blend may hold
)

// combine builds rectangles of pieces upwards, joining two at a time as long as next
// to nothing between them is wasted, and lays the one that fills the sheet best; none
// where that is not better than four fifths. At first nothing may be wasted, then a
// little more each time.
// Source: Wang, Two algorithms for constrained two-dimensional cutting stock
// problems, Operations Research 31 (1983).
//
// The same is asked for again in other manners, whose rules beyond the order of kinds do
// not count here: what it came to is kept, and its work counted anew each time.
func (s *sheeting) combine(room [2]int64, left []int, m manner) []box {
	key := fmt.Sprint(room, left, m.order)
	known, found := s.combined[key]
	if !found {
		before := s.work
		known = combination{boxes: s.combineAnew(room, left, m), work: s.work - before}
		s.work = before
		if s.combined == nil {
			s.combined = map[string]combination{}
		}
		if len(s.combined) < mostCombined {
			s.combined[key] = known
		}
	}
	s.work += known.work
	for _, b := range known.boxes {
		left[b.kind]--
	}
	return slices.Clone(known.boxes)
}

// A combination is what combine came to, and the work of it.
type combination struct {
	boxes []box
	work  int
}

// mostCombined is how many combinations are kept.
const mostCombined = 2000

func (s *sheeting) combineAnew(room [2]int64, left []int, m manner) []box {
	whole := room[0] * room[1]
	var best []blend
	top, most := -1, int64(0)
	for _, waste := range []int64{0, whole / 400, whole / 100, whole / 30} {
		blends := s.blends(room, left, m, waste)
		for i, b := range blends {
			if b.used > most {
				best, top, most = blends, i, b.used
			}
		}
		if most == whole || most == s.areaOf(left) {
			break
		}
	}
	if top < 0 || most < whole/5*4 && most < s.areaOf(left) {
		return nil
	}
	var boxes []box
	layBlend(best, top, [2]int64{}, &boxes)
	return boxes
}

func (s *sheeting) areaOf(counts []int) int64 {
	var sum int64
	for k, n := range counts {
		sum += s.kinds[k].area() * int64(n)
	}
	return sum
}

// blends are all that fit a room with no more waste than is allowed, as far as there
// is space for them.
func (s *sheeting) blends(room [2]int64, left []int, m manner, waste int64) []blend {
	var out []blend
	for _, k := range m.order {
		if left[k] == 0 {
			continue
		}
		for _, way := range s.kinds[k].ways() {
			if way[0] <= room[0] && way[1] <= room[1] {
				counts := make([]uint8, len(s.kinds))
				counts[k] = 1
				out = append(out, blend{size: way, used: way[0] * way[1], counts: counts, kind: k, single: true})
			}
		}
	}
	type mark struct {
		size [2]int64
		used string
	}
	seen := map[mark]bool{}
	for i := 0; i < len(out) && len(out) < mostBlends; i++ {
		for j := 0; j <= i && len(out) < mostBlends; j++ {
			s.work++
			a, b := &out[i], &out[j]
			for axis := range 2 {
				size := [2]int64{max(a.size[0], b.size[0]), max(a.size[1], b.size[1])}
				size[axis] = a.size[axis] + b.size[axis]
				used := a.used + b.used
				if size[axis] > room[axis] || size[0]*size[1]-used > waste || !s.together(a.counts, b.counts, left) {
					continue
				}
				counts := slices.Clone(a.counts)
				for k, n := range b.counts {
					counts[k] += n
				}
				if key := (mark{size, string(counts)}); !seen[key] {
					seen[key] = true
					out = append(out, blend{size: size, used: used, counts: counts, axis: axis, halves: [2]int{i, j}})
				}
			}
		}
	}
	return out
}

// together reports whether there are pieces enough for both.
func (s *sheeting) together(a, b []uint8, left []int) bool {
	for k := range a {
		if n := int(a[k]) + int(b[k]); n > min(left[k], mostEach) {
			return false
		}
	}
	return true
}

func layBlend(blends []blend, i int, at [2]int64, boxes *[]box) {
	b := blends[i]
	if b.single {
		*boxes = append(*boxes, box{b.kind, at, b.size})
		return
	}
	layBlend(blends, b.halves[0], at, boxes)
	at[b.axis] += blends[b.halves[0]].size[b.axis]
	layBlend(blends, b.halves[1], at, boxes)
}
