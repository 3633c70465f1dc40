package sheet

import (
	"math"

	"plansheaf/design/solid"
	"plansheaf/publish/picture"
	"plansheaf/publish/view"
)

// Cutting plane on paper, mm.
const (
	cutOut    = 4.0 // first place of its end beyond the outline
	cutWide   = 6.0 // length of the wide end
	cutTries  = 12  // places further out, rowStep apart
	cutCorner = 4.0 // most of a wide leg at a corner
)

// cuttingPlanes draws the ends of each section's planes in its base view: wide
// strokes, arrows in the direction of sight, the letter at both ends; and names the
// section. It reports whether all letters found a place.
func (l *layout) cuttingPlanes() bool {
	ok := true
	for i := range l.panes {
		if q := &l.panes[i]; q.cut != nil && q.cut.base >= 0 {
			ok = l.cuttingPlane(q) && ok
			ok = l.sectionName(q) && ok
		}
	}
	return ok
}

// cutSteps draws, in its base view, the wide corners where a stepped section changes
// from plane to plane (ISO 128-3); the narrow chain line is one of the centre lines.
func (l *layout) cutSteps() {
	for i := range l.panes {
		q := &l.panes[i]
		if q.cut == nil || q.cut.base < 0 || q.cut.half || len(q.cut.steps) < 2 {
			continue
		}
		path := l.cutPath(q)
		for k := 1; k+1 < len(path); k++ {
			for _, to := range []point{path[k-1], path[k+1]} {
				way := to.Minus(path[k])
				if d := path[k].Distance(to); d > near {
					l.stroke(picture.Visible, picture.Line{A: path[k], B: path[k].Plus(way.Times(min(cutCorner, d/2) / d))})
				}
			}
		}
	}
}

// cutLines are the planes of the sections through a view as lines, a little longer
// than that.
func (l *layout) cutLines(base int) (list []stretch) {
	for i := range l.panes {
		q := &l.panes[i]
		if q.cut == nil || q.cut.base != base {
			continue
		}
		path := l.cutPath(q)
		last := len(path) - 2
		for k, from := range path[:last+1] {
			to := path[k+1]
			if d := from.Distance(to); d > near {
				out := to.Minus(from).Times(centreOut / d)
				if k == 0 {
					from = from.Minus(out)
				}
				if k == last {
					to = to.Plus(out)
				}
			}
			list = append(list, stretch{from, to})
		}
	}
	return list
}

// cutPath is a section's planes as a line on the sheet, from where it enters the
// outline of its base view to where it leaves it.
func (l *layout) cutPath(q *pane) []point {
	base := &l.panes[q.cut.base]
	run := q.cut.direction(q.eye).Right
	spot := func(along, at float64) point {
		return base.place(run.Mul(along).Add(q.eye.Toward.Mul(at)))
	}
	flat := func(s view.Step) float64 { // a half section's plane runs through the whole half too
		if math.IsInf(s.At, 1) {
			return q.cut.steps[1].At
		}
		return s.At
	}
	first, last := q.cut.steps[0], q.cut.steps[len(q.cut.steps)-1]
	way := base.eye.Flat(run)
	path := []point{boxExit(base.outline(), spot(0, flat(first)), way.Times(-1))}
	for k, s := range q.cut.steps[1:] {
		if before := flat(q.cut.steps[k]); before != flat(s) {
			path = append(path, spot(s.From, before), spot(s.From, flat(s)))
		}
	}
	return append(path, boxExit(base.outline(), spot(0, flat(last)), way))
}

func (l *layout) cuttingPlane(q *pane) bool {
	base := &l.panes[q.cut.base]
	sight := base.eye.Flat(q.eye.Toward.Mul(-1)) // on the base view's paper
	run := base.eye.Flat(q.cut.direction(q.eye).Right)
	path := l.cutPath(q)
	for k, edge := range []point{path[0], path[len(path)-1]} {
		dir := run.Times(float64(2*k - 1))
		placed := false
		for try := 0; try < cutTries && !placed; try++ {
			from := edge.Plus(dir.Times(cutOut + float64(try)*rowStep/2))
			to := from.Plus(dir.Times(cutWide))
			tail := from.Plus(to).Times(0.5).Minus(sight.Times(9))
			head := from.Plus(to).Times(0.5).Minus(sight.Times(0.8))
			name := picture.Text{Words: q.cut.letter, Height: 3.5, Face: picture.SansBold, Anchor: picture.Middle, Rise: picture.MidCapital,
				At: tail.Minus(sight.Times(3.2)), Class: "view-name"}
			words, _ := l.board.crossings(tail, head)
			wide, _ := l.board.crossings(from, to)
			if words+wide > 0 || !l.board.free(name.Bounds()) {
				continue
			}
			l.board.take(name.Bounds())
			if try > 0 {
				l.chainOut(edge.Plus(dir.Times(centreOut)), from)
			}
			l.stroke(picture.Visible, picture.Line{A: from, B: to})
			l.stroke(picture.Thin, picture.Line{A: tail, B: head})
			l.add(arrow(head, sight), name)
			placed = true
		}
		if !placed {
			return false
		}
	}
	return true
}

