package sheet

import (
	"math"

	"plansheaf/design/solid"
	"plansheaf/publish/picture"
)

// layout is one try at a sheet: a paper, a scale, and everything on it.
type layout struct {
	request *Request
	part    *part
	scheme  *scheme
	paper   paper
	scale   scale
	panes   []pane
	board   *board
	marks   []picture.Mark
	height  float64 // of dimension letters, mm
	labels  float64 // of the hole table's letters where they differ, mm
	running running // which dimensions from one datum run along one line
	forced  bool    // the last try: what finds no place is left out
}

// Distances on paper, mm.
const (
	firstRow  = 9.0  // from the outline to the nearest dimension line
	rowStep   = 7.5  // between dimension lines
	arrowLong = 2.6  // length of an arrowhead
	arrowWide = 0.85 // width of an arrowhead
	overrun   = 1.5  // extension line beyond its dimension line
	gap       = 1.0  // between outline and extension line
	lift      = 0.7  // between dimension line and the bottom of its text
	shoulder  = 2.0  // shortest level end of a leader
	centreOut = 2.5  // centre mark beyond its circle
)

// lettering height for a paper: 2.5 mm on A4 and A3, 3.5 mm above (ISO 3098).
func (p paper) lettering() float64 {
	if p.group() > 0.6 {
		return 3.5
	}
	return 2.5
}

// to is a point of the view's 1:1 paper on the sheet.
func (q *pane) to(flat point) point { return q.at.Plus(flat.Times(q.scale)) }

// place is a point of the part on the sheet.
func (q *pane) place(p solid.Vec) point {
	flat := q.eye.Flat(p)
	if q.broken != nil {
		flat = q.broken.Paper(flat)
	}
	return q.to(flat)
}

// outline is the box of the view on the sheet.
func (q *pane) outline() picture.Box {
	return picture.Box{Min: q.to(q.extent.Min), Max: q.to(q.extent.Max)}
}

// across reports whether an axis runs right or left on the view's paper, or up
// or down; neither when it runs along the line of sight.
func (q *pane) across(a solid.Axis) (horizontal, vertical bool) {
	return sameAxis(q.eye.Right, a), sameAxis(q.eye.Up, a)
}

// hatch is the hatching of what the view's section cuts, on the sheet.
func (q *pane) hatch() []picture.Curve {
	return picture.Hatch(picture.MoveCurves(q.curves.cut, q.scale, q.at), hatchAngle, hatchSpacing)
}

// add paints marks.
func (l *layout) add(marks ...picture.Mark) { l.marks = append(l.marks, marks...) }

// stroke paints curves and records them on the board.
func (l *layout) stroke(line picture.LineType, curves ...picture.Curve) {
	if len(curves) == 0 {
		return
	}
	l.board.draw(curves...)
	l.add(picture.Path{Curves: curves, Line: line})
}

// views paints what each view shows, then centre lines and marks.
func (l *layout) views() {
	for i := range l.panes {
		q := &l.panes[i]
		group := picture.Group{ID: "view-" + q.eye.name, Class: "view", Title: q.eye.name + " view"}
		if q.cut != nil {
			group.ID, group.Title = "section-"+q.cut.letter, q.name()
		}
		for _, part := range q.curves.parts() {
			if len(part.curves) == 0 {
				continue
			}
			moved := picture.MoveCurves(part.curves, q.scale, q.at)
			l.board.draw(moved...)
			group.Marks = append(group.Marks, picture.Path{Curves: moved, Line: part.line})
		}
		if torn := q.breakLines(); len(torn) > 0 {
			l.board.draw(torn...)
			group.Marks = append(group.Marks, picture.Path{Curves: torn, Line: picture.Thin})
		}
		if hatch := q.hatch(); len(hatch) > 0 {
			l.board.draw(hatch...)
			group.Marks = append(group.Marks, picture.Path{Curves: hatch, Line: picture.Hatching})
		}
		l.add(group)
	}
	for i := range l.panes {
		l.centres(i)
	}
}

