package binder

import (
	"math"

	"plansheaf/publish/page"
)

// measured rows: a long table's columns are measured by this many rows, spread
// evenly over it, so that the work stays in proportion.
const measuredRows = 400

// measure settles the widths of the columns and, for crowded tables, a smaller
// type size.
func (s *tableSetter) measure(t tablePanel) {
	room := s.col.width - s.ticks
	if s.shares(room) {
		return
	}
	for _, size := range []float64{s.size, s.size - 0.6, s.size - 1.2} {
		s.size = size
		whole, least := s.natural(t)
		if sum(least) <= room || size <= tableSize-1.2 {
			s.widths = distribute(whole, least, room)
			return
		}
	}
	whole, least := s.natural(t)
	s.widths = distribute(whole, least, room)
}

// shares takes the widths that the document gives, if it gives any.
func (s *tableSetter) shares(room float64) bool {
	total := 0.0
	for _, c := range s.cols {
		if c.Width < 0 || math.IsNaN(c.Width) || math.IsInf(c.Width, 0) {
			return false
		}
		total += c.Width
	}
	if !(total > 0) || math.IsInf(total, 0) {
		return false
	}
	widths := make([]float64, len(s.cols))
	for i, c := range s.cols {
		widths[i] = room * c.Width / total
		if widths[i] < leastColumn/2 {
			return false
		}
	}
	s.widths = widths
	return true
}

// natural is how wide each column would be with each cell on one line, and with
// only the longest unbreakable part of each, paddings included.
func (s *tableSetter) natural(t tablePanel) (whole, least []float64) {
	whole, least = make([]float64, len(s.cols)), make([]float64, len(s.cols))
	take := func(i int, words []page.Inline, st style) {
		w, l := s.composer.natural(s.runs(words, st, false))
		whole[i], least[i] = max(whole[i], w+2*cellPad+0.2), max(least[i], l+2*cellPad+0.2)
	}
	for i, c := range s.cols {
		take(i, c.Head, style{bold, s.size * 0.94, ink})
	}
	step := max(1, len(t.rows)/measuredRows)
	for n := 0; n < len(t.rows); n += step {
		if r := t.rows[n]; !r.Section {
			for i := range min(len(s.cols), len(r.Cells)) {
				take(i, r.Cells[i].Words, style{regular, s.size, ink})
			}
		}
	}
	for _, r := range t.foot {
		for i := range min(len(s.cols), len(r.Cells)) {
			if !r.Section {
				take(i, r.Cells[i].Words, style{bold, s.size, ink})
			}
		}
	}
	return whole, least
}

// distribute gives columns their widths: all they want if there is room, else
// what each needs at least and a share of the rest by how much more it wants.
// A table that wants little is not stretched beyond comfort.
func distribute(whole, least []float64, room float64) []float64 {
	widths := make([]float64, len(whole))
	switch wanted, needed := sum(whole), sum(least); {
	case wanted <= room:
		// Air between the columns: up to the full width unless that were mostly air.
		extra := room - wanted
		if wanted < room*0.5 {
			extra = min(extra, 9*float64(len(whole)))
		}
		for i := range widths {
			widths[i] = whole[i] + extra/float64(len(whole))
		}
	case needed <= room:
		// Square roots, so that one very long column leaves something to others.
		weights := make([]float64, len(whole))
		for i := range weights {
			weights[i] = math.Sqrt(max(0, whole[i]-least[i]))
		}
		fill(widths, whole, least, weights, room-needed)
	default:
		// Some words must be broken: the widest columns give first.
		limit := leveled(least, room)
		for i := range widths {
			widths[i] = min(least[i], limit)
		}
	}
	return widths
}

// fill shares spare room by weights, giving no column more than it wants.
func fill(widths, whole, least, weights []float64, spare float64) {
	copy(widths, least)
	for range len(widths) {
		total := 0.0
		for i := range widths {
			if widths[i] < whole[i]-tolerance {
				total += weights[i]
			}
		}
		if total <= 0 || spare <= tolerance {
			return
		}
		given := 0.0
		for i := range widths {
			if widths[i] < whole[i]-tolerance {
				more := min(spare*weights[i]/total, whole[i]-widths[i])
				widths[i], given = widths[i]+more, given+more
			}
		}
		spare -= given
	}
}

// leveled is the greatest width that columns may have so that all fit into room,
// the narrow ones keeping theirs.
func leveled(least []float64, room float64) float64 {
	low, high := 0.0, room
	for range 60 {
		mid, total := (low+high)/2, 0.0
		for _, w := range least {
			total += min(w, mid)
		}
		if total > room {
			high = mid
		} else {
			low = mid
		}
	}
	return low
}

func sum(values []float64) float64 {
	total := 0.0
	for _, v := range values {
		total += v
	}
	return total
}
