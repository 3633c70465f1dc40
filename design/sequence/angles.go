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
	cover *cover // nil where nobody asks what is taken before all is known
}

// take adds a sector from one angle to another, the way that angles grow.
func (a *angles) take(from, to float64) {
	if to-from >= full {
		a.all = true
	}
	one := sector{turned(from), to - from}
	a.taken = append(a.taken, one)
	if a.cover != nil && a.cover.add(one) {
		a.all = true
	}
}

// coverParts is how many equal parts of a turn a cover tells apart.
const coverParts = 256

// A cover notes which of the equal parts of a turn are taken whole.
type cover struct {
	has  [coverParts]bool
	left int // parts that are not
}

func newCover() *cover { return &cover{left: coverParts} }

// add notes a sector; it reports whether all parts are taken now.
func (c *cover) add(s sector) (all bool) {
	const part = full / coverParts
	first, last := int(math.Ceil(s.from/part)), int(math.Floor((s.from+s.width)/part))
	for k := first; k < last && k < first+coverParts; k++ {
		if at := k % coverParts; !c.has[at] {
			c.has[at] = true
			c.left--
		}
	}
	return c.left == 0
}

// holds reports whether all of a sector is taken by whole parts.
func (c *cover) holds(from, width float64) bool {
	const part = full / coverParts
	if c.left == coverParts || width >= full {
		return c.left == 0
	}
	from = turned(from)
	last := int(math.Floor((from + width) / part))
	for k := int(from / part); k <= last; k++ {
		if !c.has[k%coverParts] {
			return false
		}
	}
	return true
}

// turned brings an angle into 0..full.
func turned(angle float64) float64 {
	angle = math.Mod(angle, full)
	if angle < 0 {
		angle += full
	}
	return angle
}

// sliver (rad) is what rounding may leave between two angles that meet: nothing fits
// through it.
const sliver = 1e-9

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
	for _, s := range list { // one that runs past the turn's end also takes its beginning
		end = math.Max(end, s.from+s.width-full)
	}
	for _, s := range list[1:] {
		if s.from > end+sliver {
			out = append(out, sector{end, s.from - end})
		}
		end = math.Max(end, s.from+s.width)
	}
	if gap := list[0].from + full - end; gap > sliver {
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
