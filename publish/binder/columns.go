package binder

import (
	"math"

	"plansheaf/publish/page"
)

// measured rows: a long table's columns are measured by this many rows, spread
// evenly over it, so that the work stays in proportion.
const measuredRows = 150

// measure settles the widths of the columns and, for crowded tables, a smaller
// type size.
func (s *tableSetter) measure(t tablePanel) {
	room := s.col.width - s.ticks
	if s.shares(room) {
		return
	}
	for _, size := range []float64{s.size, s.size - 0.6, s.size - 1.2} {
		s.size = size
		whole, least, rows := s.natural(t)
		if sum(least) <= room || size <= tableSize-1.2 {
			s.widths = distribute(whole, least, rows, room)
			return
		}
	}
	whole, least, rows := s.natural(t)
	s.widths = distribute(whole, least, rows, room)
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
// only the longest unbreakable part of each, paddings included; and the width of
// each cell of the measured rows on one line.
func (s *tableSetter) natural(t tablePanel) (whole, least []float64, rows [][]float64) {
	whole, least = make([]float64, len(s.cols)), make([]float64, len(s.cols))
	take := func(i int, words []page.Inline, st style) float64 {
		w, l := s.composer.natural(s.runs(words, st, false))
		w, l = w+2*cellPad+0.2, l+2*cellPad+0.2
		whole[i], least[i] = max(whole[i], w), max(least[i], l)
		return w
	}
	for i, c := range s.cols {
		take(i, c.Head, style{bold, s.size * 0.94, ink})
	}
	step := max(1, len(t.rows)/measuredRows)
	for n := 0; n < len(t.rows); n += step {
		if r := t.rows[n]; !r.Section {
			cells := make([]float64, len(s.cols))
			for i := range min(len(s.cols), len(r.Cells)) {
				cells[i] = take(i, r.Cells[i].Words, style{regular, s.size, ink})
			}
			rows = append(rows, cells)
		}
	}
	for _, r := range t.foot {
		for i := range min(len(s.cols), len(r.Cells)) {
			if !r.Section {
				take(i, r.Cells[i].Words, style{bold, s.size, ink})
			}
		}
	}
	return whole, least, rows
}

// distribute gives columns their widths: all they want if there is room, else
// what each needs at least, and the rest where it makes the rows lowest. A table
// that wants little is not stretched beyond comfort.
func distribute(whole, least []float64, rows [][]float64, room float64) []float64 {
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
		copy(widths, least)
		lower(widths, whole, rows, room-needed)
	default:
		// Some words must be broken: the widest columns give first.
		limit := leveled(least, room)
		for i := range widths {
			widths[i] = min(least[i], limit)
		}
	}
	return widths
}

// lower gives spare room in small portions, each to the column whose widening
// makes the rows lowest, none more than it wants.
func lower(widths, whole []float64, rows [][]float64, spare float64) {
	const portions = 48
	portion := spare / portions
	lines := make([]float64, len(rows)) // per row, of all columns
	for r, cells := range rows {
		for i, cell := range cells {
			lines[r] += crowd(cell, widths[i])
		}
	}
	for range portions {
		best, gain := -1, 0.0
		for i := range widths {
			if widths[i] >= whole[i]-tolerance {
				continue
			}
			saved := 0.0
			for r, cells := range rows {
				before := crowd(cells[i], widths[i])
				if before > 1 {
					now := lines[r] - before + crowd(cells[i], widths[i]+portion)
					saved += math.Sqrt(math.Sqrt(lines[r])) - math.Sqrt(math.Sqrt(now))
				}
			}
			// A head alone may want room where no row does.
			if saved += 1e-9 * (whole[i] - widths[i]); saved > gain {
				best, gain = i, saved
			}
		}
		if best < 0 {
			return
		}
		for r, cells := range rows {
			lines[r] += crowd(cells[best], widths[best]+portion) - crowd(cells[best], widths[best])
		}
		widths[best] += portion
	}
}

// crowd is the fourth power of how many lines a cell takes about: the root of
// the sum over a row's cells is nearly the largest, which is the row's height,
// but still falls when another cell is relieved.
func crowd(cell, width float64) float64 {
	n := max(1, cell/width)
	return n * n * n * n
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
