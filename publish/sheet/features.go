package sheet

import (
	"math"
	"slices"
	"strings"

	"plansheaf/design/solid"
)

// near is how close two levels are one: a thousandth of a millimetre, below what
// a drawing prints.
const near = 1e-3

// A level is a coordinate on an axis where something lies that must be placed.
type level struct {
	at    float64
	names []string // what lies there: "left", "posts.1"
	holes []int    // indices of part.holes that have their centre there
}

// A hole is one hole as a drawing sees it.
type hole struct {
	name    string // "posts.1"
	pattern string // "posts"
	at, dir solid.Vec
	along   solid.Vec // of an obround
	d       float64
	long    float64 // of an obround, overall
	depth   float64
	through bool
	made    *solid.Hole // nil for a bore that is a shape cut away
	thread  *solid.Thread
	face    string
}

// rim is the radius of the largest circle that the hole shows at its mouth.
func (h hole) rim() float64 {
	r := h.d / 2
	if h.thread != nil {
		r = max(r, h.thread.Major/2)
	}
	if h.made != nil && h.made.Counterbore != nil {
		r = max(r, h.made.Counterbore.D/2)
	}
	if h.made != nil && h.made.Countersink != nil {
		r = max(r, h.made.Countersink.D/2)
	}
	return r
}

// end is the middle of the hole's far end.
func (h hole) end() solid.Vec { return h.at.Add(h.dir.Mul(h.depth)) }

// A group is holes of one size that one callout serves.
type group struct {
	pattern string
	holes   []int
}

// A rounding is a corner radius, with how many corners have it.
type rounding struct {
	radius float64
	at     []solid.Circle // one for each, with its sweep below
	sweep  [][2]float64   // start and end parameter
	inside []bool         // material lies outside the arc
}

// A barrel is an outer round face about an axis: a turned step, a round bar.
type barrel struct {
	axis     solid.Axis
	centre   solid.Vec // middle of the step
	d        float64
	from, to float64 // along the axis
	thread   *solid.Thread
	name     string
}

// part is what the drawing knows of a solid.
type part struct {
	solid    *solid.Solid
	body     Body
	along    solid.Axis
	box      solid.Box
	levels   [3][]level
	holes    []hole
	groups   []group
	rounds   []rounding
	barrels  []barrel
	skip     map[int]bool         // faces that holes and slots of stock own
	circles  map[string]solid.Vec // middles of pitch circles, by pattern
	features map[string]solid.Feature
}

// study reads a solid.
func study(s *solid.Solid, body Body, along solid.Axis) *part {
	p := &part{solid: s, body: body, along: along, box: s.Box(), skip: map[int]bool{}, features: map[string]solid.Feature{}}
	for _, f := range s.Features() {
		p.features[f.Name] = f
	}
	p.readHoles()
	p.readBores()
	p.readBarrels()
	p.readRoundings()
	p.readLevels()
	p.groupHoles()
	return p
}

// readHoles takes the holes that the plan names, and what faces they own.
func (p *part) readHoles() {
	for _, f := range p.solid.Features() {
		switch f.Kind {
		case solid.SlotFeature:
			for _, i := range f.Faces {
				p.skip[i] = p.body == Bar
			}
		case solid.HoleFeature:
			for _, i := range f.Faces {
				p.skip[i] = true
			}
			h := hole{name: f.Name, pattern: f.Pattern, at: f.At, dir: f.Dir, along: f.Along, d: f.D,
				depth: f.Depth, through: f.Through, made: f.Hole, thread: f.Thread, face: f.Face}
			if f.Hole != nil && f.Hole.Kind == solid.Obround {
				h.long = f.Hole.Long
			}
			if h.pattern == "" {
				h.pattern = h.name
			}
			p.holes = append(p.holes, h)
		}
	}
}

// readBores finds round inner walls that are no hole of the plan: cylinders cut
// away from a body.
func (p *part) readBores() {
	for i := range p.solid.Faces {
		f := &p.solid.Faces[i]
		cylinder, round := f.Surface.(solid.Cylinder)
		if !round || !f.Inward || p.skip[i] || !straight(cylinder.Z) || !p.fullTurn(f) {
			continue
		}
		if p.body == Bar && sameAxis(cylinder.Z, p.along) {
			continue // the bore of a tube comes with the stock
		}
		box := f.Box()
		axis, _ := axisOf(cylinder.Z)
		low, high := on(box.Min, axis), on(box.Max, axis)
		dir := axis.Vec().Mul(-1)
		mouth := cylinder.O.Add(axis.Vec().Mul(high - on(cylinder.O, axis)))
		openHigh, openLow := p.opensAt(mouth, axis.Vec()), p.opensAt(mouth.Sub(axis.Vec().Mul(high-low)), dir)
		if !openHigh && openLow {
			mouth, dir = mouth.Sub(axis.Vec().Mul(high-low)), axis.Vec()
		}
		p.skip[i] = true
		p.holes = append(p.holes, hole{name: f.Name, pattern: f.Name, at: mouth, dir: dir, d: 2 * cylinder.R,
			depth: high - low, through: openHigh && openLow, thread: f.Thread})
	}
}

