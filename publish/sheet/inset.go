package sheet

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"plansheaf/publish/picture"
)

// insetStep is how finely free places are looked for, mm.
const insetStep = 4.0

// freePlace finds room for a block of a size, nearest the upper right corner.
func (l *layout) freePlace(width, height float64) (picture.Box, bool) {
	space := l.paper.space().Grow(-centringRun - 1)
	best, found, nearest := picture.Box{}, false, math.Inf(1)
	for y := space.Min.Y; y+height <= space.Max.Y; y += insetStep {
		for x := space.Max.X - width; x >= space.Min.X; x -= insetStep {
			box := picture.Box{Min: point{X: x, Y: y}, Max: point{X: x + width, Y: y + height}}
			away := (space.Max.X - box.Max.X) + 0.7*(box.Min.Y-space.Min.Y)
			if away < nearest && !l.overViews(box) && l.board.free(box.Grow(2)) {
				best, found, nearest = box, true, away
			}
		}
	}
	return best, found
}

// overViews reports whether a box lies over a view, where a second picture would
// read as part of it.
func (l *layout) overViews(box picture.Box) bool {
	return slices.ContainsFunc(l.panes, func(q pane) bool { return q.outline().Grow(3).Overlaps(box) })
}

// pictorialSizes are the widths and heights that a pictorial view is tried at.
var pictorialSizes = [][2]float64{{64, 56}, {52, 44}, {42, 36}, {32, 26}}

// pictorialLeast is the width below which a pictorial view shows nothing, mm.
const pictorialLeast = 10.0

// pictorial adds a small pictorial view where there is room: not to scale, to
// show at a glance what the part is. It reports whether there was room.
func (l *layout) pictorial() bool {
	if l.part.pictured.empty() {
		return false
	}
	bounds := l.part.pictured.bounds()
	for _, size := range pictorialSizes {
		factor := min(size[0]/bounds.Width(), size[1]/bounds.Height(), 1.1*l.scale.factor)
		if min(bounds.Width(), bounds.Height())*factor < pictorialLeast {
			return false
		}
		box, ok := l.freePlace(bounds.Width()*factor, bounds.Height()*factor)
		if !ok {
			continue
		}
		at := box.Centre().Minus(bounds.Centre().Times(factor))
		g := picture.Group{ID: "pictorial", Class: "view", Title: "Pictorial view, not to scale"}
		g.Marks = l.part.pictured.small(factor, at, picture.Thin)
		l.board.take(box)
		l.add(g)
		return true
	}
	return false
}

// A detail shows the surroundings of a feature larger.
type detail struct {
	index  int // in the request's views
	letter string
	hole   hole
	scale  scale // zero: chosen by the sheet's
}

// readDetails reads what the request asks for.
func (p *part) readDetails(r *Request, fault func(Fault)) []detail {
	var list []detail
	for i, v := range r.Views {
		if v.Kind != "detail" {
			continue
		}
		d := detail{index: i, letter: cmp.Or(v.Letter, letters(len(list)+1))}
		named := p.holesNamed(v.Around)
		if len(named) == 0 {
			fault(Fault{"views", i, fmt.Sprintf("the part has no hole %q to show in detail", v.Around), "name a hole of the part in around"})
			continue
		}
		d.hole = p.holes[named[0]]
		if v.Scale != "" {
			asked, err := parseScale(v.Scale)
			if err != nil {
				fault(Fault{"views", i, err.Error(), "2:1, 5:1, 10:1 ..."})
				continue
			}
			d.scale = asked
		}
		list = append(list, d)
	}
	return list
}

// larger is the smallest scale of the series that shows twice the sheet's size.
func (l *layout) larger() scale {
	best := scales[0]
	for _, s := range scales {
		if s.factor >= 2*l.scale.factor-1e-9 {
			best = s
		}
	}
	return best
}

// detailReach is the radius on the part that a detail shows, in rims of its
// hole.
const detailReach = 2.4

// detailPane is the view in which a detail's feature is seen, and the radius on
// the part that the detail shows.
func (l *layout) detailPane(d detail) (q *pane, reach float64) {
	for i := range l.panes {
		if l.panes[i].covers(d.hole) {
			return &l.panes[i], detailReach*d.hole.rim() + 1/l.scale.factor
		}
	}
	return nil, 0
}

// detailRing rings the feature in its view.
func (l *layout) detailRing(d detail) {
	if q, reach := l.detailPane(d); q != nil {
		l.stroke(picture.Thin, picture.Circle(q.place(d.hole.at), reach*q.scale)...)
	}
}

// detailView names the ring and draws the surroundings larger where there is
// room. It reports whether there was.
func (l *layout) detailView(d detail) bool {
	q, reach := l.detailPane(d)
	if q == nil {
		return false
	}
	if d.scale.factor == 0 {
		d.scale = l.larger()
	}
	radius := reach * d.scale.factor
	head := picture.Text{Words: fmt.Sprintf("%s (%s)", d.letter, d.scale.name), Height: 3.5, Face: picture.SansBold, Anchor: picture.Middle, Class: "view-name"}
	box, ok := l.freePlace(max(2*radius, head.Width()), 2*radius+8)
	if !ok {
		return false
	}
	middle := point{X: box.Centre().X, Y: box.Max.Y - radius}
	head.At = point{X: middle.X, Y: box.Min.Y + 4}
	at := middle.Minus(q.eye.Flat(d.hole.at).Times(d.scale.factor))
	var inside []picture.Mark
	for _, part := range q.curves.parts() {
		if len(part.curves) > 0 {
			inside = append(inside, picture.Path{Curves: picture.MoveCurves(part.curves, d.scale.factor, at), Line: part.line})
		}
	}
	l.add(picture.Group{ID: "detail-" + d.letter, Class: "view", Title: "Detail " + d.letter, Marks: []picture.Mark{
		picture.Clip{Outline: picture.Circle(middle, radius), Marks: inside},
		picture.Path{Curves: picture.Circle(middle, radius), Line: picture.Thin}, head}})
	l.board.take(box)
	ring := q.place(d.hole.at)
	return l.leader(leaderRequest{tips: rimTips(ring, reach*q.scale, point{}), lines: []string{d.letter}, class: "view-name", plain: true, box: q.outline()})
}
