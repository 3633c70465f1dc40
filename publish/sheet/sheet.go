package sheet

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"plansheaf/publish/picture"
)

// ErrNoSolid is returned when there is nothing to draw.
var ErrNoSolid = errors.New("no solid to draw")

// Draw makes the sheet. It returns ErrNoSolid for a request without a solid, or
// one without faces. What the request asks for and cannot have becomes a Fault
// in the result, and the sheet is made without it.
func Draw(r Request) (*Result, error) {
	if r.Solid == nil || len(r.Solid.Faces) == 0 {
		return nil, fmt.Errorf("draw sheet %q: %w", r.Name, ErrNoSolid)
	}
	result := &Result{}
	fault := func(f Fault) { result.Faults = append(result.Faults, f) }
	p := study(r.Solid, r.Body, r.Along)
	s := p.plan(&r, fault)
	panes := p.choose(&r, fault)
	panes = p.sections(&r, panes, fault)
	p.details = p.readDetails(&r, fault)
	if wantsPicture(&r) {
		pictured, err := pictureOf(r.Solid)
		if err != nil {
			return nil, fmt.Errorf("draw sheet %q: %w", r.Name, err)
		}
		p.pictured = pictured
	}
	for i := range panes {
		curves, err := p.project(panes[i])
		if err != nil {
			return nil, fmt.Errorf("draw sheet %q: %w", r.Name, err)
		}
		panes[i].curves, panes[i].extent = curves, curves.bounds()
	}
	best := bestLayout(&r, p, s, panes, fault)
	pic := &picture.Picture{Name: r.Name, Title: best.title(), Description: best.description(),
		Width: best.paper.width, Height: best.paper.height, Group: best.paper.group(), Marks: best.marks}
	result.Picture, result.Size, result.Scale = pic, best.paper.name, best.scale.name
	for _, q := range best.panes {
		result.Views = append(result.Views, q.eye.name)
	}
	result.Dimensions, result.Facts, result.Ties = s.list, p.facts(), s.ties
	return result, nil
}

