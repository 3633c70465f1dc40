package sheet

import (
	"cmp"
	"math"
	"slices"

	"plansheaf/design/solid"
	"plansheaf/publish/picture"
)

// edgeSide is a side of a view along which dimension lines are stacked.
type edgeSide int

const (
	below edgeSide = iota
	above
	leftOf
	rightOf
)

func (e edgeSide) horizontal() bool { return e == below || e == above }

// A strip is a linear dimension along a side of a view.
type strip struct {
	dimension int // index in the scheme's list
	view      int
	side      edgeSide
	ends      [2]ending // from the lower level and from the higher
	row       int
	words     string
	datum     float64 // place of the datum's end: text that does not fit goes beyond it
	low, high float64 // what it takes up in its row, words and arrows included
	run       int     // number of the running dimensions that it belongs to; 0 for none
	deep      float64 // how far its value reaches beyond its line, mm
}

// ending is where an extension line begins.
type ending struct {
	along float64 // place along the side, on the sheet
	from  float64 // where the extension line begins, across the side, on the sheet
}

func (s strip) span() (low, high float64) {
	a, b := s.ends[0].along, s.ends[1].along
	return min(a, b), max(a, b)
}

// point on the sheet from places along and across a side.
func (e edgeSide) point(along, across float64) point {
	if e.horizontal() {
		return point{X: along, Y: across}
	}
	return point{X: across, Y: along}
}

// outward is the sign in which dimension lines recede from the view.
func (e edgeSide) outward() float64 {
	if e == below || e == rightOf {
		return 1
	}
	return -1
}

// limit is the view's edge on this side.
func (e edgeSide) limit(box picture.Box) float64 {
	switch e {
	case below:
		return box.Max.Y
	case above:
		return box.Min.Y
	case leftOf:
		return box.Min.X
	}
	return box.Max.X
}

// strips works out, for each linear dimension, its view, side and row.
func (l *layout) strips() []strip {
	var list []strip
	views, count := map[int]int{}, map[axisView]int{}
	for _, whole := range []bool{false, true} {
		for i := range l.scheme.list {
			d := &l.scheme.list[i]
			if d.Kind != Linear && d.Kind != Pitch || l.part.spans(d) != whole {
				continue
			}
			if view, ok := l.viewFor(d, count); ok {
				d.View, views[i] = l.panes[view].name(), view
				count[axisView{d.axis, view}]++
			}
		}
	}
	for i := range l.scheme.list {
		if view, ok := views[i]; ok {
			list = append(list, l.strip(i, view))
		}
	}
	if l.running.least > 0 {
		l.gather(list)
	}
	for v := range l.panes {
		for _, side := range []edgeSide{below, above, leftOf, rightOf} {
			stack(list, v, side)
		}
	}
	return list
}

// An axisView is the dimensions along an axis in a view.
type axisView struct {
	axis solid.Axis
	view int
}

// spans reports whether a dimension leads from one end of the part to the other.
func (p *part) spans(d *Dimension) bool {
	return d.Kind == Linear && d.Low < on(p.box.Min, d.axis)+near && d.High > on(p.box.Max, d.axis)-near
}

// viewFor chooses the view that shows a dimension best: one that sees the holes
// it leads to as circles, and the edges as such; else the first that has its axis in
// the paper. Whole sizes stand with most of the other dimensions along their axis,
// which count tells.
func (l *layout) viewFor(d *Dimension, count map[axisView]int) (int, bool) {
	best, top := -1, -1
	whole := l.part.spans(d)
	for i := range l.panes {
		q := &l.panes[i]
		horizontal, vertical := q.across(d.axis)
		if !horizontal && !vertical {
			continue
		}
		score := 0
		if i == 0 {
			score = 1
		}
		if whole {
			score += 4 * count[axisView{d.axis, i}]
		}
		for _, end := range []float64{d.Low, d.High} {
			if at := l.part.levelAt(d.axis, end); at >= 0 {
				score += l.showsLevel(q, d.axis, l.part.levels[d.axis][at])
			}
		}
		if score > top {
			best, top = i, score
		}
	}
	return best, best >= 0
}

