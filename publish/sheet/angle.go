package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"plansheaf/design/solid"
	"plansheaf/publish/picture"
)

// same reports whether two links join the same levels.
func (l link) same(o link) bool {
	close := func(a, b float64) bool { return math.Abs(a-b) < near }
	return l.axis == o.axis && (close(l.a, o.a) && close(l.b, o.b) || close(l.a, o.b) && close(l.b, o.a))
}

// bevels dimensions chamfers: leg and angle in one, for all corners of one size that
// nothing else fixes.
func (s *scheme) bevels() {
	for _, c := range s.part.chamfers {
		var free []bevel
		var joined []link
		for _, b := range c.at {
			open := true
			for _, l := range b.links {
				i, j := s.part.levelAt(l.axis, l.a), s.part.levelAt(l.axis, l.b)
				open = open && i >= 0 && j >= 0 && (s.root(l.axis, i) != s.root(l.axis, j) || slices.ContainsFunc(joined, l.same))
			}
			if !open {
				continue
			}
			free, joined = append(free, b), append(joined, b.links...)
			s.joinBevels([]bevel{b})
		}
		if len(free) > 0 {
			s.bevel(c, free, "")
		}
	}
}

// joinBevels joins the levels that chamfers do.
func (s *scheme) joinBevels(at []bevel) {
	for _, b := range at {
		for _, l := range b.links {
			if i, j := s.part.levelAt(l.axis, l.a), s.part.levelAt(l.axis, l.b); i >= 0 && j >= 0 {
				s.join(l.axis, i, j)
			}
		}
	}
}

// bevel writes the dimension of chamfers of one size: "4× 2×45°" (ISO 129-1).
func (s *scheme) bevel(c chamfer, at []bevel, words string) *Dimension {
	leg := s.system.length(c.leg)
	if words != "" {
		leg += " " + words
	}
	text := fmt.Sprintf("%s×45° [%s]", leg, s.system.other().length(c.leg))
	if len(at) > 1 {
		text = fmt.Sprintf("%d× %s", len(at), text)
	}
	s.list = append(s.list, Dimension{Kind: Chamfer, Value: c.leg, Count: len(at), Text: text, bevels: at})
	return &s.list[len(s.list)-1]
}

// A corner is where the two sides of an angle meet, in a plane across an axis: unit
// vectors away from the vertex, and how far along them the sides reach.
type corner struct {
	normal solid.Axis
	vertex solid.Vec
	rays   [2]solid.Vec
	sides  [2][2]float64
}

// value of the angle in degrees.
func (c corner) value() float64 {
	return math.Acos(max(-1, min(1, c.rays[0].Dot(c.rays[1])))) * 180 / math.Pi
}

// corners of a slope with an axis: at either end, with the neighbour or its line
// beyond the corner, so that the angle is no more than a right one; without such
// neighbours, with the nearer of the plane's axes.
func (s slope) corner() corner {
	best, found := corner{}, false
	for k := range s.ends {
		if s.beside[k] == (solid.Vec{}) || !straight(s.beside[k]) {
			continue
		}
		c := s.cornerWith(k, s.beside[k])
		outside := c.rays[0].Dot(c.rays[1]) < 0
		if outside {
			c.rays[1], c.sides[1] = c.rays[1].Mul(-1), [2]float64{}
		}
		if !found || !outside && best.sides[1] == [2]float64{} {
			best, found = c, true
		}
	}
	if found {
		return best
	}
	plane := s.plane()
	along := plane[0]
	if math.Abs(on(s.dir(0), plane[1])) > math.Abs(on(s.dir(0), along)) {
		along = plane[1]
	}
	c := s.cornerWith(0, along.Vec().Mul(math.Copysign(1, on(s.dir(0), along))))
	c.sides[1] = [2]float64{}
	return c
}

