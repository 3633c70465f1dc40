package sheet

import (
	"fmt"
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
	far     bool // no view shows the side of its mouth
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
	names  []string       // of the faces
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
	slopes   []slope
	mitres   []slope // of a bar's ends, among the slopes too
	chamfers []chamfer
	cones    []bevel
	sides    solid.Outline        // that dimensions may name, as the plan gives them
	skip     map[int]bool         // faces that holes and slots of stock own
	circles  map[string]solid.Vec // middles of pitch circles, by pattern
	pictured drawn                // pictorial view
	details  []detail
	left     []string // what is too much to place, in words
	meshed   bool     // too many faces to dimension: overall sizes and holes only
	features map[string]solid.Feature
}

// study reads a solid.
func study(s *solid.Solid, body Body, along solid.Axis) *part {
	p := &part{solid: s, body: body, along: along, box: s.Box(), skip: map[int]bool{}, features: map[string]solid.Feature{}}
	for _, f := range s.Features() {
		p.features[f.Name] = f
	}
	p.readHoles()
	p.readMitres()
	p.readBores()
	p.readBarrels()
	p.readTapers()
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

func compare(a, b float64) int {
	switch {
	case a < b-near:
		return -1
	case a > b+near:
		return 1
	}
	return 0
}

// offCentre reports whether a hole lies beside the middle of the part.
func (p *part) offCentre(axis solid.Axis) bool {
	return slices.ContainsFunc(p.holes, func(h hole) bool {
		return !sameAxis(h.dir, axis) && math.Abs(on(h.at, axis)-on(p.box.Centre(), axis)) > near
	})
}

// mostHoles is how many holes a drawing places; beyond it their places are for the
// data files, the drawing gives their sizes, and the audit tells.
const mostHoles = 2000

// readLevels collects the coordinates that must be placed on each axis.
func (p *part) readLevels() {
	for i, axis := range axes {
		p.addLevel(axis, on(p.box.Min, axis), sideNames[i][0], -1)
		p.addLevel(axis, on(p.box.Max, axis), sideNames[i][1], -1)
	}
	if about, round := p.turnedAbout(); round && len(p.holes) <= mostHoles {
		for _, axis := range axes {
			if axis != about && p.offCentre(axis) {
				p.addLevel(axis, on(p.box.Centre(), axis), "axis", -1)
			}
		}
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
	if len(p.holes) > mostHoles {
		p.left = append(p.left, fmt.Sprintf("%d holes", len(p.holes)))
	}
	p.readRims()
	p.readCorners()
	p.simplify()
	for i, h := range p.holes {
		for _, axis := range axes {
			if len(p.holes) <= mostHoles && !sameAxis(h.dir, axis) {
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
	if at, known := p.outlined(name, axis); known {
		return at, true
	}
	if f, known := p.features[name]; known {
		return on(f.At, axis), true
	}
	for _, h := range p.holes {
		if h.name == name || h.pattern == name {
			return on(h.at, axis), true
		}
	}
	// A side without a flat face is where the part ends.
	for i, of := range axes {
		if of == axis && name == sideNames[i][0] {
			return on(p.box.Min, axis), true
		} else if of == axis && name == sideNames[i][1] {
			return on(p.box.Max, axis), true
		}
	}
	return 0, false
}

// sideNames are the names of a part's sides, the lower first, by axis.
var sideNames = [3][2]string{{"left", "right"}, {"front", "back"}, {"bottom", "top"}}

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
		if n != "corner" && n != "rim" && n != "" {
			return strings.TrimPrefix(n, "holes.")
		}
	}
	return "corner"
}
