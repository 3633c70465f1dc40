package sheet

import (
	"cmp"
	"fmt"
	"math"

	"plansheaf/design/solid"
	"plansheaf/publish/picture"
	"plansheaf/publish/view"
)

// A cut is a section that a view shows: the part without what lies before a
// plane across the line of sight.
type cut struct {
	letter string
	at     float64 // place of the plane along the line of sight
	base   int     // the view in which the plane is drawn as a line
}

// Hatching on paper, ISO 128-3: 45 degrees, the lines well apart.
const (
	hatchAngle   = math.Pi / 4
	hatchSpacing = 2.2
)

// sections turns views into sections, or adds them, as the request asks.
func (p *part) sections(r *Request, panes []pane, fault func(Fault)) []pane {
	count := 0
	for i, v := range r.Views {
		if v.Kind != "section" {
			continue
		}
		letter := cmp.Or(v.Letter, letters(count))
		count++
		complain := func(format string, args ...any) {
			fault(Fault{"views", i, fmt.Sprintf(format, args...), "name a hole of the part in through"})
		}
		named := p.holesNamed(v.Through)
		if len(named) == 0 {
			complain("the part has no hole %q to cut through", v.Through)
			continue
		}
		added, ok := p.addSection(panes, p.holes[named[0]], letter, r.Projection)
		if !ok {
			complain("no view shows the hole %q as a circle, or all views beside it are cut already", v.Through)
			continue
		}
		panes = added
	}
	return panes
}

// addSection adds one section through a hole: the plane runs along the longer side
// of the view that shows the hole as a circle.
func (p *part) addSection(panes []pane, h hole, letter string, projection Projection) ([]pane, bool) {
	for base := range panes {
		e := panes[base].eye
		if !e.covers(h) || panes[base].cut != nil {
			continue
		}
		sides := []side{{0, -1}, {0, 1}, {1, 0}, {-1, 0}}
		if p.extent(e.Up) > p.extent(e.Right) {
			sides = []side{{1, 0}, {-1, 0}, {0, -1}, {0, 1}}
		}
		// A view that stands already is cut before a new one is added.
		for _, fresh := range []bool{false, true} {
			for _, s := range sides {
				q := s.pane(e, projection)
				q.column, q.row = q.column+panes[base].column, q.row+panes[base].row
				q.cut = &cut{letter: letter, at: h.at.Dot(q.eye.Toward), base: base}
				index := indexOf(panes, q.column, q.row)
				switch {
				case fresh && index < 0:
					return append(panes, q), true
				case !fresh && index > 0 && panes[index].cut == nil && panes[index].eye.Toward.Dist(q.eye.Toward) < 1e-9:
					panes[index].cut = q.cut
					return panes, true
				}
			}
		}
	}
	return nil, false
}

func indexOf(panes []pane, column, row int) int {
	for i, q := range panes {
		if q.column == column && q.row == row {
			return i
		}
	}
	return -1
}

// cutAway is the part without what lies before the plane.
func (p *part) cutAway(e eye, at float64) (*solid.Solid, error) {
	box := p.box.Grow(1)
	axis, up := axisOf(e.Toward)
	plane := at
	if !up {
		plane = -at
	}
	// The block reaches from the plane to beyond the part, on the eye's side.
	set := func(v *solid.Vec, value float64) {
		switch axis {
		case solid.AxisX:
			v.X = value
		case solid.AxisY:
			v.Y = value
		default:
			v.Z = value
		}
	}
	if up {
		set(&box.Min, plane)
	} else {
		set(&box.Max, plane)
	}
	block, err := solid.Build(solid.Shape{Base: solid.Group{{Shape: solid.Block{Size: box.Size()}}}})
	if err != nil {
		return nil, fmt.Errorf("cut through the part: %w", err)
	}
	rest, err := solid.Subtract(p.solid, block.Placed(solid.Moved(box.Min)))
	if err != nil {
		return nil, fmt.Errorf("cut through the part: %w", err)
	}
	return rest, nil
}

