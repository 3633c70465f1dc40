package sheet

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"plansheaf/design/solid"
	"plansheaf/publish/picture"
	"plansheaf/publish/view"
)

// A cut is a section that a view shows: the part without what lies before one or
// more planes across the line of sight.
type cut struct {
	letter string
	half   bool // beyond one of the planes' ends the part stays whole
	// upright: the planes follow one another down the paper; else to the right.
	upright bool
	steps   []view.Step // From along the way that they follow one another
	base    int         // the view in which the planes are drawn as a line; -1 for none
}

// Hatching on paper, ISO 128-3: 45 degrees, the lines well apart.
const (
	hatchAngle   = math.Pi / 4
	hatchSpacing = 2.2
)

// direction in which the section is worked out: its planes follow one another
// along Right.
func (c *cut) direction(e eye) view.Direction {
	if c.upright {
		return view.Direction{Right: e.Up.Mul(-1), Up: e.Right, Toward: e.Toward}
	}
	return e.Direction
}

// plane is where the plane stands along the line of sight at a point; +Inf where
// the part is whole.
func (c *cut) plane(e eye, at solid.Vec) float64 {
	along := at.Dot(c.direction(e).Right)
	plane := c.steps[0].At
	for _, s := range c.steps[1:] {
		if along >= s.From-near {
			plane = s.At
		}
	}
	return plane
}

// holds reports whether a hole's axis lies in the section's plane, so that the
// section shows its form.
func (c *cut) holds(e eye, h hole) bool {
	if math.Abs(h.dir.Dot(e.Toward)) > 1e-9 {
		return false
	}
	for _, at := range []solid.Vec{h.at, h.end()} {
		if math.Abs(h.at.Dot(e.Toward)-c.plane(e, at)) > near {
			return false
		}
	}
	return true
}

// covers reports whether the view shows a hole as a circle: seen end on, and not
// cut away.
func (q *pane) covers(h hole) bool {
	if !q.eye.covers(h) {
		return false
	}
	if q.cut == nil {
		return true
	}
	plane := q.cut.plane(q.eye, h.at)
	mouth, end := h.at.Dot(q.eye.Toward), h.end().Dot(q.eye.Toward)
	if h.made != nil && (h.made.Counterbore != nil || h.made.Countersink != nil) {
		return mouth < plane+near
	}
	return min(mouth, end) < plane-near
}

// shows reports whether the view tells a hole's form: as a circle, or cut along
// its axis.
func (q *pane) shows(h hole) bool {
	return q.covers(h) || q.cut != nil && q.cut.holds(q.eye, h)
}

// A target is what a section's plane runs through.
type target struct {
	name  string
	at    solid.Vec
	dir   solid.Vec // its axis, or out of its face
	reach float64   // how far it extends from its middle
	hole  int       // index of part.holes, -1 for what is none
}

// targets finds the features that a name means: holes, or whatever else the part
// calls by a name.
func (p *part) targets(name string) []target {
	var list []target
	for _, i := range p.holesNamed(name) {
		list = append(list, p.aim(i))
	}
	if f, known := p.features[name]; known && len(list) == 0 {
		reach := f.Box.Size().Len() / 2
		list = append(list, target{name: name, at: f.Box.Centre(), dir: f.Dir, reach: reach, hole: -1})
	}
	return list
}

// aim is a hole as a target.
func (p *part) aim(i int) target {
	h := p.holes[i]
	return target{name: h.name, at: h.at, dir: h.dir, reach: max(h.rim(), h.long/2), hole: i}
}

// sections turns views into sections, or adds them, as the request asks. Those for
// which no view stands yet are left for later, when all views do.
func (p *part) sections(r *Request, panes []pane, later bool, fault func(Fault)) []pane {
	count := 0
	for i, v := range r.Views {
		if v.Kind != "section" {
			continue
		}
		letter := cmp.Or(v.Letter, letters(count))
		count++
		if slices.ContainsFunc(panes, func(q pane) bool { return q.cut != nil && q.cut.letter == letter }) {
			continue
		}
		complain := func(remedy, format string, args ...any) {
			if later {
				fault(Fault{"views", i, fmt.Sprintf(format, args...), remedy})
			}
		}
		targets, missing := p.aims(v.Through)
		if missing != "" {
			complain("name a hole or another feature of the part in through", "the part has no feature %q to cut through", missing)
			continue
		}
		added, why := p.addSection(panes, targets, letter, v.Half, r.Projection)
		if why != "" {
			complain("cut through other features, or ask for the view that shows them end on", "section %s: %s", letter, why)
			continue
		}
		panes = added
	}
	return panes
}