// centres paints centre marks on holes and round steps seen end on, centre lines
// on those seen from the side, pitch circles, and the planes of sections, which
// had better be one line with the centre line that they follow.
func (l *layout) centres(index int) {
	q := &l.panes[index]
	chains := l.cutLines(index)
	cross := func(centre point, radius float64) {
		reach := radius + centreReach(radius)
		chains = append(chains, stretch{point{X: centre.X - reach, Y: centre.Y}, point{X: centre.X + reach, Y: centre.Y}},
			stretch{point{X: centre.X, Y: centre.Y - reach}, point{X: centre.X, Y: centre.Y + reach}})
	}
	axisLine := func(from, to solid.Vec) {
		a, b := q.place(from), q.place(to)
		if d := b.Minus(a); a.Distance(b) > 0.5 {
			out := d.Times(centreOut / a.Distance(b))
			chains = append(chains, stretch{a.Minus(out), b.Plus(out)})
		}
	}
	for _, h := range l.part.holes {
		if len(l.part.holes) > mostHoles {
			break
		}
		centre, ring := l.part.circles[h.pattern]
		switch {
		case q.cut != nil && !q.shows(h):
			// Before the plane it is gone, behind it it is not seen.
		case math.Abs(h.dir.Dot(q.eye.Toward)) < 1e-9:
			axisLine(h.at, h.end())
		case !sameWay(h.dir, q.eye.Toward):
		case h.long > 0:
			chains = append(chains, slotCentre(q, h)...)
		case ring:
			chains = append(chains, spoke(q.place(centre), q.place(h.at), h.rim()*q.scale))
		default:
			cross(q.place(h.at), h.rim()*q.scale)
		}
	}
	for _, span := range l.part.axes() {
		if sameWay(span.axis.Vec(), q.eye.Toward) {
			cross(q.place(span.from), span.d/2*q.scale)
		} else {
			axisLine(span.from, span.to)
		}
	}
	for _, r := range l.part.rounds {
		for i, c := range r.at {
			if r.sweep[i][1]-r.sweep[i][0] > math.Pi-1e-6 && sameWay(c.Z, q.eye.Toward) && q.cut == nil {
				cross(q.place(c.O), c.R*q.scale)
			}
		}
	}
	if l.part.body != Bar && !l.part.meshed {
		chains = append(chains, q.symmetry()...)
	}
	for _, c := range joinChains(chains) {
		l.stroke(picture.Centre, picture.Line{A: c.a, B: c.b})
	}
	l.pitchCircles(q)
}

// spoke marks a hole of a ring across its pitch circle.
func spoke(middle, hole point, radius float64) stretch {
	reach := radius + centreReach(radius)
	out := hole.Minus(middle).Times(reach / hole.Distance(middle))
	return stretch{hole.Minus(out), hole.Plus(out)}
}

// joinChains makes one of centre lines that lie over each other, since two dash
// patterns on one line blot each other out.
func joinChains(list []stretch) []stretch {
	const off = 0.02 // mm
	var joined []stretch
	for _, c := range list {
		if c.a.Distance(c.b) < 1 {
			continue
		}
		for i := 0; i < len(joined); i++ {
			j := joined[i]
			way := c.b.Minus(c.a).Times(1 / c.a.Distance(c.b))
			across := func(p point) float64 { d := p.Minus(c.a); return math.Abs(d.X*way.Y - d.Y*way.X) }
			along := func(p point) float64 { d := p.Minus(c.a); return d.X*way.X + d.Y*way.Y }
			if across(j.a) > off || across(j.b) > off {
				continue
			}
			low, high := min(along(j.a), along(j.b)), max(along(j.a), along(j.b))
			if low > c.a.Distance(c.b)+off || high < -off {
				continue
			}
			from, to := min(low, 0), max(high, c.a.Distance(c.b))
			c = stretch{c.a.Plus(way.Times(from)), c.a.Plus(way.Times(to))}
			joined = append(joined[:i], joined[i+1:]...)
			i = -1 // longer now: it may reach others
		}
		joined = append(joined, c)
	}
	return joined
}