// bestLayout finds the sheet: what the request fixes of paper and scale is kept
// when that can be; else it is a fault, and the scale, then the paper too, is
// chosen instead.
func bestLayout(r *Request, p *part, s *scheme, panes []pane, fault func(Fault)) *layout {
	freePapers, freeScales := papers(r.Family), p.scales()
	tryPapers, tryScales := freePapers, freeScales
	if r.Sheet != "" {
		if asked, err := parsePaper(r.Sheet); err == nil {
			tryPapers = []paper{asked}
		} else {
			fault(Fault{"sheet", -1, err.Error(), "A4 to A0, letter, tabloid, C or D, with portrait or landscape"})
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
// that, the largest scale at which everything found a place; nil for none.
func searchOne(r *Request, p *part, s *scheme, panes []pane, tryPapers []paper, tryScales []scale) *layout {
	var spare *layout
	for _, paper := range tryPapers {
		for _, scale := range tryScales {
			l := newLayout(r, p, s, panes, paper, scale)
			if !l.arrange() || !l.paint() {
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
	return spare
}

// better turns an upright A4 or letter sheet when that allows a larger scale.
func (l *layout) better(tryPapers []paper, tryScales []scale) *layout {
	if len(tryPapers) < 2 || l.paper.name != tryPapers[0].name {
		return l
	}
	for _, scale := range tryScales {
		if scale.factor <= l.scale.factor {
			break
		}
		turned := newLayout(l.request, l.part, l.scheme, l.panes, tryPapers[1], scale)
		if turned.arrange() && turned.paint() {
			return turned
		}
	}
	return l
}

// scales to try, largest first: enlarged only as far as it takes to show a small
// part, or what is fine on it, well.
func (p *part) scales() []scale {
	size := p.box.Size()
	largest := max(size.X, size.Y, size.Z)
	cap := 1.0
	for _, factor := range []float64{2, largestUnasked} {
		if largest*cap < legibleView || p.finest()*cap < wellShown {
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

// What reads well on paper, mm: the least diameter of a hole, and that among
// many holes; the least width of a bar that is not round, whose slots and walls
// must show; the least size of the largest view.
const (
	legibleHole  = 1.0
	legibleAmong = 1.5
	manyHoles    = 10
	legibleBar   = 9.0
	legibleView  = 45.0
)

// legible reports whether the views are large enough to read.
func (l *layout) legible() bool {
	box := l.panes[0].outline()
	least := legibleHole
	if len(l.part.holes) >= manyHoles {
		least = legibleAmong
	}
	if len(l.part.holes) > 0 && l.part.finest()*l.scale.factor < least {
		return false
	}
	if _, round := l.part.turnedAbout(); l.part.body == Bar && !round && min(box.Width(), box.Height()) < legibleBar {
		return false
	}
	return l.scale.factor >= 1 || max(box.Width(), box.Height()) >= legibleView
}

func newLayout(r *Request, p *part, s *scheme, panes []pane, paper paper, scale scale) *layout {
	l := &layout{request: r, part: p, scheme: s, paper: paper, scale: scale, height: paper.lettering()}
	l.panes = append(l.panes, panes...)
	for i := range l.panes {
		l.panes[i].scale, l.panes[i].at = scale.factor, point{}
	}
	l.board = newBoard(paper.space().Grow(-0.5))
	return l
}

// paint draws everything in its place. It reports whether all words found room.
func (l *layout) paint() bool {
	l.views()
	for i := range l.part.details {
		l.detailRing(l.part.details[i])
	}
	l.datumMarks()
	ok := l.dimensionLines(l.strips())
	ok = l.holeLabels() && ok
	ok = l.callouts() && ok
	ok = l.cuttingPlanes() && ok
	for _, d := range l.part.details {
		ok = l.detailView(d) && ok
	}
	if wantsPicture(l.request) {
		// Where there is no room the views speak for themselves, unless the
		// author asked for it.
		ok = (l.pictorial() || !asks(l.request, "pictorial")) && ok
	}
	return ok
}

// asks reports whether the request names a kind of view.
func asks(r *Request, kind string) bool {
	return slices.ContainsFunc(r.Views, func(v ViewRequest) bool { return v.Kind == kind })
}

// wantsPicture reports whether the sheet gets a pictorial view: when the views
// are chosen here, or the author names it.
func wantsPicture(r *Request) bool { return len(r.Views) == 0 || asks(r, "pictorial") }

func (l *layout) title() string {
	return strings.TrimSpace(fmt.Sprintf("%s, drawing %s", l.request.Title, l.request.Number))
}

// description says in words what the sheet holds.
func (l *layout) description() string {
	var views []string
	for _, q := range l.panes {
		views = append(views, q.eye.name)
	}
	size := l.part.box.Size()
	words := fmt.Sprintf("Dimensioned drawing of %s at scale %s. Views: %s. Overall %s by %s by %s mm.", l.request.Title, l.scale.name,
		strings.Join(views, ", "), decimals(size.X, 2), decimals(size.Y, 2), decimals(size.Z, 2))
	for _, d := range l.scheme.list {
		if d.Kind == Callout || d.Kind == Table && d.Axis == "" {
			words += " " + d.To + ": " + d.Text + "."
		}
	}
	return words
}

// room is what a view needs around it for its dimensions, mm.
type room struct{ left, right, above, below float64 }

// arrange paints frame, title block, notes and table, and places the views in
// what is left. It reports whether they fit.
func (l *layout) arrange() bool {
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
	block.Min.Y -= l.history(block)
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

// fitWithTable tries the hole table at the right of the views, then above them.
func (l *layout) fitWithTable(region picture.Box, table *holeTable) bool {
	width, height := table.size()
	if width > region.Width() || height > region.Height() {
		return false
	}
	at := point{X: region.Max.X - width, Y: region.Min.Y}
	box := picture.Box{Min: at, Max: at.Plus(point{X: width, Y: height})}
	beside, under := region, region
	beside.Max.X, under.Min.Y = box.Min.X-4, box.Max.Y+4
	l.board.take(box)
	l.add(table.draw(at))
	return l.fit(beside) || l.fit(under) || l.fitAround(l.paper.space().Grow(-centringRun-1))
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
		if slices.ContainsFunc(l.board.boxes, box.Grow(2).Overlaps) {
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
		left, top, gapX, gapY = 0, 0, min(gapX, 4), min(gapY, 4)
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
	rows := func(side edgeSide) float64 {
		n := rowsOn(strips, view, side)
		if n == 0 {
			return 5
		}
		return firstRow + float64(n-1)*rowStep + 3 + l.height
	}
	need := room{left: rows(leftOf), right: rows(rightOf), above: rows(above), below: rows(below)}
	calls := 0
	for i := range l.scheme.list {
		if v, tips := l.tipsFor(&l.scheme.list[i]); tips != nil && v == view {
			calls++
		}
	}
	if calls > 0 {
		need.above += 8
	}
	if calls > 1 {
		need.below += 6
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

// datumMarks rings the corner from which a hole table measures.
func (l *layout) datumMarks() {
	for i := range l.panes {
		q := &l.panes[i]
		measured := false
		for _, r := range l.scheme.rows() {
			measured = measured || q.eye.covers(l.part.holes[r.hole])
		}
		if measured {
			l.stroke(picture.Thin, picture.Circle(q.place(l.part.box.Min), 1.5)...)
		}
	}
}