// cornerWith is the corner at one end with another side.
func (s slope) cornerWith(end int, other solid.Vec) corner {
	c := corner{normal: s.normal, vertex: s.ends[end], rays: [2]solid.Vec{s.dir(end), other}}
	for k := range s.real {
		c.sides[0][k] = s.real[k].Sub(c.vertex).Dot(c.rays[0])
	}
	slices.Sort(c.sides[0][:])
	if s.ends[end] == s.real[end] { // the neighbour's length does not matter: it begins here
		c.sides[1] = [2]float64{0, math.Inf(1)}
	}
	return c
}

// angles gives slanted sides their angle instead of a coordinate, where that is a
// whole or half number of degrees: others come from their corners' places, which a
// rounded angle would blur.
func (s *scheme) angles() {
	s.onLines()
	for _, side := range s.part.slopes {
		c := side.corner()
		if degrees := c.value(); math.Abs(2*degrees-math.Round(2*degrees)) > 1e-4 {
			continue
		}
		if axis, free := s.openAxis(side); free {
			s.angleOf(c, axis, side, "")
		}
	}
}

// openAxis is the axis along which a slope's ends are not joined yet and one of them
// is nothing but a corner: what else lies at a level has a dimension of its own.
func (s *scheme) openAxis(side slope) (solid.Axis, bool) {
	best, most := solid.AxisX, 0
	for _, axis := range side.plane() {
		i, j := s.part.levelAt(axis, on(side.ends[0], axis)), s.part.levelAt(axis, on(side.ends[1], axis))
		if i < 0 || j < 0 || s.root(axis, i) == s.root(axis, j) {
			continue
		}
		score := 0
		for _, k := range []int{i, j} {
			if s.part.levels[axis][k].bare() {
				score++
			}
		}
		if score > most {
			best, most = axis, score
		}
	}
	return best, most > 0
}

// bare reports whether nothing but corners lie at a level.
func (l level) bare() bool { return len(l.names) == 1 && l.names[0] == "corner" }

// onLines ties the ends of slopes that lie on the line of a longer one, as where a
// pocket cuts a slanted side: one of each end's places follows from the other.
func (s *scheme) onLines() {
	for _, side := range s.part.slopes {
		for _, longer := range s.part.slopes {
			if !side.within(longer) {
				continue
			}
			for _, end := range side.ends {
				for _, axis := range side.plane() {
					i, j := s.part.levelAt(axis, on(end, axis)), s.part.levelAt(axis, on(longer.ends[0], axis))
					if i >= 0 && j >= 0 && s.part.levels[axis][i].bare() && s.root(axis, i) != s.root(axis, j) {
						s.tie(axis, i, j, "side")
						break
					}
				}
			}
			break
		}
	}
}

// within reports whether the slope lies on the line of a longer one.
func (s slope) within(o slope) bool {
	d := o.dir(0)
	off := func(p solid.Vec) float64 {
		v := flatten(p.Sub(o.ends[0]), s.normal)
		return v.Sub(d.Mul(v.Dot(d))).Len()
	}
	return s.normal == o.normal && s.ends[0].Dist(s.ends[1]) < o.ends[0].Dist(o.ends[1])-near && off(s.ends[0]) < near && off(s.ends[1]) < near
}

// angleOf writes an angle that joins the ends of a slope along an axis.
func (s *scheme) angleOf(c corner, axis solid.Axis, side slope, words string) *Dimension {
	low, high := on(side.ends[0], axis), on(side.ends[1], axis)
	s.join(axis, s.part.levelAt(axis, low), s.part.levelAt(axis, high))
	return s.stateAngle(c, axis, min(low, high), max(low, high), words)
}

func (s *scheme) stateAngle(c corner, axis solid.Axis, low, high float64, words string) *Dimension {
	text := degrees(c.value())
	if words != "" {
		text += " " + words
	}
	s.list = append(s.list, Dimension{Kind: Angle, Axis: axis.String(), axis: axis, Low: low, High: high, Value: c.value(), Count: 1,
		Text: text, From: "side", To: "corner", corner: c})
	return &s.list[len(s.list)-1]
}

// degrees prints an angle: hundredths of a degree.
func degrees(v float64) string { return decimals(v, 2) + "°" }