// chainOut carries a cutting plane's line on to its wide end where that had to move
// out and no words stand between.
func (l *layout) chainOut(a, b point) {
	if words, _ := l.board.crossings(a, b); words == 0 {
		l.stroke(picture.Centre, picture.Line{A: a, B: b})
	}
}

// boxExit is where a way from a point along a side's direction leaves a box.
func boxExit(box picture.Box, from, dir point) point {
	if math.Abs(dir.X) > math.Abs(dir.Y) {
		if dir.X > 0 {
			return point{X: box.Max.X, Y: from.Y}
		}
		return point{X: box.Min.X, Y: from.Y}
	}
	if dir.Y > 0 {
		return point{X: from.X, Y: box.Max.Y}
	}
	return point{X: from.X, Y: box.Min.Y}
}

// sectionName writes "A–A" above or below the section.
func (l *layout) sectionName(q *pane) bool {
	box := q.outline()
	text := picture.Text{Words: q.cut.letter + "–" + q.cut.letter, Height: 3.5, Face: picture.SansBold, Anchor: picture.Middle, Class: "view-name"}
	for out := 5.0; out < 60; out += 2 {
		for _, y := range []float64{box.Min.Y - out, box.Max.Y + out + text.Height} {
			for _, x := range []float64{box.Centre().X, box.Min.X + box.Width()/4, box.Max.X - box.Width()/4} {
				text.At = point{X: x, Y: y}
				if l.board.free(text.Bounds()) {
					l.board.take(text.Bounds())
					l.add(text)
					return true
				}
			}
		}
	}
	return false
}

// cutTips are the places on the walls of holes that a section shows cut along their
// axes, reached through their mouths; nil for none.
func (l *layout) cutTips(holes []int) (int, []tip) {
	for i := range l.panes {
		q := &l.panes[i]
		if q.cut == nil {
			continue
		}
		var tips []tip
		for _, k := range holes {
			if h := l.part.holes[k]; q.cut.holds(q.eye, h) {
				tips = append(tips, l.wallTips(q, h)...)
			}
		}
		if tips != nil {
			return i, tips
		}
	}
	return 0, nil
}

// wallTips are tips on both walls of a hole, near its mouth, and near its other end
// when that is open.
func (l *layout) wallTips(q *pane, h hole) []tip {
	side := h.dir.Cross(q.eye.Toward)
	type end struct {
		at  solid.Vec
		out solid.Vec
	}
	in := h.dir.Mul(min(h.depth, h.d) / 4)
	ends := []end{{h.at.Add(h.dir.Mul(h.mouthDepth())).Add(in), h.dir.Mul(-1)}}
	if h.through {
		ends = append(ends, end{h.end().Sub(in), h.dir})
	}
	var tips []tip
	for _, e := range ends {
		for _, way := range []float64{1, -1} {
			wall := e.at.Add(side.Mul(way * h.d / 2))
			if math.IsInf(q.cut.plane(q.eye, wall.Add(side.Mul(way*near*2))), 1) {
				continue // on the whole half
			}
			away := q.eye.Flat(e.out.Sub(side.Mul(way)).Unit())
			tips = append(tips, tip{q.place(wall), away})
		}
	}
	return tips
}

// mouthDepth is how deep the mouth's counterbore or countersink reaches.
func (h hole) mouthDepth() float64 {
	switch {
	case h.made == nil:
	case h.made.Counterbore != nil:
		return h.made.Counterbore.Depth
	case h.made.Countersink != nil:
		return (h.made.Countersink.D - h.d) / 2 / math.Tan(h.made.Countersink.Angle/2)
	}
	return 0
}