// aims are the targets that names mean: the first of each name's.
func (p *part) aims(names []string) (list []target, missing string) {
	for _, name := range names {
		named := p.targets(name)
		if len(named) == 0 {
			return nil, name
		}
		list = append(list, named[0])
	}
	if len(list) == 0 {
		return nil, ""
	}
	return list, ""
}

// addSection adds one section where it stands best. It says why where it cannot.
func (p *part) addSection(panes []pane, targets []target, letter string, half bool, projection Projection) (list []pane, why string) {
	options, why := p.sectionOptions(panes, targets, letter, half, projection)
	if len(options) == 0 {
		return nil, why
	}
	return options[0], ""
}

// sectionOptions are the ways to show a section, the best first: its planes run along
// the longer side of the view that shows the first target end on; a view that stands
// already is cut before a new one is added. It says why where there is none.
func (p *part) sectionOptions(panes []pane, targets []target, letter string, half bool, projection Projection) (options [][]pane, why string) {
	if len(targets) == 0 {
		return nil, "it names nothing to cut through"
	}
	if list, ok := p.cutRound(panes, targets, letter, half); ok {
		return [][]pane{list}, ""
	}
	why = fmt.Sprintf("no view shows %q end on, or all views beside it are cut already", targets[0].name)
	var added [][]pane
	for base := range panes {
		e := panes[base].eye
		if panes[base].cut != nil || targets[0].hole >= 0 && !e.covers(p.holes[targets[0].hole]) {
			continue
		}
		sides := []side{{0, -1}, {0, 1}, {1, 0}, {-1, 0}}
		if p.extent(e.Up) > p.extent(e.Right) {
			sides = []side{{1, 0}, {-1, 0}, {0, -1}, {0, 1}}
		}
		sides = slices.DeleteFunc(sides, func(s side) bool { return len(targets) > 1 && !steppable(s.eye(e), s, targets) })
		if len(sides) == 0 {
			why = "its features stand over each other, so that no planes step from one to the next"
		}
		for _, s := range sides {
			q := s.pane(e, projection)
			q.column, q.row = q.column+panes[base].column, q.row+panes[base].row
			q.cut = newCut(q.eye, s, p.clipped(q.eye, s, targets, half), half)
			q.cut.letter, q.cut.base = letter, base
			index := indexOf(panes, q.column, q.row)
			switch {
			case index < 0:
				added = append(added, append(slices.Clone(panes), q))
			case index > 0 && panes[index].cut == nil && panes[index].eye.Toward.Dist(q.eye.Toward) < 1e-9:
				list := slices.Clone(panes)
				list[index].cut = q.cut
				options = append(options, list)
			}
		}
	}
	return append(options, added...), why
}

// cutRound cuts the view that shows a round part from the side, through its axis:
// no line in another view need say where (ISO 128-3).
func (p *part) cutRound(panes []pane, targets []target, letter string, half bool) ([]pane, bool) {
	axis, round := p.turnedAbout()
	if !round || len(targets) != 1 || !p.coaxial(targets[0].at, targets[0].dir, axis) {
		return nil, false
	}
	for i, q := range panes {
		if q.cut != nil || sameAxis(q.eye.Toward, axis) || standingEnd(panes, axis) {
			continue
		}
		c := &cut{letter: letter, half: half, base: -1, upright: sameAxis(q.eye.Right, axis)}
		along := targets[0].at.Dot(c.direction(q.eye).Right)
		c.steps = []view.Step{{At: targets[0].at.Dot(q.eye.Toward)}}
		if half {
			c.steps = []view.Step{{At: math.Inf(1)}, {From: along, At: targets[0].at.Dot(q.eye.Toward)}}
		}
		list := slices.Clone(panes)
		list[i].cut = c
		return list, true
	}
	return nil, false
}

// standingEnd reports whether a view shows an axis end on.
func standingEnd(panes []pane, axis solid.Axis) bool {
	return slices.ContainsFunc(panes, func(q pane) bool { return sameAxis(q.eye.Toward, axis) })
}

// coaxial reports whether a line lies on the middle of the part.
func (p *part) coaxial(at, dir solid.Vec, axis solid.Axis) bool {
	off := at.Sub(p.box.Centre())
	return sameAxis(dir, axis) && off.Sub(axis.Vec().Mul(on(off, axis))).Len() < near
}

// follow is the way in which the planes of a section from a side follow one another.
func (s side) follow(e eye) (dir solid.Vec, upright bool) {
	if s.right != 0 {
		return e.Up.Mul(-1), true
	}
	return e.Right, false
}

// steppable reports whether targets stand one after another along a section's
// planes, with room between for a step.
func steppable(e eye, s side, targets []target) bool {
	dir, _ := s.follow(e)
	order := inOrder(targets, dir)
	for i := 1; i < len(order); i++ {
		if order[i].at.Dot(dir)-order[i-1].at.Dot(dir) < near {
			return false
		}
	}
	return true
}