// projectCut draws a section: what lies behind the plane without hidden lines,
// and the outlines of what the plane cuts.
func (p *part) projectCut(e eye, at float64) (drawn, error) {
	rest, err := p.cutAway(e, at)
	if err != nil {
		return drawn{}, err
	}
	drawing, err := view.Project([]view.Body{{Solid: rest, At: solid.Stay}}, e.Direction, view.Options{VisibleOnly: true})
	if err != nil {
		return drawn{}, err
	}
	d := layered(drawing, func(view.Line) bool { return false })
	for i := range rest.Faces {
		f := &rest.Faces[i]
		plane, flat := f.Surface.(solid.Plane)
		if !flat || math.Abs(plane.O.Dot(e.Toward)-at) > near || !sameWay(plane.Z, e.Toward) {
			continue
		}
		for _, loop := range f.Loops {
			for _, use := range loop {
				d.cut = append(d.cut, flatten(e, &rest.Edges[use.Edge])...)
			}
		}
	}
	return d, nil
}

// flatten draws an edge that lies across the line of sight.
func flatten(e eye, edge *solid.Edge) []picture.Curve {
	half := func(x, y solid.Vec, a, b float64, centre solid.Vec) picture.Curve {
		// On the paper y runs down, so a curve that turns from its X to its Y
		// anticlockwise there has a negative sweep.
		long, short := e.Flat(x), e.Flat(y)
		arc := picture.Arc{Centre: e.Flat(centre), RX: a, RY: b, Tilt: math.Atan2(long.Y, long.X), Start: edge.T0, Sweep: edge.T1 - edge.T0}
		if long.X*short.Y-long.Y*short.X < 0 {
			arc.Start, arc.Sweep = -arc.Start, -arc.Sweep
		}
		return arc
	}
	switch c := edge.Curve.(type) {
	case solid.Line:
		return []picture.Curve{picture.Line{A: e.Flat(edge.Point(0)), B: e.Flat(edge.Point(1))}}
	case solid.Circle:
		return []picture.Curve{half(c.X, c.Y, c.R, c.R, c.O)}
	case solid.Ellipse:
		return []picture.Curve{half(c.X, c.Y, c.A, c.B, c.O)}
	}
	const chords = 48
	var curves []picture.Curve
	from := e.Flat(edge.Point(0))
	for i := range chords {
		to := e.Flat(edge.Point(float64(i+1) / chords))
		curves = append(curves, picture.Line{A: from, B: to})
		from = to
	}
	return curves
}

// Cutting plane on paper, mm.
const (
	cutOut   = 4.0 // first place of its end beyond the outline
	cutWide  = 6.0 // length of the wide end
	cutTries = 12  // places further out, rowStep apart
)

// cuttingPlanes draws each section's plane in its base view: wide ends, arrows in
// the direction of sight, the letter at both ends (ISO 128-3 leaves the narrow
// chain line between open; it would blot the centre line that is there already);
// and names the section. It reports whether all letters found a place.
func (l *layout) cuttingPlanes() bool {
	ok := true
	for i := range l.panes {
		if q := &l.panes[i]; q.cut != nil {
			ok = l.cuttingPlane(q) && ok
			ok = l.sectionName(q) && ok
		}
	}
	return ok
}

func (l *layout) cuttingPlane(q *pane) bool {
	base := &l.panes[q.cut.base]
	sight := base.eye.Flat(q.eye.Toward.Mul(-1)) // on the base view's paper
	along := point{X: -sight.Y, Y: sight.X}
	box := base.outline()
	middle := base.to(base.eye.Flat(q.eye.Toward.Mul(q.cut.at)))
	for _, way := range []float64{-1, 1} {
		dir := along.Times(way)
		edge := boxExit(box, middle, dir)
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