// angle follows a request for the angle of a slanted side, or of two sides.
func (a asker) angle() {
	p := a.part
	var first slope
	var other solid.Vec
	slanted := -1
	for k, name := range a.Angle {
		if i := p.slopeOf(name); i >= 0 && slanted < 0 {
			slanted, first = k, p.slopes[i]
		}
	}
	switch cone := p.coneOf(a.Angle[0]); {
	case len(a.Angle) == 1 && slanted < 0 && cone >= 0:
		a.taper(p.cones[cone])
		return
	case len(a.Angle) > 2:
		a.say("name one slanted side, or two sides", "an angle lies between two sides, not %d", len(a.Angle))
		return
	case slanted < 0:
		a.say("name a slanted side of the outline, side_1, a face that slants, or a cone", "nothing that slants is named %q", a.Angle[0])
		return
	case len(a.Angle) == 1:
		a.writeAngle(first.corner(), first)
		return
	}
	c, ok := corner{}, false
	name := a.Angle[1-slanted]
	if i := p.slopeOf(name); i >= 0 {
		c, ok = first.meets(p.slopes[i])
	} else if other, ok = p.runOf(name, first.normal); ok {
		c = first.corner()
		for k := range first.ends {
			if first.beside[k] != (solid.Vec{}) && sameWay(first.beside[k], other) {
				c = first.cornerWith(k, first.beside[k])
			}
		}
		if !sameWay(c.rays[1], other) { // not beside it: at an end, so that it is acute
			c = first.cornerWith(0, other.Mul(math.Copysign(1, other.Dot(first.dir(0)))))
			c.sides[1] = [2]float64{}
		}
	}
	if !ok {
		a.say("name two sides that are not level with each other", "%q and %q make no angle", a.Angle[0], a.Angle[1])
		return
	}
	a.writeAngle(c, first)
}

// coneOf is the cone that a name means, -1 for none.
func (p *part) coneOf(name string) int {
	return slices.IndexFunc(p.cones, func(b bevel) bool { return b.name != "" && (b.name == name || strings.HasPrefix(b.name, name+".")) })
}

// taper writes a cone's whole angle where that is a whole or half number of degrees;
// or has a tolerance, which is an angle; else its taper, the change of the diameter over
// the length, where that is one to a whole number (ISO 3040). With both diameters it fixes the cone's length.
func (a asker) taper(b bevel) {
	length := math.Abs(b.links[0].b - b.links[0].a)
	angle := 2 * math.Atan2(b.rise, length) * 180 / math.Pi
	text := "cone " + degrees(angle)
	ratio := length / (2 * b.rise)
	if a.Tolerance == "" && math.Abs(2*angle-math.Round(2*angle)) > 1e-4 && ratio > 1 && math.Abs(ratio-math.Round(ratio)) < 1e-6 {
		text = fmt.Sprintf("taper 1:%.0f", ratio)
	}
	if words := a.behind(0); words != "" {
		text += " " + words
	}
	if !a.Reference {
		a.joinBevels([]bevel{b})
	}
	a.list = append(a.list, Dimension{Kind: Taper, Value: angle, Count: 1, Text: text, To: b.name, bevels: []bevel{b}})
}

// writeAngle adds an angle; one that says what is fixed already joins its levels
// again, so that the audit finds it.
func (a asker) writeAngle(c corner, side slope) {
	axis, free := a.openAxis(side)
	if !free {
		axis = side.plane()[0]
		if !a.part.places(axis) {
			axis = side.plane()[1]
		}
	}
	if a.Reference {
		a.stateAngle(c, axis, 0, 0, "")
		return
	}
	a.angleOf(c, axis, side, a.behind(0))
}

// slopeOf is the slanted side that a name means: one of the outline, or an edge of a
// face of that name; -1 for none.
func (p *part) slopeOf(name string) int {
	if i, known := p.numbered(name, "side"); known && !p.sides[i].Arc {
		from, to := flat(p.sides[i].From), flat(p.sides[i].To)
		return slices.IndexFunc(p.slopes, func(s slope) bool {
			a, b := flatten(s.ends[0], solid.AxisZ), flatten(s.ends[1], solid.AxisZ)
			return s.normal == solid.AxisZ && (a.Dist(from) < near && b.Dist(to) < near || a.Dist(to) < near && b.Dist(from) < near)
		})
	}
	f, known := p.features[name]
	if !known {
		return -1
	}
	return slices.IndexFunc(p.slopes, func(s slope) bool {
		return slices.ContainsFunc(f.Faces, func(i int) bool { return s.lies(p.solid.Faces[i]) })
	})
}