// showsLevel is how well a view shows what lies at a level: a hole as a circle best,
// else an edge that is not hidden.
func (l *layout) showsLevel(q *pane, axis solid.Axis, at level) int {
	if slices.ContainsFunc(at.holes, func(h int) bool { return q.covers(l.part.holes[h]) }) {
		return 4
	}
	if q.edges(axis, at.at) {
		return 2
	}
	return 0
}

// strip places a dimension on the side of its view that is nearer to what it
// measures; overall sizes stand below and at the left.
func (l *layout) strip(index, view int) strip {
	sides := l.sidesFor(index, view)
	first, second := l.stripOn(index, view, sides[0]), l.stripOn(index, view, sides[1])
	// Where both sides are as near: below and at the left, but upright ones whose
	// words stand outside at the right, since the lower left corner is where
	// those of the level ones stand.
	low, high := second.span()
	crowded := !sides[0].horizontal() && (second.low < low-near || second.high > high+near)
	if off := l.reach(second) - l.reach(first); off < -3 || crowded && off < 3 {
		return second
	}
	return first
}

// sidesFor are the sides of a view where a dimension may stand, the usual one first.
func (l *layout) sidesFor(index, view int) [2]edgeSide {
	if horizontal, _ := l.panes[view].across(l.scheme.list[index].axis); horizontal {
		return [2]edgeSide{below, above}
	}
	return [2]edgeSide{leftOf, rightOf}
}

// stripOn places a dimension on a side of its view.
func (l *layout) stripOn(index, view int, side edgeSide) strip {
	d := l.scheme.list[index]
	s := strip{dimension: index, view: view, side: side, words: d.Text}
	for i, at := range []float64{d.Low, d.High} {
		s.ends[i] = l.ending(&l.panes[view], d.axis, at, side)
	}
	s.datum = s.ends[0].along
	l.occupy(&s)
	return s
}

// reach is how far a strip's extension lines lead through its view.
func (l *layout) reach(s strip) float64 {
	limit := s.side.limit(l.panes[s.view].outline())
	return math.Abs(s.ends[0].from-limit) + math.Abs(s.ends[1].from-limit)
}

// occupy works out what a strip takes up in its row.
func (l *layout) occupy(s *strip) {
	s.low, s.high = s.span()
	if s.high-s.low < 2*arrowLong+1 {
		s.low, s.high = s.low-2*arrowLong, s.high+2*arrowLong
	}
	low, high := s.span()
	if width := picture.TextWidth(s.words, l.height, picture.Sans); width+2*clear > high-low {
		if math.Abs(s.datum-low) <= math.Abs(s.datum-high) {
			s.low = min(s.low, low-2*arrowLong-width-2*clear)
		} else {
			s.high = max(s.high, high+2*arrowLong+width+2*clear)
		}
	}
}

// ending finds where the extension line of a level begins: at the hole with its
// centre there that is nearest to the side, else at the outline.
func (l *layout) ending(q *pane, axis solid.Axis, at float64, side edgeSide) ending {
	place := q.place(axis.Vec().Mul(at))
	along := place.X
	if !side.horizontal() {
		along = place.Y
	}
	best, found := 0.0, false
	offer := func(p point, out float64) {
		here := p.Y
		if !side.horizontal() {
			here = p.X
		}
		here += side.outward() * out
		if !found || (here-best)*side.outward() > 0 {
			best, found = here, true
		}
	}
	index := l.part.levelAt(axis, at)
	edge := index == 0 || index == len(l.part.levels[axis])-1
	if index >= 0 && !edge {
		for _, h := range l.part.levels[axis][index].holes {
			if hole := l.part.holes[h]; q.covers(hole) {
				radius := hole.rim() * q.scale
				offer(q.place(hole.at), radius+centreReach(radius)-gap)
			}
		}
	}
	if !found { // a corner, sharp or where the lines of its sides meet
		for _, s := range l.part.slopes {
			for _, end := range s.ends {
				if math.Abs(on(end, axis)-at) < near && s.normal == normalAxis(q.eye.Toward) {
					offer(q.place(end), 0)
				}
			}
		}
		for _, c := range q.curves.visible {
			from, to := c.Ends()
			for _, end := range []point{from, to} {
				if p := q.to(end); math.Abs(p.X-along) < 0.01 && side.horizontal() || math.Abs(p.Y-along) < 0.01 && !side.horizontal() {
					offer(p, 0)
				}
			}
		}
	}
	if !found {
		best = side.limit(q.outline())
		if edge { // the rim of something round: its middle
			c := q.outline().Centre()
			best = c.Y
			if !side.horizontal() {
				best = c.X
			}
		}
	}
	return ending{along: along, from: best}
}

