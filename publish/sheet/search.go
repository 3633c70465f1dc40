package sheet

import (
	"fmt"
	"slices"
	"strings"
)

// bestLayout finds the sheet: what the request fixes of paper and scale is kept
// when that can be; else it is a fault, and the scale, then the paper too, is
// chosen instead.
func bestLayout(r *Request, p *part, s *scheme, panes []pane, fault func(Fault)) *layout {
	freePapers, freeScales := papers(r.Family), p.scales(s.crowding())
	tryPapers, tryScales := freePapers, freeScales
	if r.Sheet != "" {
		if asked, err := parsePaper(r.Sheet); err == nil {
			tryPapers = []paper{asked}
		} else {
			fault(Fault{"sheet", -1, err.Error(), "A4 to A0, letter, legal or ANSI B to E, with portrait or landscape"})
		}
	}
	if r.Scale != "" {
		if asked, err := parseScale(r.Scale); err == nil {
			tryScales = []scale{asked}
		} else {
			fault(Fault{"scale", -1, err.Error(), "1:1, 1:2, 1:5, 1:10 ..., 2:1, 5:1, 10:1"})
		}
	}
	if l := search(r, p, s, panes, tryPapers, tryScales); l != nil {
		return l
	}
	l := search(r, p, s, panes, tryPapers, freeScales)
	if l == nil {
		l = search(r, p, s, panes, freePapers, freeScales)
	}
	asked := strings.TrimSpace(tryPapers[len(tryPapers)-1].name + " at " + tryScales[len(tryScales)-1].name)
	if l != nil {
		fault(Fault{"sheet", -1, fmt.Sprintf("the part does not fit %s with its dimensions clear of each other; drawn on %s at %s", asked, l.paper.name, l.scale.name),
			"choose a larger sheet or a smaller scale, or leave both to be chosen"})
		return l
	}
	l = newLayout(r, p, s, panes, freePapers[len(freePapers)-1], freeScales[len(freeScales)-1])
	l.forced = true
	l.arrange()
	l.paint()
	fault(Fault{"sheet", -1, "the part's dimensions find no room on any sheet; some are left out",
		"give the drawing a file of its own with the views and dimensions that matter"})
	return l
}

// search finds the best sheet for the views as they stand, or with their sections
// moved beside the main view; nil for none.
func search(r *Request, p *part, s *scheme, panes []pane, tryPapers []paper, tryScales []scale) *layout {
	best := searchOne(r, p, s, panes, tryPapers, tryScales)
	if beside, moved := sectionsBeside(panes); moved {
		if l := searchOne(r, p, s, beside, tryPapers, tryScales); l != nil && (best == nil || l.beats(best)) {
			best = l
		}
	}
	if !best.wantsBreak() {
		return best
	}
	if broken, can := p.broken(panes); can {
		if l := searchOne(r, p, s, broken, tryPapers, tryScales); l != nil && (best == nil || l.beats(best)) {
			best = l
		}
	}
	return best
}

// beats reports whether a sheet is better than another: legible, then smaller,
// then at a larger scale.
func (l *layout) beats(o *layout) bool {
	if l.legible() != o.legible() {
		return l.legible()
	}
	if size, other := l.paper.width*l.paper.height, o.paper.width*o.paper.height; size != other {
		return size < other
	}
	return l.scale.factor > o.scale.factor
}

// sectionsBeside moves sections from the ends of the main column to the right of
// the main row: a named section may stand anywhere (ISO 128-3).
func sectionsBeside(panes []pane) ([]pane, bool) {
	list := slices.Clone(panes)
	moved := false
	for i := range list {
		if list[i].cut == nil || list[i].column != 0 || i == 0 {
			continue
		}
		column := 1
		for indexOf(list, column, 0) >= 0 {
			column++
		}
		if column <= furthestColumn {
			list[i].column, list[i].row, moved = column, 0, true
		}
	}
	return list, moved
}