// lies reports whether the slope is an edge of a slanted flat face.
func (s slope) lies(f solid.Face) bool {
	plane, flat := f.Surface.(solid.Plane)
	return flat && !straight(plane.Z) && math.Abs(on(plane.Z, s.normal)) < 1e-9 &&
		math.Abs(s.real[0].Sub(plane.O).Dot(plane.Z)) < near && math.Abs(s.real[1].Sub(plane.O).Dot(plane.Z)) < near
}

// runOf is the way in which a face or side of a name runs in the plane across an
// axis.
func (p *part) runOf(name string, normal solid.Axis) (solid.Vec, bool) {
	if i, known := p.numbered(name, "side"); known && !p.sides[i].Arc && normal == solid.AxisZ {
		return flat(p.sides[i].To).Sub(flat(p.sides[i].From)).Unit(), true
	}
	f, known := p.features[name]
	if !known || f.Kind != solid.FlatFace || math.Abs(on(f.Dir, normal)) > 1e-9 {
		return solid.Vec{}, false
	}
	return f.Dir.Cross(normal.Vec()).Unit(), true
}

// meets is the corner of two slopes in one plane; false for level ones.
func (s slope) meets(o slope) (corner, bool) {
	d, e := s.dir(0), o.dir(0)
	cross := d.Cross(e)
	if s.normal != o.normal || cross.Len() < 1e-6 {
		return corner{}, false
	}
	along := flatten(o.ends[0].Sub(s.ends[0]), s.normal).Cross(e).Dot(cross) / cross.Dot(cross)
	vertex := s.ends[0].Add(d.Mul(along))
	c := corner{normal: s.normal, vertex: vertex}
	for k, side := range []slope{s, o} {
		middle := flatten(side.ends[0].Add(side.ends[1]).Mul(0.5).Sub(vertex), s.normal)
		c.rays[k] = middle.Unit()
		for n := range side.real {
			c.sides[k][n] = side.real[n].Sub(vertex).Dot(c.rays[k])
		}
		slices.Sort(c.sides[k][:])
	}
	return c, true
}

// Radii at which an angle's arc is tried, mm on paper.
const (
	angleLeast = 9.0
	angleMost  = 60.0
	angleStep  = 2.5
)

// angleMarks draws the angles. It reports whether all found room.
func (l *layout) angleMarks() bool {
	ok := true
	for i := range l.scheme.list {
		if d := &l.scheme.list[i]; d.Kind == Angle {
			ok = l.angleMark(d) && ok
		}
	}
	return ok
}

// angleMark draws an angle's arc with its words where they are free; else a leader
// to the side says the angle and from which axis.
func (l *layout) angleMark(d *Dimension) bool {
	view := slices.IndexFunc(l.panes, func(q pane) bool { return sameAxis(q.eye.Toward, d.corner.normal) })
	if view < 0 {
		return true // the missing view is found where views are chosen
	}
	q := &l.panes[view]
	d.View = q.eye.name
	for radius := angleLeast; radius < angleMost; radius += angleStep {
		if l.arcMark(q, d, radius) {
			return true
		}
	}
	c := d.corner
	middle := q.place(c.vertex.Add(c.rays[0].Mul((c.sides[0][0] + c.sides[0][1]) / 2)))
	return l.leader(leaderRequest{tips: []tip{{at: middle}}, lines: []string{fmt.Sprintf("%s from %s", d.Text, normalAxis(c.rays[1]))},
		class: "callout", box: q.outline()})
}