// centreReach is how far a centre mark stands out beyond its circle: less on
// small ones.
func centreReach(radius float64) float64 { return min(centreOut, 1+radius/2) }

// slotCentre marks both ends' centres and the middle of an obround.
func slotCentre(q *pane, h hole) []stretch {
	half := h.along.Mul((h.long - h.d) / 2)
	a, b := q.place(h.at.Sub(half)), q.place(h.at.Add(half))
	radius := h.d / 2 * q.scale
	reach := radius + centreReach(radius)
	along := b.Minus(a)
	if d := a.Distance(b); d > 0 {
		along = along.Times(1 / d)
	}
	list := []stretch{{a.Minus(along.Times(reach)), b.Plus(along.Times(reach))}}
	normal := point{X: -along.Y, Y: along.X}.Times(reach)
	for _, end := range []point{a, b, a.Plus(b).Times(0.5)} {
		list = append(list, stretch{end.Minus(normal), end.Plus(normal)})
	}
	return list
}

// pitchCircles paints the circles on which rings of holes stand.
func (l *layout) pitchCircles(q *pane) {
	for _, g := range l.part.groups {
		centre, ring := l.part.circles[g.pattern]
		h := l.part.holes[g.holes[0]]
		if !ring || !sameWay(h.dir, q.eye.Toward) {
			continue
		}
		radius := h.at.Dist(centre) * q.scale
		at := q.place(centre)
		l.stroke(picture.Centre, picture.Circle(at, radius)...)
		if len(l.holesAt(centre)) > 0 {
			continue // a bore in the middle has its mark
		}
		arm := min(centreOut, radius/2)
		l.stroke(picture.Thin, picture.Line{A: point{X: at.X - arm, Y: at.Y}, B: point{X: at.X + arm, Y: at.Y}},
			picture.Line{A: point{X: at.X, Y: at.Y - arm}, B: point{X: at.X, Y: at.Y + arm}})
	}
}

// holesAt are the holes whose middle lies on the line of sight of a point.
func (l *layout) holesAt(at solid.Vec) []int {
	var list []int
	for i, h := range l.part.holes {
		off := h.at.Sub(at)
		if off.Sub(h.dir.Mul(off.Dot(h.dir))).Len() < near {
			list = append(list, i)
		}
	}
	return list
}

// An axisSpan is an axis that round steps share, with the largest diameter.
type axisSpan struct {
	axis     solid.Axis
	from, to solid.Vec
	d        float64
}

// axes of the part's round steps, steps on one line joined.
func (p *part) axes() []axisSpan {
	var list []axisSpan
	for _, b := range p.barrels {
		dir := b.axis.Vec()
		from := b.centre.Add(dir.Mul(b.from - on(b.centre, b.axis)))
		to := b.centre.Add(dir.Mul(b.to - on(b.centre, b.axis)))
		joined := false
		for i := range list {
			s := &list[i]
			off := s.from.Sub(from)
			if s.axis == b.axis && off.Sub(dir.Mul(off.Dot(dir))).Len() < near {
				if on(from, b.axis) < on(s.from, b.axis) {
					s.from = from
				}
				if on(to, b.axis) > on(s.to, b.axis) {
					s.to = to
				}
				s.d, joined = max(s.d, b.d), true
				break
			}
		}
		if !joined {
			list = append(list, axisSpan{b.axis, from, to, b.d})
		}
	}
	return list
}

// arrow is a filled arrowhead whose tip stands at tip and which points along a
// unit direction.
func arrow(tip, direction point) picture.Path {
	back := tip.Minus(direction.Times(arrowLong))
	side := point{X: -direction.Y, Y: direction.X}.Times(arrowWide / 2)
	return picture.Path{Curves: picture.Polygon(tip, back.Plus(side), back.Minus(side)), Fill: picture.Ink}
}
