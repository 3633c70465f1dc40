package sheet

import (
	"math"
	"slices"
	"strings"

	"plansheaf/design/solid"
	"plansheaf/publish/picture"
	"plansheaf/publish/view"
)

// drawn holds the lines of one view at 1:1, the part's origin at the paper's
// origin, x right, y down.
type drawn struct {
	visible []picture.Curve
	hidden  []picture.Curve
	thread  []picture.Curve // narrow: the other diameter of threads in view
	smooth  []picture.Curve // edges between faces that run on smoothly
	cut     []picture.Curve // outlines of what a section's plane cuts
}

// holeFaces begins the names of faces that holes made.
const holeFaces = "holes."

// ofHole reports whether one of a line's faces is a hole's.
func ofHole(faces []string) bool {
	return slices.ContainsFunc(faces, func(name string) bool { return strings.HasPrefix(name, holeFaces) })
}

// bounds of the part's outline.
func (d drawn) bounds() picture.Box {
	return picture.CurveBounds(d.visible).Join(picture.CurveBounds(d.hidden))
}

// empty reports whether there is nothing to see.
func (d drawn) empty() bool { return len(d.visible) == 0 }

// layered sorts a drawing's lines by line type; hidden ones only as far as
// wanted.
func layered(drawing *view.Drawing, wanted func(view.Line) bool) drawn {
	var d drawn
	for _, line := range drawing.Lines {
		switch {
		case !line.Visible && wanted(line):
			d.hidden = append(d.hidden, line.Curves...)
		case !line.Visible:
		case line.Kind == view.Thread:
			d.thread = append(d.thread, line.Curves...)
		case line.Kind == view.Smooth:
			d.smooth = append(d.smooth, line.Curves...)
		default:
			d.visible = append(d.visible, line.Curves...)
		}
	}
	return d
}

// project draws the part in one of its views.
func (p *part) project(q *pane) error {
	if q.cut != nil {
		curves, drawing, err := p.projectCut(q.eye, q.cut)
		if err != nil {
			return err
		}
		q.curves, q.drawing = curves, drawing
	} else {
		drawing, err := view.Project([]view.Body{{Solid: p.solid, At: solid.Stay}}, q.eye.Direction, view.Options{})
		if err != nil {
			return err
		}
		q.curves, q.drawing = p.layers(drawing), drawing
	}
	q.whole, q.extent = q.curves, q.curves.bounds()
	p.note(q)
	return nil
}

// note keeps what of the view is asked again and again: where its visible lines run,
// and which round steps show their silhouette.
func (p *part) note(q *pane) {
	q.lit, q.levels = nil, [2][]float64{}
	var lines []stretch
	for _, c := range q.whole.visible {
		line, straight := c.(picture.Line)
		if !straight {
			continue
		}
		lines = append(lines, stretch{line.A, line.B})
		if math.Abs(line.A.X-line.B.X) < near {
			q.levels[0] = append(q.levels[0], line.A.X)
		} else if math.Abs(line.A.Y-line.B.Y) < near {
			q.levels[1] = append(q.levels[1], line.A.Y)
		}
	}
	for i := range q.levels {
		slices.Sort(q.levels[i])
	}
	for i, b := range p.barrels {
		if sameAxis(q.eye.Toward, b.axis) {
			continue
		}
		side := b.axis.Vec().Cross(q.eye.Toward).Mul(b.d / 2)
		if q.onLine(lines, b.centre.Add(side)) || q.onLine(lines, b.centre.Sub(side)) {
			q.lit = append(q.lit, i)
		}
	}
}

// onLine reports whether a place lies on one of some lines of the view.
func (q *pane) onLine(lines []stretch, at solid.Vec) bool {
	flat := q.eye.Flat(at)
	spot := picture.BoxAround(flat).Grow(near)
	return slices.ContainsFunc(lines, func(s stretch) bool { return s.meets(spot) })
}

// edges reports whether a visible line of the view runs along a level of an axis.
func (q *pane) edges(axis solid.Axis, at float64) bool {
	flat := q.eye.Flat(axis.Vec().Mul(at))
	way, value := 0, flat.X
	if horizontal, _ := q.across(axis); !horizontal {
		way, value = 1, flat.Y
	}
	i, _ := slices.BinarySearch(q.levels[way], value-near)
	return i < len(q.levels[way]) && q.levels[way][i] < value+near
}

// layers sorts a view's lines. What a bar's section hides comes with the stock and
// would only blacken the drawing: of hidden lines, only those of holes are kept there.
func (p *part) layers(drawing *view.Drawing) drawn {
	return layered(drawing, func(line view.Line) bool {
		return p.body != Bar || ofHole(line.Faces)
	})
}

// pictureOf draws a solid from the front, the right and above, without what is
// hidden.
func pictureOf(s *solid.Solid) (drawn, error) {
	drawing, err := view.Project([]view.Body{{Solid: s, At: solid.Stay}}, view.Isometric, view.Options{VisibleOnly: true, Smooth: true})
	if err != nil {
		return drawn{}, err
	}
	return layered(drawing, func(view.Line) bool { return false }), nil
}

// A layer is curves of one line type.
type layer struct {
	curves []picture.Curve
	line   picture.LineType
}

// parts are the layers of a view in the order of painting: visible lines last,
// since they win where lines coincide (ISO 128-2).
func (d drawn) parts() []layer {
	return []layer{{d.hidden, picture.Hidden}, {d.thread, picture.Thin}, {d.smooth, picture.Hair}, {d.visible, picture.Visible}}
}

// small paints what is visible for pictures too small for hidden lines, with the
// outlines in a line type.
func (d drawn) small(factor float64, at point, outline picture.LineType) []picture.Mark {
	var marks []picture.Mark
	for _, l := range []layer{{d.smooth, picture.Hair}, {d.thread, picture.Hair}, {d.visible, outline}} {
		if len(l.curves) > 0 {
			marks = append(marks, picture.Path{Curves: picture.MoveCurves(l.curves, factor, at), Line: l.line})
		}
	}
	return marks
}