// arcMark draws an angle with its arc at a radius on paper. It reports whether arc,
// lines and words are clear of words, and the words of lines.
func (l *layout) arcMark(q *pane, d *Dimension, radius float64) bool {
	c := d.corner
	vertex := q.place(c.vertex)
	var rays [2]point
	for k, v := range c.rays {
		off := q.place(c.vertex.Add(v)).Minus(vertex)
		rays[k] = off.Times(1 / math.Hypot(off.X, off.Y))
	}
	start := math.Atan2(rays[0].Y, rays[0].X)
	sweep := math.Remainder(math.Atan2(rays[1].Y, rays[1].X)-start, 2*math.Pi)
	arc := picture.Arc{Centre: vertex, RX: radius, RY: radius, Start: start, Sweep: sweep}
	lines := []picture.Curve{arc}
	inside := math.Abs(sweep)*radius >= 2*arrowLong+1
	turn := math.Copysign(2*arrowLong/radius, sweep)
	if !inside {
		lines = append(lines, picture.Arc{Centre: vertex, RX: radius, RY: radius, Start: start - turn, Sweep: turn},
			picture.Arc{Centre: vertex, RX: radius, RY: radius, Start: start + sweep, Sweep: turn})
	}
	for k, ray := range rays { // where the side does not reach
		low, high := c.sides[k][0]*q.scale, c.sides[k][1]*q.scale
		switch {
		case high < radius+overrun && high > 0:
			lines = append(lines, picture.Line{A: vertex.Plus(ray.Times(high + gap)), B: vertex.Plus(ray.Times(radius + overrun))})
		case high <= 0:
			lines = append(lines, picture.Line{A: vertex.Plus(ray.Times(gap)), B: vertex.Plus(ray.Times(radius + overrun))})
		case low > radius-arrowLong:
			lines = append(lines, picture.Line{A: vertex.Plus(ray.Times(radius - overrun)), B: vertex.Plus(ray.Times(low - gap))})
		}
	}
	for _, line := range lines {
		if !l.clearOfWords(line) {
			return false
		}
	}
	text, free := l.angleWords(d.Text, vertex, radius, start, sweep, lines)
	if !free {
		return false
	}
	l.stroke(picture.Thin, lines...)
	for k, at := range []float64{start, start + sweep} {
		tangent := point{X: -math.Sin(at), Y: math.Cos(at)}.Times(math.Copysign(1, sweep))
		if (k == 0) == inside {
			tangent = tangent.Times(-1)
		}
		l.add(arrow(arc.At(at), tangent))
	}
	l.board.take(text.Bounds())
	l.add(text)
	return true
}

// clearOfWords reports whether a curve stays on the sheet and runs through no words.
func (l *layout) clearOfWords(c picture.Curve) bool {
	probe := &board{limit: l.board.limit}
	probe.draw(c)
	for _, s := range probe.lines {
		if words, _ := l.board.crossings(s.a, s.b); words > 0 || !l.board.limit.Contains(picture.BoxAround(s.a, s.b)) {
			return false
		}
	}
	return true
}

// angleWords finds a place for an angle's words: outside its arc in the middle, then
// towards its ends, then beyond them.
func (l *layout) angleWords(words string, vertex point, radius, start, sweep float64, lines []picture.Curve) (picture.Text, bool) {
	probe := &board{limit: l.board.limit}
	probe.draw(lines...)
	for _, share := range []float64{0.5, 0.35, 0.65, 0.2, 0.8, 1.3, -0.3, 1.6, -0.6} {
		at := start + share*sweep
		away := point{X: math.Cos(at), Y: math.Sin(at)}
		text := picture.Text{Words: words, Height: l.height, Anchor: picture.Middle, Rise: picture.MidCapital, Class: "dimension"}
		out := radius + 1 + math.Abs(away.X)*text.Width()/2 + math.Abs(away.Y)*l.height/2
		text.At = vertex.Plus(away.Times(out))
		box := text.Bounds()
		struck := slices.ContainsFunc(probe.lines, func(s stretch) bool { return s.meets(box.Grow(clear)) })
		if !struck && l.board.free(box) {
			return text, true
		}
	}
	return picture.Text{}, false
}