func inOrder(targets []target, dir solid.Vec) []target {
	order := slices.Clone(targets)
	slices.SortStableFunc(order, func(a, b target) int { return compare(a.at.Dot(dir), b.at.Dot(dir)) })
	return order
}

// clipShare is how far off its axis, in radii, a plane may cut a hole: further off the
// hole looks much narrower than it is.
const clipShare = 0.6

// clipped adds to the targets of a section the holes that its planes would cut off
// their axes, so that they step there; as they are where that cannot be, or where one
// half stays whole.
func (p *part) clipped(e eye, s side, targets []target, half bool) []target {
	if half {
		return targets
	}
	dir, _ := s.follow(e)
	list, known := targets, newCut(e, s, targets, false)
	for i, h := range p.holes {
		t := p.aim(i)
		off := math.Abs(t.at.Dot(e.Toward) - known.plane(e, t.at))
		if math.Abs(h.dir.Dot(e.Toward)) > 1e-9 || sameWay(h.dir, dir) || off < clipShare*h.d/2 || off > t.reach {
			continue
		}
		more := append(slices.Clone(list), t)
		if len(more) > mostStops || !apart(more, dir) {
			return targets
		}
		list = more
	}
	return list
}

// mostStops is how many features a section steps through to spare holes from being cut
// off their axes.
const mostStops = 5

// apart reports whether targets follow one another along a way with room between
// their rims.
func apart(targets []target, dir solid.Vec) bool {
	order := inOrder(targets, dir)
	for i := 1; i < len(order); i++ {
		if order[i].at.Dot(dir)-order[i].reach < order[i-1].at.Dot(dir)+order[i-1].reach+near {
			return false
		}
	}
	return true
}

// newCut makes the planes of a section seen from a side: one through each target,
// stepping half way between their rims.
func newCut(e eye, s side, targets []target, half bool) *cut {
	c := &cut{half: half && len(targets) == 1}
	dir, upright := s.follow(e)
	c.upright = upright
	for i, t := range inOrder(targets, dir) {
		step := view.Step{At: t.at.Dot(e.Toward)}
		switch last := len(c.steps) - 1; {
		case i == 0 && c.half:
			c.steps = append(c.steps, view.Step{At: math.Inf(1)})
			step.From = t.at.Dot(dir)
		case i == 0:
		case math.Abs(c.steps[last].At-step.At) < near:
			continue
		default:
			before := inOrder(targets, dir)[i-1]
			step.From = (before.at.Dot(dir) + before.reach + t.at.Dot(dir) - t.reach) / 2
			if i > 1 && step.From <= c.steps[last].From {
				step.From = (before.at.Dot(dir) + t.at.Dot(dir)) / 2
			}
		}
		c.steps = append(c.steps, step)
	}
	return c
}

func indexOf(panes []pane, column, row int) int {
	for i, q := range panes {
		if q.column == column && q.row == row {
			return i
		}
	}
	return -1
}

// projectCut draws a section: what lies behind the planes without hidden lines,
// and the outlines of what the planes cut.
func (p *part) projectCut(e eye, c *cut) (drawn, *view.Drawing, error) {
	drawing, regions, err := view.Section([]view.Body{{Solid: p.solid, At: solid.Stay}}, c.direction(e),
		view.Cut{Steps: c.steps}, view.Options{VisibleOnly: true})
	if err != nil {
		return drawn{}, nil, fmt.Errorf("cut through the part: %w", err)
	}
	var outlines []picture.Curve
	for _, r := range regions {
		outlines = append(outlines, r.Outline...)
	}
	if c.upright {
		outlines = quarter(outlines)
		for i := range drawing.Lines {
			drawing.Lines[i].Curves = quarter(drawing.Lines[i].Curves)
		}
	}
	d := layered(drawing, func(view.Line) bool { return false })
	d.cut = outlines
	return d, drawing, nil
}

// quarter turns curves clockwise by a quarter about the paper's origin.
func quarter(curves []picture.Curve) []picture.Curve {
	turned := make([]picture.Curve, len(curves))
	for i, c := range curves {
		turned[i] = quarterCurve(c)
	}
	return turned
}

func quarterCurve(c picture.Curve) picture.Curve {
	turn := func(p point) point { return point{X: -p.Y, Y: p.X} }
	switch c := c.(type) {
	case picture.Line:
		return picture.Line{A: turn(c.A), B: turn(c.B)}
	case picture.Arc:
		c.Centre, c.Tilt = turn(c.Centre), c.Tilt+math.Pi/2
		return c
	case picture.Bezier:
		return picture.Bezier{A: turn(c.A), C1: turn(c.C1), C2: turn(c.C2), B: turn(c.B)}
	}
	return c
}