// stack gives the strips of one side their rows: shortest nearest the part, none
// over another in its row. Running dimensions share one, the last.
func stack(list []strip, view int, side edgeSide) {
	var order []int
	for i, s := range list {
		if s.view == view && s.side == side {
			order = append(order, i)
		}
	}
	length := func(i int) float64 { low, high := list[i].span(); return high - low }
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(list[a].run, list[b].run), cmp.Compare(math.Round(length(a)*1e4), math.Round(length(b)*1e4)))
	})
	var rows [][]int
	for _, i := range order {
		low, high := list[i].low, list[i].high
		row := 0
		for r := len(rows) - 1; r >= 0; r-- {
			clash := false
			for _, j := range rows[r] {
				from, to := list[j].low, list[j].high
				clash = clash || low < to-0.01 && from < high-0.01
			}
			if clash {
				row = r + 1
				break
			}
		}
		if list[i].run > 0 {
			row = len(rows)
			if last := len(rows) - 1; last >= 0 && list[rows[last][0]].run > 0 {
				row = last
			}
		}
		if row == len(rows) {
			rows = append(rows, nil)
		}
		rows[row] = append(rows[row], i)
		list[i].row = row
	}
}

// depthOn is how far the dimensions on a side of a view reach beyond its edge, those
// letters of a height, mm; 0 for no dimensions.
func depthOn(list []strip, view int, side edgeSide, height float64) float64 {
	depth := 0.0
	for _, s := range list {
		if s.view == view && s.side == side {
			depth = max(depth, firstRow+float64(s.row)*rowStep+max(3+height, s.deep+1))
		}
	}
	return depth
}

// line is the place across its side of a strip's dimension line.
func (l *layout) line(s strip) float64 {
	q := &l.panes[s.view]
	return s.side.limit(q.outline()) + s.side.outward()*(firstRow+float64(s.row)*rowStep)
}

// dimensionLines paints all strips: extension lines first, then dimension lines
// and arrows, then words where they are free. It reports whether all words
// found a place.
func (l *layout) dimensionLines(list []strip) bool {
	l.extensions(list)
	for i := range list {
		if list[i].run == 0 {
			l.dimensionLine(&list[i])
		}
	}
	ok := l.runMarks(list)
	for i := range list {
		if list[i].run == 0 {
			ok = l.dimensionWords(&list[i]) && ok
		}
	}
	return ok
}

// extensions paints each extension line once, as far as the furthest dimension
// that needs it.
func (l *layout) extensions(list []strip) {
	type key struct {
		view  int
		side  edgeSide
		along int
	}
	type run struct{ along, from, to float64 }
	runs := map[key]*run{}
	var order []key
	for _, s := range list {
		to := l.line(s) + s.side.outward()*overrun
		for _, e := range s.ends {
			k := key{s.view, s.side, int(math.Round(e.along * 1000))}
			from := e.from + s.side.outward()*gap
			if runs[k] == nil {
				runs[k] = &run{e.along, from, to}
				order = append(order, k)
			}
			r := runs[k]
			if (to-r.to)*k.side.outward() > 0 {
				r.to = to
			}
		}
	}
	for _, k := range order {
		r := runs[k]
		l.stroke(picture.Thin, picture.Line{A: k.side.point(r.along, r.from), B: k.side.point(r.along, r.to)})
	}
}

