package sheet

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"plansheaf/design/solid"
	"plansheaf/publish/picture"
)

// A detail shows a part of a view larger, within a ring.
type detail struct {
	letter string
	about  target
	scale  scale // zero: chosen by the sheet's
}

// A spot is where a detail's ring stands.
type spot struct {
	view   int
	middle point // on the view's paper before it is broken, at 1:1
	radius float64
	name   string
	scale  scale
}

// readDetails reads what the request asks for.
func (p *part) readDetails(r *Request, fault func(Fault)) []detail {
	var list []detail
	for i, v := range r.Views {
		if v.Kind != "detail" {
			continue
		}
		d := detail{letter: cmp.Or(v.Letter, letters(len(list)+1))}
		named := p.targets(v.Around)
		if len(named) == 0 {
			fault(Fault{"views", i, fmt.Sprintf("the part has no feature %q to show in detail", v.Around), "name a hole, a face or a shape of the part in around"})
			continue
		}
		d.about = named[0]
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

// detailReach is the radius on the part that a detail shows, in rims of its hole or in
// sizes of another feature.
const (
	detailReach = 2.4
	detailRound = 0.65
)

// spots are where the details stand that the author asks for.
func (l *layout) spots() []spot {
	var list []spot
	for _, d := range l.part.details {
		list = append(list, l.spotOf(d))
	}
	return list
}

// fineDetails adds, where the views are chosen here, details of what would be too
// small to read, as far as there is room.
func (l *layout) fineDetails() {
	if len(l.request.Views) > 0 {
		return
	}
	count := 0
	for _, q := range l.panes {
		if q.cut != nil && q.cut.base >= 0 {
			count++ // sections have the first letters
		}
	}
	for _, s := range l.fineSpots() {
		s.name = letters(count)
		for _, try := range scales { // as large as there is room for
			if try.factor > s.scale.factor || try.factor < 2*l.scale.factor-1e-9 {
				continue
			}
			board, marks := l.board.mark(), len(l.marks)
			s.scale = try
			if l.detailRing(s) && l.detailView(s) {
				count++
				break
			}
			l.board.back(board)
			l.marks = l.marks[:marks]
		}
	}
}

// spotOf is where an author's detail stands: in the view that shows its feature best.
func (l *layout) spotOf(d detail) spot {
	s := spot{view: -1, name: d.letter, scale: d.scale}
	if s.scale.factor == 0 {
		s.scale = l.larger(2)
	}
	if d.about.hole >= 0 {
		h := l.part.holes[d.about.hole]
		for i := range l.panes {
			if q := &l.panes[i]; q.covers(h) {
				s.view, s.middle, s.radius = i, q.eye.Flat(h.at), detailReach*d.about.reach+1/l.scale.factor
				return s
			}
		}
	}
	// The smallest picture of it can be shown the largest.
	faces, least := l.part.facesOf(d.about.name), math.Inf(1)
	for i := range l.panes {
		box, count := l.panes[i].seen(faces)
		if size := math.Hypot(box.Width(), box.Height()); count > 1 && size < least {
			least, s.view = size, i
			s.middle, s.radius = box.Centre(), detailRound*size+1/l.scale.factor
		}
	}
	if s.view < 0 { // no line is its own: around its box
		q := &l.panes[0]
		s.view, s.middle, s.radius = 0, q.eye.Flat(d.about.at), detailRound*2*d.about.reach+1/l.scale.factor
	}
	return s
}

// facesOf are the names of a feature's faces.
func (p *part) facesOf(name string) []string {
	names := []string{name}
	for _, i := range p.features[name].Faces {
		if face := p.solid.Faces[i].Name; !slices.Contains(names, face) {
			names = append(names, face)
		}
	}
	return names
}

// seen is the box around the visible lines of some faces in the view, and how many
// there are.
func (q *pane) seen(faces []string) (box picture.Box, count int) {
	box = picture.Nothing
	if q.drawing == nil {
		return box, 0
	}
	for _, line := range q.drawing.Lines {
		if line.Visible && slices.ContainsFunc(line.Faces, func(f string) bool { return slices.Contains(faces, f) }) {
			box = box.Join(picture.CurveBounds(line.Curves))
			count++
		}
	}
	return box, count
}

// larger is the smallest scale of the series that shows times the sheet's size.
func (l *layout) larger(times float64) scale {
	best := scales[0]
	for _, s := range scales {
		if s.factor >= times*l.scale.factor-1e-9 {
			best = s
		}
	}
	return best
}

// What is too small to read, mm on paper.
const (
	fineSize   = 2.0 // a step or a groove drawn smaller wants a detail
	fineHeight = 0.7 // a shoulder drawn lower
	fineShown  = 5.0 // how large the detail shows it at least
	fineRing   = 2.8 // least radius of the ring
	mostFine   = 2   // details that are added unasked
)

// fineSpots are details of what would be too small to read: grooves and collars of
// turned parts, small steps of others.
func (l *layout) fineSpots() []spot {
	p := l.part
	if p.body == Bar || p.meshed {
		return nil
	}
	var list []spot
	for i, b := range p.barrels {
		size := (b.to - b.from) * l.scale.factor
		if b.thread != nil || size < near || len(list) == mostFine {
			continue
		}
		low := i > 0 && math.Abs(b.d-p.barrels[i-1].d)/2*l.scale.factor < fineHeight && p.barrels[i-1].axis == b.axis && math.Abs(p.barrels[i-1].to-b.from) < near
		switch {
		case size < fineSize:
			list = append(list, l.fineBarrel(b, b.centre, size)...)
		case low && math.Abs(b.d-p.barrels[i-1].d) > near:
			list = append(list, l.fineBarrel(b, b.centre.Sub(b.axis.Vec().Mul((b.to-b.from)/2)), math.Abs(b.d-p.barrels[i-1].d)/2*l.scale.factor)...)
		}
	}
	if list == nil {
		list = l.fineSteps()
	}
	return oneEach(list)
}

// oneEach leaves of details whose rings reach into each other one, the larger.
func oneEach(list []spot) (kept []spot) {
	for _, s := range list {
		k := slices.IndexFunc(kept, func(o spot) bool { return o.view == s.view && o.middle.Distance(s.middle) < o.radius+s.radius })
		switch {
		case k < 0:
			kept = append(kept, s)
		case s.scale.factor > kept[k].scale.factor:
			kept[k].scale = s.scale
		}
	}
	return kept
}

// fineBarrel is the detail of a groove, collar or shoulder at its rim in the view that
// shows it from the side.
func (l *layout) fineBarrel(b barrel, at solid.Vec, size float64) []spot {
	for i := range l.panes {
		q := &l.panes[i]
		if sameAxis(q.eye.Toward, b.axis) || q.cut != nil && !q.cut.half {
			continue
		}
		side := q.eye.Up
		if sameAxis(side, b.axis) {
			side = q.eye.Right.Mul(-1) // the half that a half section leaves whole
		}
		return []spot{{view: i, middle: q.eye.Flat(at.Add(side.Mul(b.d / 2))), radius: fineRing / l.scale.factor, scale: l.fineScale(size)}}
	}
	return nil
}

// fineScale shows what is drawn as large as size on paper well.
func (l *layout) fineScale(size float64) scale { return l.larger(max(2, fineShown/size)) }

// fineSteps are details of short edges across the axes that lie near each other: the
// sides of small steps, grooves and pockets. Equal ones get one detail.
func (l *layout) fineSteps() []spot {
	type cluster struct {
		box   picture.Box
		count int
		least float64
	}
	var list []spot
	known := map[string]bool{}
	for i := range l.panes {
		var clusters []cluster
		for _, line := range l.panes[i].fineLines(l.scale.factor) {
			box := line.Bounds()
			joined := false
			for k := range clusters {
				if c := &clusters[k]; c.box.Grow(fineSize / l.scale.factor).Overlaps(box.Grow(near)) {
					c.box, c.count, c.least, joined = c.box.Join(box), c.count+1, min(c.least, line.Length()), true
					break
				}
			}
			if !joined {
				clusters = append(clusters, cluster{box, 1, line.Length()})
			}
		}
		for _, c := range clusters {
			sign := fmt.Sprintf("%d %.2f %.2f", c.count, c.box.Width(), c.box.Height())
			turned := fmt.Sprintf("%d %.2f %.2f", c.count, c.box.Height(), c.box.Width())
			if c.count < 2 || known[sign] || known[turned] || len(list) == mostFine {
				continue
			}
			known[sign] = true
			radius := max(fineRing/l.scale.factor, math.Hypot(c.box.Width(), c.box.Height())*detailRound+1/l.scale.factor)
			list = append(list, spot{view: i, middle: c.box.Centre(), radius: radius, scale: l.fineScale(c.least * l.scale.factor)})
		}
	}
	return list
}

// fineLines are the visible edges along the paper's axes that are too short to read
// at a scale; those of holes have their callouts.
func (q *pane) fineLines(factor float64) []picture.Line {
	if q.drawing == nil {
		return nil
	}
	var list []picture.Line
	for _, line := range q.drawing.Lines {
		if !line.Visible || len(line.Curves) != 1 || ofHole(line.Faces) {
			continue
		}
		c, straight := line.Curves[0].(picture.Line)
		if !straight || c.Length() < near || c.Length()*factor > fineSize+near {
			continue
		}
		if d := c.B.Minus(c.A); math.Abs(d.X) < near || math.Abs(d.Y) < near {
			list = append(list, c)
		}
	}
	return list
}

// ringAt is where a detail's ring stands on the sheet, and its radius there.
func (l *layout) ringAt(s spot) (point, float64) {
	q := &l.panes[s.view]
	middle := s.middle
	if q.broken != nil {
		middle = q.broken.Paper(middle)
	}
	return q.to(middle), s.radius * q.scale
}

// detailRing rings what a detail shows, in its view. It reports whether the ring runs
// clear of all words.
func (l *layout) detailRing(s spot) bool {
	at, radius := l.ringAt(s)
	const chords = 36
	from := at.Plus(point{X: radius})
	for i := range chords {
		sin, cos := math.Sincos(2 * math.Pi * float64(i+1) / chords)
		to := at.Plus(point{X: radius * cos, Y: radius * sin})
		if words, _ := l.board.crossings(from, to); words > 0 {
			return false
		}
		from = to
	}
	l.stroke(picture.Thin, picture.Circle(at, radius)...)
	return true
}

// detailView names the ring and draws what is in it larger where there is room. It
// reports whether there was.
func (l *layout) detailView(s spot) bool {
	q := &l.panes[s.view]
	radius := s.radius * s.scale.factor
	head := picture.Text{Words: fmt.Sprintf("%s (%s)", s.name, s.scale.name), Height: 3.5, Face: picture.SansBold, Anchor: picture.Middle, Class: "view-name"}
	box, ok := l.freePlace(max(2*radius, head.Width()), 2*radius+8)
	if !ok {
		return false
	}
	middle := point{X: box.Centre().X, Y: box.Max.Y - radius}
	head.At = point{X: middle.X, Y: box.Min.Y + 4}
	at := middle.Minus(s.middle.Times(s.scale.factor))
	var inside []picture.Mark
	if len(q.whole.cut) > 0 {
		hatch := picture.Hatch(picture.MoveCurves(q.whole.cut, s.scale.factor, at), hatchAngle, hatchSpacing)
		inside = append(inside, picture.Path{Curves: hatch, Line: picture.Hatching})
	}
	for _, part := range q.whole.parts() {
		if len(part.curves) > 0 {
			inside = append(inside, picture.Path{Curves: picture.MoveCurves(part.curves, s.scale.factor, at), Line: part.line})
		}
	}
	l.add(picture.Group{ID: "detail-" + s.name, Class: "view", Title: "Detail " + s.name, Marks: []picture.Mark{
		picture.Clip{Outline: picture.Circle(middle, radius), Marks: inside},
		picture.Path{Curves: picture.Circle(middle, radius), Line: picture.Thin}, head}})
	l.board.take(box)
	ring, reach := l.ringAt(s)
	return l.leader(leaderRequest{tips: rimTips(ring, reach, point{}), lines: []string{s.name}, class: "view-name", plain: true, box: q.outline()})
}
