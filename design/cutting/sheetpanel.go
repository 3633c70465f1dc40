package cutting

import (
	"slices"
	"sort"
)

// A Panel is a sheet or a part of it as a saw leaves it. Cuts at right angles to its
// axis divide it into parts, the largest first and equal ones together; or it is a
// finished piece, or what is left over. Lengths are micrometres.
type Panel struct {
	At, Size [2]int64
	Rect     int // index in the problem's rectangles of a finished piece; -1
	Turned   bool
	Axis     int // along which the parts lie
	Parts    []Panel
	Rest     bool // left over
}

// label turns the boxes of a plan into layouts of the rectangles as given, most
// costly sheets first in the order of the problem.
func (s *sheeting) label(p SheetProblem, unlaid []int) []Layout {
	left := make([]int, len(p.Rects))
	for i, r := range p.Rects {
		if left[i] = max(0, r.Count); unlaid != nil {
			left[i] -= unlaid[i]
		}
	}
	sheets := slices.Clone(s.best.sheets)
	sort.SliceStable(sheets, func(i, j int) bool {
		if a, b := sheets[i].sheet, sheets[j].sheet; a != b {
			return a < b
		}
		return sheets[i].used > sheets[j].used
	})
	var out []Layout
	for _, f := range sheets {
		tree, sawable := divide(area{size: s.rooms[f.sheet]}, f.boxes)
		for range f.times {
			l := s.laid(p, f, tree, sawable, left)
			if last := len(out) - 1; last >= 0 && out[last].Sheet == l.Sheet && slices.Equal(out[last].Places, l.Places) {
				out[last].Times++
				continue
			}
			out = append(out, l)
		}
	}
	return out
}

// laid is one sheet with the next of the rectangles that are left.
func (s *sheeting) laid(p SheetProblem, f filled, tree division, sawable bool, left []int) Layout {
	l := Layout{Sheet: f.sheet, Times: 1}
	place := func(b box) Place {
		rect := 0
		for _, i := range s.kinds[b.kind].of {
			if rect = i; left[i] > 0 {
				break
			}
		}
		left[rect]--
		pl := Place{Rect: rect}
		for axis := range 2 {
			pl.At[axis], pl.Size[axis] = p.Trim+b.at[axis], b.size[axis]-p.Kerf
		}
		pl.Turned = pl.Size != p.Rects[rect].Size
		l.Places = append(l.Places, pl)
		return pl
	}
	if sawable {
		panel := tree.panel([2]int64{}, p, place)
		l.Panel = &panel
		panel.rests(&l.Rests)
	} else {
		open := []area{{size: s.rooms[f.sheet]}}
		for _, b := range f.boxes {
			place(b)
			open = s.without(open, b)
		}
		for _, a := range open {
			if r := (Place{Rect: rest, At: [2]int64{p.Trim + a.at[0], p.Trim + a.at[1]}, Size: [2]int64{a.size[0] - p.Kerf, a.size[1] - p.Kerf}}); r.Size[0] > 0 && r.Size[1] > 0 {
				l.Rests = append(l.Rests, r)
			}
		}
	}
	sort.SliceStable(l.Rests, func(i, j int) bool {
		a, b := l.Rests[i].Size, l.Rests[j].Size
		return a[0]*a[1] > b[0]*b[1]
	})
	if !sawable && len(l.Rests) > 1 {
		l.Rests = l.Rests[:1] // the others overlap it
	}
	return l
}

// rests collects what is left over.
func (p *Panel) rests(out *[]Place) {
	if p.Rest && p.Size[0] > 0 && p.Size[1] > 0 {
		*out = append(*out, Place{Rect: rest, At: p.At, Size: p.Size})
	}
	for i := range p.Parts {
		p.Parts[i].rests(out)
	}
}

// A division is an area and the boxes in it parted by cuts from edge to edge.
type division struct {
	size  [2]int64
	axis  int
	parts []division
	box   *box // a piece that fills the area
}

// divide finds cuts from edge to edge that part the boxes; false where there are
// none. What reaches beyond all boxes is cut off first, in as large a piece as can
// be; then of both axes the one with more parts is cut, of equal ones that which
// makes strips along the sheet.
func divide(a area, boxes []box) (division, bool) {
	d := division{size: a.size}
	if len(boxes) == 0 {
		return d, true
	}
	if len(boxes) == 1 && boxes[0].size == a.size {
		d.box = &boxes[0]
		return d, true
	}
	strips := [2][][]box{between(boxes, 0), between(boxes, 1)}
	over := [2]int64{(a.size[0] - extent(boxes, 0)) * a.size[1], (a.size[1] - extent(boxes, 1)) * a.size[0]}
	switch d.axis = 1; {
	case over != [2]int64{}:
		if over[0] > over[1] {
			d.axis = 0
		}
		if over[1-d.axis] > 0 { // a rest along either side: this one in one piece first
			strips[d.axis] = [][]box{boxes}
		}
	case len(strips[0]) > len(strips[1]):
		d.axis = 0
	}
	if len(strips[d.axis]) == 1 && over[d.axis] == 0 {
		return d, false
	}
	left := a.size[d.axis]
	for _, strip := range strips[d.axis] {
		part := a
		part.size[d.axis] = extent(strip, d.axis)
		inner, ok := divide(part, strip)
		if !ok {
			return d, false
		}
		d.parts = append(d.parts, inner)
		left -= part.size[d.axis]
	}
	sort.SliceStable(d.parts, func(i, j int) bool { return d.parts[i].size[d.axis] > d.parts[j].size[d.axis] })
	if left > 0 {
		rest := division{size: a.size}
		rest.size[d.axis] = left
		d.parts = append(d.parts, rest)
	}
	return d, true
}

// between groups boxes that no line at right angles to an axis parts.
func between(boxes []box, axis int) [][]box {
	sorted := slices.Clone(boxes)
	sort.SliceStable(sorted, func(i, j int) bool { return sorted[i].at[axis] < sorted[j].at[axis] })
	var out [][]box
	var end int64
	for i, b := range sorted {
		if i == 0 || b.at[axis] >= end {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], b)
		end = max(end, b.at[axis]+b.size[axis])
	}
	return out
}

// extent is how far boxes reach from the first to the last along an axis.
func extent(boxes []box, axis int) int64 {
	low, high := boxes[0].at[axis], int64(0)
	for _, b := range boxes {
		low, high = min(low, b.at[axis]), max(high, b.at[axis]+b.size[axis])
	}
	return high - low
}

// panel puts a division to its place, without the kerf that areas were grown by.
func (d division) panel(at [2]int64, p SheetProblem, place func(box) Place) Panel {
	out := Panel{Rect: rest, Axis: d.axis}
	for axis := range 2 {
		out.At[axis], out.Size[axis] = p.Trim+at[axis], max(0, d.size[axis]-p.Kerf)
	}
	if d.box != nil {
		b := *d.box
		b.at = at
		pl := place(b)
		out.Rect, out.Turned = pl.Rect, pl.Turned
		return out
	}
	out.Rest = len(d.parts) == 0
	for _, part := range d.parts {
		out.Parts = append(out.Parts, part.panel(at, p, place))
		at[d.axis] += part.size[d.axis]
	}
	return out
}