// dimensionLine paints the line with its arrows: inside where they fit, else
// outside pointing in.
func (l *layout) dimensionLine(s *strip) {
	across := l.line(*s)
	low, high := s.span()
	from, to, unit := s.side.point(low, across), s.side.point(high, across), s.side.point(1, 0)
	l.stroke(picture.Thin, picture.Line{A: from, B: to})
	if high-low >= 2*arrowLong+1 {
		l.add(arrow(from, unit.Times(-1)), arrow(to, unit))
		return
	}
	l.stroke(picture.Thin, picture.Line{A: s.side.point(low-2*arrowLong, across), B: from},
		picture.Line{A: to, B: s.side.point(high+2*arrowLong, across)})
	l.add(arrow(from, unit), arrow(to, unit.Times(-1)))
}

// dimensionWords finds a place for the text: above the middle of its line, then
// along it, then beyond the datum's end, then beyond the other.
func (l *layout) dimensionWords(s *strip) bool {
	low, high := s.span()
	width := picture.TextWidth(s.words, l.height, picture.Sans)
	middle := (low + high) / 2
	var tries []float64 // middles of the text along the side
	if width+2*clear <= high-low {
		room := (high - low - width) / 2
		tries = append(tries, middle)
		for _, share := range []float64{0.5, -0.5, 0.9, -0.9, 0.25, -0.25} {
			tries = append(tries, middle+share*(room-clear))
		}
	}
	outside := []float64{low - 2*arrowLong - width/2 - clear, high + 2*arrowLong + width/2 + clear}
	if math.Abs(s.datum-high) < math.Abs(s.datum-low) {
		outside[0], outside[1] = outside[1], outside[0]
	}
	tries = append(tries, outside...)
	across := l.line(*s)
	for _, at := range tries {
		text := l.wordsAt(s, at, across)
		if !l.board.free(text.Bounds()) || l.shoulderStruck(s, at, width, across) {
			continue
		}
		l.board.take(text.Bounds())
		l.add(text)
		l.shoulder(s, at, width, across)
		return true
	}
	// Beside the rows there is room somewhere: a leader from the line's middle.
	return l.leader(leaderRequest{
		tips:  []tip{{at: s.side.point(middle, across), away: s.side.point(0, s.side.outward())}},
		lines: []string{s.words}, class: "dimension", plain: true, box: l.panes[s.view].outline(),
	})
}

// wordsAt sets a strip's words with their middle at a place along the side; they
// read from below or from the right.
func (l *layout) wordsAt(s *strip, at, across float64) picture.Text {
	text := picture.Text{Words: s.words, Height: l.height, Anchor: picture.Middle, Class: "dimension"}
	across -= lift + text.Descent()
	if s.side.horizontal() {
		text.At = point{X: at, Y: across}
		return text
	}
	text.At, text.Turn = point{X: across, Y: at}, math.Pi/2
	return text
}

// shoulderStruck reports whether the line to words beside their dimension would
// run through other words.
func (l *layout) shoulderStruck(s *strip, at, width, across float64) bool {
	low, high := s.span()
	from, to := at-width/2, low
	if at > high {
		from, to = high, at+width/2
	} else if at >= low {
		return false
	}
	words, _ := l.board.crossings(s.side.point(from, across), s.side.point(to, across))
	return words > 0
}

// shoulder carries the dimension line out under words that stand beside it.
func (l *layout) shoulder(s *strip, at, width, across float64) {
	low, high := s.span()
	switch {
	case at < low:
		l.stroke(picture.Thin, picture.Line{A: s.side.point(at-width/2, across), B: s.side.point(low, across)})
	case at > high:
		l.stroke(picture.Thin, picture.Line{A: s.side.point(high, across), B: s.side.point(at+width/2, across)})
	}
}
