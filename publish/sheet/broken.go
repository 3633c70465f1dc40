package sheet

import (
	"cmp"
	"slices"

	"plansheaf/design/solid"
	"plansheaf/publish/picture"
	"plansheaf/publish/view"
)

// When and how views of long parts are broken, mm on paper. Common practice, no
// source.
const (
	breakSlender = 5.0   // how many times longer than wide a part must be
	breakKept    = 10.0  // what stays of a plain stretch at either end
	breakShort   = 110.0 // a broken view had better be no shorter
	breakLong    = 220.0 // one that is longer is broken once more
	breakWide    = 12.0  // a view less wide than this is better broken and larger
	breakPaper   = 65e3  // mm², A4 or letter: what takes more had better be broken
	mostBreaks   = 4
)

// breaks is how a view may be broken: the stretches along an axis of the paper in
// which nothing changes, at 1:1.
type breaks struct {
	axis  view.Axis
	plain []view.Range
}

// broken are the views of a long part, ready to be broken where nothing changes;
// false for a part that is not long, or changes all along.
func (p *part) broken(panes []pane) ([]pane, bool) {
	size := p.box.Size()
	axis := solid.AxisX
	for _, a := range axes {
		if on(size, a) > on(size, axis) {
			axis = a
		}
	}
	for _, a := range axes {
		if a != axis && on(size, axis) < breakSlender*on(size, a) {
			return nil, false
		}
	}
	list := slices.Clone(panes)
	for i := range list {
		q := &list[i]
		horizontal, vertical := q.across(axis)
		if !horizontal && !vertical {
			continue
		}
		if q.cut != nil { // its hatching would have to be parted too
			return nil, false
		}
		b := &breaks{axis: view.Across}
		if vertical {
			b.axis = view.Upright
		}
		plain, err := view.Plain([]view.Body{{Solid: p.solid, At: solid.Stay}}, q.eye.Direction, b.axis)
		if err != nil || len(plain) == 0 {
			return nil, false
		}
		b.plain = plain
		q.breaks = b
	}
	return list, true
}

// cuts are the stretches to leave out at a scale, the longest plain ones: as many as
// it takes to make the view short enough.
func (b *breaks) cuts(length, scale float64) []view.Range {
	order := slices.Clone(b.plain)
	slices.SortStableFunc(order, func(a, c view.Range) int { return cmp.Compare(c.To-c.From, a.To-a.From) })
	var cuts []view.Range
	drawn := length * scale
	for _, r := range order {
		spare := (r.To-r.From)*scale - 2*breakKept - view.StandardGap
		if spare < 2*view.StandardGap || len(cuts) == mostBreaks || len(cuts) > 0 && drawn < breakLong {
			break
		}
		keep := breakKept + max(0, breakShort-(drawn-spare))/2
		if spare -= 2 * (keep - breakKept); spare < 2*view.StandardGap {
			break
		}
		drawn -= spare
		cuts = append(cuts, view.Range{From: r.From + keep/scale, To: r.To - keep/scale})
	}
	slices.SortFunc(cuts, func(a, c view.Range) int { return cmp.Compare(a.From, c.From) })
	return cuts
}

// snap breaks the view at its scale, where it may be broken and there is something to
// leave out.
func (q *pane) snap(p *part) {
	if q.breaks == nil {
		return
	}
	q.curves, q.extent, q.broken = q.whole, q.whole.bounds(), nil
	length := q.extent.Width()
	if q.breaks.axis == view.Upright {
		length = q.extent.Height()
	}
	cuts := q.breaks.cuts(length, q.scale)
	if len(cuts) == 0 {
		return
	}
	drawing, broken, err := view.Break(q.drawing, q.breaks.axis, cuts, view.StandardGap/q.scale)
	if err != nil {
		return // something lies across after all: the view stays whole
	}
	q.curves, q.broken = p.layers(drawing), broken
	q.extent = q.curves.bounds()
}

// gone reports whether the view's break leaves a place out.
func (q *pane) gone(at solid.Vec) bool {
	if q.broken == nil {
		return false
	}
	flat := q.eye.Flat(at)
	along := flat.X
	if q.broken.Axis == view.Upright {
		along = flat.Y
	}
	return slices.ContainsFunc(q.broken.Cuts, func(r view.Range) bool { return along > r.From-near && along < r.To+near })
}

// breakLines are the lines at which a broken view is broken off, on the sheet.
func (q *pane) breakLines() []picture.Curve {
	if q.broken == nil {
		return nil
	}
	return picture.MoveCurves(q.broken.Lines, q.scale, q.at)
}

// wantsBreak reports whether a sheet's views had better be broken and drawn larger,
// or on smaller paper.
func (l *layout) wantsBreak() bool {
	if l == nil || !l.legible() || l.paper.width*l.paper.height > breakPaper {
		return true
	}
	box := l.panes[0].outline()
	return min(box.Width(), box.Height()) < breakWide && l.scale.factor < 1
}