// opensAt reports whether nothing lies beyond a point in a direction.
func (p *part) opensAt(at, dir solid.Vec) bool {
	const step = 0.01 // mm
	return !p.solid.Contains(at.Add(dir.Mul(step)))
}

// fullTurn reports whether a round face runs all the way about its axis.
func (p *part) fullTurn(f *solid.Face) bool {
	turn := 0.0
	for _, loop := range f.Loops {
		for _, use := range loop {
			e := &p.solid.Edges[use.Edge]
			if c, ok := e.Curve.(solid.Circle); ok {
				turn = max(turn, e.T1-e.T0)
				_ = c
			} else if e.Closed() {
				turn = 2 * math.Pi
			}
		}
	}
	return turn > 2*math.Pi-1e-6
}

func sameAxis(v solid.Vec, a solid.Axis) bool { return math.Abs(v.Dot(a.Vec())) > 1-1e-9 }

// readBarrels finds outer round faces that run all the way about an axis.
func (p *part) readBarrels() {
	for i := range p.solid.Faces {
		f := &p.solid.Faces[i]
		cylinder, round := f.Surface.(solid.Cylinder)
		if !round || f.Inward || p.skip[i] || !straight(cylinder.Z) || !p.fullTurn(f) {
			continue
		}
		axis, _ := axisOf(cylinder.Z)
		from, to := on(f.Box().Min, axis), on(f.Box().Max, axis)
		centre := cylinder.O.Add(axis.Vec().Mul((from+to)/2 - on(cylinder.O, axis)))
		p.barrels = append(p.barrels, barrel{axis: axis, centre: centre, d: 2 * cylinder.R, from: from, to: to, thread: f.Thread, name: f.Name})
	}
	slices.SortStableFunc(p.barrels, func(a, b barrel) int { return compare(a.from, b.from) })
}

func compare(a, b float64) int {
	switch {
	case a < b-near:
		return -1
	case a > b+near:
		return 1
	}
	return 0
}

// readRoundings finds corner arcs that meet their neighbours smoothly: a radius
// says all of them.
func (p *part) readRoundings() {
	if p.body == Bar {
		return
	}
	seen := map[int]bool{}
	for i := range p.solid.Faces {
		f := &p.solid.Faces[i]
		cylinder, round := f.Surface.(solid.Cylinder)
		if !round || p.skip[i] || !straight(cylinder.Z) || p.fullTurn(f) {
			continue
		}
		for _, loop := range f.Loops {
			for _, use := range loop {
				e := &p.solid.Edges[use.Edge]
				c, arc := e.Curve.(solid.Circle)
				if !arc || seen[use.Edge] {
					continue
				}
				seen[use.Edge] = true
				p.addRounding(c, e, f.Inward)
				break // one end of the face stands for it
			}
			break
		}
	}
	slices.SortStableFunc(p.rounds, func(a, b rounding) int { return compare(a.radius, b.radius) })
}

func (p *part) addRounding(c solid.Circle, e *solid.Edge, inside bool) {
	for i := range p.rounds {
		if math.Abs(p.rounds[i].radius-c.R) < near {
			p.rounds[i].at = append(p.rounds[i].at, c)
			p.rounds[i].sweep = append(p.rounds[i].sweep, [2]float64{e.T0, e.T1})
			p.rounds[i].inside = append(p.rounds[i].inside, inside)
			return
		}
	}
	p.rounds = append(p.rounds, rounding{c.R, []solid.Circle{c}, [][2]float64{{e.T0, e.T1}}, []bool{inside}})
}

// readLevels collects the coordinates that must be placed on each axis.
func (p *part) readLevels() {
	faces := [3][2]string{{"left", "right"}, {"front", "back"}, {"bottom", "top"}}
	for i, axis := range axes {
		p.addLevel(axis, on(p.box.Min, axis), faces[i][0], -1)
		p.addLevel(axis, on(p.box.Max, axis), faces[i][1], -1)
	}
	for i := range p.solid.Faces {
		f := &p.solid.Faces[i]
		plane, flat := f.Surface.(solid.Plane)
		if !flat || p.skip[i] || !straight(plane.Z) {
			continue
		}
		if axis, _ := axisOf(plane.Z); p.places(axis) {
			p.addLevel(axis, on(plane.O, axis), f.Name, -1)
		}
	}
	p.readCorners()
	for i, h := range p.holes {
		for _, axis := range axes {
			if !sameAxis(h.dir, axis) {
				p.addLevel(axis, on(h.at, axis), h.name, i)
			}
		}
	}
	for i := range p.levels {
		slices.SortStableFunc(p.levels[i], func(a, b level) int { return compare(a.at, b.at) })
	}
}