// furthestColumn and row of the cross of views.
const furthestColumn = 5

// searchOne tries papers and scales, the smallest paper and the largest scale
// first, until everything finds a place and is large enough to read; failing
// that, the largest scale at which everything found a place; nil for none. Before a
// paper is given up, dimensions from one datum may run along one line.
func searchOne(r *Request, p *part, s *scheme, panes []pane, tryPapers []paper, tryScales []scale) *layout {
	var spare *layout
	for _, paper := range tryPapers {
		for _, running := range s.runs() {
			for _, scale := range tryScales {
				l := attempt(r, p, s, panes, paper, scale, running)
				if l == nil {
					continue
				}
				if l.legible() {
					return l.better(tryPapers, tryScales)
				}
				if spare == nil || l.scale.factor > spare.scale.factor {
					spare = l
				}
				break
			}
		}
	}
	return spare
}

// attempt tries one paper and scale; nil when something finds no place.
func attempt(r *Request, p *part, s *scheme, panes []pane, paper paper, scale scale, running running) *layout {
	l := newLayout(r, p, s, panes, paper, scale)
	l.running = running
	if !l.arrange() || !l.paint() {
		return nil
	}
	return l
}

// better turns an upright A4 or letter sheet when that allows a larger scale, or
// dimensions of the usual look.
func (l *layout) better(tryPapers []paper, tryScales []scale) *layout {
	if len(tryPapers) < 2 || l.paper.name != tryPapers[0].name {
		return l
	}
	for _, running := range slices.Compact([]running{{}, l.running}) {
		for _, scale := range tryScales {
			if scale.factor < l.scale.factor || scale.factor == l.scale.factor && running == l.running {
				break
			}
			if turned := attempt(l.request, l.part, l.scheme, l.panes, tryPapers[1], scale, running); turned != nil {
				return turned
			}
		}
	}
	return l
}

// scales to try, largest first: enlarged only as far as it takes to show a small
// part, or what is fine on it, well, and to label holes that stand so close, mm; 0
// for no labels.
func (p *part) scales(close float64) []scale {
	size := p.box.Size()
	largest := max(size.X, size.Y, size.Z)
	cap := 1.0
	for _, factor := range []float64{2, largestUnasked} {
		if largest*cap < legibleView || p.finest()*cap < wellShown || close > 0 && close*cap < labelRoom {
			cap = factor
		}
	}
	var list []scale
	for _, s := range scales {
		if s.factor > cap {
			continue
		}
		if s.factor*largest < smallestDrawn && s.factor < 1 && len(list) > 0 {
			break
		}
		list = append(list, s)
	}
	return list
}

// wellShown is the size on paper that the finest hole or step had better have,
// smallestDrawn the least size of a whole part, mm.
const (
	wellShown     = 3.0
	smallestDrawn = 8.0
)

// finest is the diameter of the smallest hole or step, the whole size without
// any, mm.
func (p *part) finest() float64 {
	size := p.box.Size()
	fine := max(size.X, size.Y, size.Z)
	for _, h := range p.holes {
		fine = min(fine, h.d)
	}
	for _, b := range p.barrels {
		fine = min(fine, b.d, 3*(b.to-b.from))
	}
	return fine
}

// What reads well on paper, mm: the least diameter of a hole; the least width of a bar that is not round, whose slots and walls
// must show; the least size of the largest view.
const (
	legibleHole = 1.5
	legibleBar  = 9.0
	legibleView = 45.0
)

// legible reports whether the views are large enough to read.
func (l *layout) legible() bool {
	box := l.panes[0].outline()
	if len(l.part.holes) > 0 && l.part.finest()*l.scale.factor < legibleHole {
		return false
	}
	if _, round := l.part.turnedAbout(); l.part.body == Bar && !round && min(box.Width(), box.Height()) < legibleBar {
		return false
	}
	return l.scale.factor >= 1 || max(box.Width(), box.Height()) >= legibleView
}
