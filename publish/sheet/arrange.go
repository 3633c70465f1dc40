package sheet

import (
	"math"
	"slices"

	"plansheaf/design/solid"
	"plansheaf/publish/picture"
)

// room is what a view needs around it for its dimensions, mm.
type room struct{ left, right, above, below float64 }

// arrange paints frame, title block, notes and table, and places the views in what
// is left. It reports whether they fit. Where room is short the revision block lists
// fewer revisions; the newest is in the title block anyhow.
func (l *layout) arrange() bool {
	for rows := min(mostRevisions, len(l.request.History)); ; rows-- {
		l.marks, l.board = nil, newBoard(l.paper.space().Grow(-0.5))
		if l.arrangeAbove(rows) {
			return true
		}
		if rows == 0 {
			return false
		}
	}
}

// arrangeAbove is arrange with some rows of revisions.
func (l *layout) arrangeAbove(revisions int) bool {
	if l.request.Draft {
		l.add(draftMark(l.paper))
	}
	frame := l.paper.frame()
	for _, m := range frame.Marks {
		if path, ok := m.(picture.Path); ok {
			l.board.draw(path.Curves...)
		}
	}
	l.add(frame)
	block := l.titleBlock()
	block.Min.Y -= l.history(block, revisions)
	space := l.paper.space().Grow(-centringRun - 1)
	region := space
	region.Max.Y = block.Min.Y - 4
	noteWidth := block.Min.X - space.Min.X - 6
	beside := noteWidth > 60
	if !beside {
		noteWidth = space.Width()
	}
	lines := l.noteLines(noteWidth)
	corner := point{X: space.Min.X, Y: space.Max.Y}
	if !beside && len(lines) > 0 {
		corner.Y = region.Max.Y
		region.Max.Y -= float64(len(lines))*noteStep*l.height + 3
	}
	l.paintNotes(lines, corner)
	table := l.scheme.layTable(l.height)
	if table == nil {
		return l.fit(region) || l.fitAround(space)
	}
	return l.fitWithTable(region, table)
}

// fitAround places the views from the upper left corner on, down beside the title
// block, where the cross of views leaves that corner free.
func (l *layout) fitAround(space picture.Box) bool {
	if !l.spread(space, true) {
		return false
	}
	strips := l.strips()
	for i := range l.panes {
		need, box := l.room(i, strips), l.panes[i].outline()
		box.Min = box.Min.Minus(point{X: need.left, Y: need.above})
		box.Max = box.Max.Plus(point{X: need.right, Y: need.below})
		if slices.ContainsFunc(l.board.boxes, box.Grow(1.5).Overlaps) {
			return false
		}
	}
	return true
}

// fit places the views in a region. It reports whether they and the room for
// their dimensions fit.
func (l *layout) fit(region picture.Box) bool { return l.spread(region, false) }

// spread places the views in a region, in its middle or from its upper left
// corner on. It reports whether they fit.
func (l *layout) spread(region picture.Box, corner bool) bool {
	for i := range l.panes {
		l.panes[i].at = point{}
	}
	strips := l.strips()
	type band struct{ low, high float64 }
	columns, rows := map[int]band{}, map[int]band{}
	widen := func(m map[int]band, k int, low, high float64) {
		b, known := m[k]
		if !known {
			b = band{low, high}
		}
		m[k] = band{min(b.low, low), max(b.high, high)}
	}
	for i := range l.panes {
		q := &l.panes[i]
		need := l.room(i, strips)
		b := q.extent
		widen(columns, q.column, b.Min.X*q.scale-need.left, b.Max.X*q.scale+need.right)
		widen(rows, q.row, b.Min.Y*q.scale-need.above, b.Max.Y*q.scale+need.below)
	}
	width, height := 0.0, 0.0
	for _, b := range columns {
		width += b.high - b.low
	}
	for _, b := range rows {
		height += b.high - b.low
	}
	if width > region.Width() || height > region.Height() {
		return false
	}
	gapX := (region.Width() - width) / float64(len(columns)+1)
	gapY := (region.Height() - height) / float64(len(rows)+1)
	gapX, gapY = min(gapX, 25), min(gapY, 25) // views that drift apart are hard to read together
	left, top := (region.Width()-width-gapX*float64(len(columns)-1))/2, (region.Height()-height-gapY*float64(len(rows)-1))/2
	if corner {
		left, top, gapX, gapY = 0, 0, min(gapX, 3), min(gapY, 3)
	}
	origins := func(m map[int]band, from, gap float64) map[int]float64 {
		origin := map[int]float64{}
		cursor := from
		for k := -furthestColumn; k <= furthestColumn; k++ {
			if b, known := m[k]; known {
				origin[k] = cursor - b.low
				cursor += b.high - b.low + gap
			}
		}
		return origin
	}
	x := origins(columns, region.Min.X+left, gapX)
	y := origins(rows, region.Min.Y+top, gapY)
	for i := range l.panes {
		q := &l.panes[i]
		q.at = point{X: math.Round(x[q.column]*100) / 100, Y: math.Round(y[q.row]*100) / 100}
	}
	return true
}

// room that a view needs on each side: its rows of dimensions and, above and at
// the right of the main view, a line or two of callouts.
func (l *layout) room(view int, strips []strip) room {
	rows := func(side edgeSide) float64 { return max(5, depthOn(strips, view, side, l.height)) }
	need := room{left: rows(leftOf), right: rows(rightOf), above: rows(above), below: rows(below)}
	calls := 0
	for i := range l.scheme.list {
		if v, tips := l.tipsFor(&l.scheme.list[i]); tips != nil && v == view {
			calls++
		}
	}
	if l.running.least == 0 { // else room is short, and callouts look for their own
		if calls > 0 {
			need.above += 8
		}
		if calls > 1 {
			need.below += 6
		}
	}
	// Words of dimensions that stand beyond their datum reach out at the corner.
	for _, s := range strips {
		if s.view != view {
			continue
		}
		box := l.panes[view].outline()
		if s.side.horizontal() {
			need.left = max(need.left, box.Min.X-s.low+2)
			need.right = max(need.right, s.high-box.Max.X+2)
		} else {
			need.above = max(need.above, box.Min.Y-s.low+2)
			need.below = max(need.below, s.high-box.Max.Y+2)
		}
	}
	return need
}

// draftMark lies across the sheet, under everything.
func draftMark(p paper) picture.Text {
	return picture.Text{At: point{X: p.width / 2, Y: p.height/2 - blockHigh/2}, Words: "DRAFT", Height: min(p.width, p.height) / 5,
		Anchor: picture.Middle, Rise: picture.MidCapital, Turn: math.Pi / 6, Face: picture.SansBold, Ink: picture.Watermark, Class: "watermark"}
}

// origin is where the levels that dimensions start from meet.
func (p *part) origin() solid.Vec {
	var at solid.Vec
	for _, axis := range axes {
		at = at.Add(axis.Vec().Mul(p.levels[axis][p.datum(axis)].at))
	}
	return at
}

// datumMarks rings the point from which a hole table measures.
func (l *layout) datumMarks() {
	for i := range l.panes {
		q := &l.panes[i]
		measured := false
		for _, r := range l.scheme.rows() {
			measured = measured || q.covers(l.part.holes[r.hole])
		}
		if measured {
			l.stroke(picture.Thin, picture.Circle(q.place(l.part.origin()), 1.5)...)
		}
	}
}