// places reports whether faces across an axis need a place: those of a bar's
// section and a plate's thickness come with the stock.
func (p *part) places(axis solid.Axis) bool {
	switch p.body {
	case Bar:
		return axis == p.along
	case Plate:
		return axis != solid.AxisZ
	}
	return true
}

// readCorners places the ends of slanting edges, and of arcs that do not run
// smoothly into their neighbours.
func (p *part) readCorners() {
	for i := range p.solid.Edges {
		e := &p.solid.Edges[i]
		if p.skip[e.Faces[0]] || p.skip[e.Faces[1]] || e.Closed() {
			continue
		}
		line, isLine := e.Curve.(solid.Line)
		if isLine && straight(line.D) {
			continue
		}
		if _, arc := e.Curve.(solid.Circle); arc && p.smoothEnds(i) {
			continue
		}
		for _, k := range []float64{0, 1} {
			corner := e.Point(k)
			for _, axis := range axes {
				if p.places(axis) {
					p.addLevel(axis, on(corner, axis), "corner", -1)
				}
			}
		}
	}
}

// smoothEnds reports whether an edge runs on without a corner at both ends.
func (p *part) smoothEnds(index int) bool {
	e := &p.solid.Edges[index]
	smooth := 0
	for _, end := range []struct {
		vertex int
		out    solid.Vec
	}{{e.Start, e.Curve.Tangent(e.T0).Unit()}, {e.End, e.Curve.Tangent(e.T1).Unit()}} {
		for j := range p.solid.Edges {
			o := &p.solid.Edges[j]
			if j == index || o.Start != end.vertex && o.End != end.vertex {
				continue
			}
			t := o.T0
			if o.End == end.vertex {
				t = o.T1
			}
			if math.Abs(o.Curve.Tangent(t).Unit().Dot(end.out)) > 1-1e-6 {
				smooth++
				break
			}
		}
	}
	return smooth == 2
}

func (p *part) addLevel(axis solid.Axis, at float64, name string, hole int) {
	list := p.levels[axis]
	for i := range list {
		if math.Abs(list[i].at-at) < near {
			if !slices.Contains(list[i].names, name) {
				list[i].names = append(list[i].names, name)
			}
			if hole >= 0 {
				list[i].holes = append(list[i].holes, hole)
			}
			return
		}
	}
	l := level{at: at, names: []string{name}}
	if hole >= 0 {
		l.holes = []int{hole}
	}
	p.levels[axis] = append(list, l)
}

// levelAt is the index of the level at a coordinate, -1 for none.
func (p *part) levelAt(axis solid.Axis, at float64) int {
	for i, l := range p.levels[axis] {
		if math.Abs(l.at-at) < near {
			return i
		}
	}
	return -1
}

// groupHoles puts holes of one pattern together; unnamed bores of one size and
// direction too.
func (p *part) groupHoles() {
	for i, h := range p.holes {
		found := false
		for g := range p.groups {
			first := p.holes[p.groups[g].holes[0]]
			same := first.pattern == h.pattern
			if h.made == nil && first.made == nil && sameBore(first, h) {
				same = true
			}
			if same {
				p.groups[g].holes = append(p.groups[g].holes, i)
				found = true
				break
			}
		}
		if !found {
			p.groups = append(p.groups, group{pattern: h.pattern, holes: []int{i}})
		}
	}
}

func sameBore(a, b hole) bool {
	return math.Abs(a.d-b.d) < near && math.Abs(a.depth-b.depth) < near && a.through == b.through && a.dir.Dist(b.dir) < 1e-9
}

// find is the coordinate of a named feature on an axis.
func (p *part) find(name string, axis solid.Axis) (float64, bool) {
	if f, known := p.features[name]; known {
		return on(f.At, axis), true
	}
	for _, h := range p.holes {
		if h.name == name || h.pattern == name {
			return on(h.at, axis), true
		}
	}
	return 0, false
}

// holesNamed are the holes that a name means: one, or all of a pattern.
func (p *part) holesNamed(name string) []int {
	var list []int
	for i, h := range p.holes {
		if h.name == name || h.pattern == name {
			list = append(list, i)
		}
	}
	return list
}

// title of a level for people: its face if it has one, else its first hole.
func (l level) title() string {
	for _, n := range l.names {
		if n != "corner" && n != "" {
			return strings.TrimPrefix(n, "holes.")
		}
	}
	return "corner"
}
