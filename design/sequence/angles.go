package sequence

import (
	"math"
	"slices"
)

// full is one turn.
const full = 2 * math.Pi

// A sector is a span of angles about an axis, radians, from from to from+width,
// with from in 0..full.
type sector struct{ from, width float64 }

// angles are the directions about an axis that something takes, as sectors in any
// order.
type angles struct {
	taken []sector
	all   bool
}

// take adds a sector from one angle to another, the way that angles grow.
func (a *angles) take(from, to float64) {
	if to-from >= full {
		a.all = true
	}
	a.taken = append(a.taken, sector{turned(from), to - from})
}

// turned brings an angle into 0..full.
func turned(angle float64) float64 {
	angle = math.Mod(angle, full)
	if angle < 0 {
		angle += full
	}
	return angle
}

// free are the sectors that nothing takes, in order; one of a whole turn where
// nothing is taken.
func (a *angles) free() []sector {
	switch {
	case a.all:
		return nil
	case len(a.taken) == 0:
		return []sector{{0, full}}
	}
	list := slices.Clone(a.taken)
	slices.SortFunc(list, func(x, y sector) int {
		switch {
		case x.from < y.from:
			return -1
		case x.from > y.from:
			return 1
		}
		return 0
	})
	var out []sector
	end := list[0].from + list[0].width
	for _, s := range list[1:] {
		if s.from > end {
			out = append(out, sector{end, s.from - end})
		}
		end = math.Max(end, s.from+s.width)
	}
	if gap := list[0].from + full - end; gap > 0 {
		out = append(out, sector{turned(end), gap})
	}
	return out
}

// widest is the widest sector that nothing takes; 0 where all is taken.
func (a *angles) widest() float64 {
	most := 0.0
	for _, s := range a.free() {
		most = math.Max(most, s.width)
	}
	return most
}

// within reports whether some angle that b leaves free lies in a sector of at least
// the given width that a leaves free: a tool that swings through a's can be put on at
// b's.
func (a *angles) within(b *angles, width float64) bool {
	open := b.free()
	for _, s := range a.free() {
		if s.width < width {
			continue
		}
		for _, o := range open {
			if s.width >= full || o.width >= full || turned(o.from-s.from) <= s.width || turned(s.from-o.from) <= o.width {
				return true
			}
		}
	}
	return false
}
