package scene

import (
	"math"
	"slices"
	"strings"

	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/solid"
)

// A unit is what moves as one in an exploded view: a use with all that belongs to
// it, equal uses of one step, or the screws of a joint that point one way.
type unit struct {
	pieces []int    // indices
	uses   []string // numbered; none for screws
	joint  string   // of screws
	step   int      // index of the step that brings it
	order  int      // of its first piece
	ways   []solid.Vec
	axes   int // how many of the ways are axes of its joints
}

// wayDigits rounds directions so that equal ones compare equal.
const wayDigits = 1e6

func rounded(v solid.Vec) solid.Vec {
	r := func(x float64) float64 { return math.Round(x*wayDigits)/wayDigits + 0 } // no negative zero
	return solid.Vec{X: r(v.X), Y: r(v.Y), Z: r(v.Z)}.Unit()
}

// A machine is an assembly's pieces as units.
type machine struct {
	a      *plan.Assembly
	sel    plan.Selection
	pieces []layout.Piece
	ways   *ways
	steps  map[string]int // by key of a piece: the index of the step that brings it
	heads  map[string][]solid.Vec
	failed map[attempt]failure
	boxes  map[attempt]solid.Box // of units along ways
}

func newMachine(a *plan.Assembly, sel plan.Selection, pieces []layout.Piece) *machine {
	m := &machine{a: a, sel: sel, pieces: pieces, ways: newWays(pieces), steps: map[string]int{}, heads: map[string][]solid.Vec{},
		failed: map[attempt]failure{}, boxes: map[attempt]solid.Box{}}
	there := map[string]bool{}
	for i, st := range a.Steps {
		if !st.Only.Fits(sel) {
			continue
		}
		for k := range news(a, st, there) {
			there[k], m.steps[k] = true, i
		}
	}
	for _, p := range pieces {
		if p.Joint != "" {
			if out := outward(p); !slices.Contains(m.heads[p.Joint], out) {
				m.heads[p.Joint] = append(m.heads[p.Joint], out)
			}
		}
	}
	return m
}

// outward is the way along which a screw leaves, head first.
func outward(p layout.Piece) solid.Vec { return rounded(p.At.Direction(solid.Vec{Z: 1})) }

// units are the machine's pieces as they move, in the order of their first pieces.
func (m *machine) units() []*unit {
	type group struct {
		step  int
		joint string
		id    string
		turn  [3]solid.Vec
	}
	var out []*unit
	of := map[group]*unit{}
	for i, p := range m.pieces {
		g := group{step: m.step(p), joint: p.Joint, id: itemOf(m.a, m.sel, p)}
		if p.Joint != "" {
			g.turn[2] = outward(p)
		} else if use := useOf(m.a, p); use != nil && m.single(use) {
			g.turn = [3]solid.Vec{rounded(p.At.Turn[0]), rounded(p.At.Turn[1]), rounded(p.At.Turn[2])}
		} else {
			g.id = p.Use // a sub-assembly's pieces are turned every way
		}
		u := of[g]
		if u == nil {
			u = &unit{joint: p.Joint, step: g.step, order: i}
			of[g] = u
			out = append(out, u)
		}
		m.join(u, i)
	}
	for _, u := range out {
		m.setWays(u)
	}
	return out
}

// join adds a piece to a unit.
func (m *machine) join(u *unit, i int) {
	u.pieces = append(u.pieces, i)
	if use := m.pieces[i].Use; use != "" && !slices.Contains(u.uses, use) {
		u.uses = append(u.uses, use)
	}
}

// step is the index of the step that brings a piece; what no step brings counts as
// there from the start.
func (m *machine) step(p layout.Piece) int {
	k := key(p)
	if i, known := m.steps[k]; known {
		return i
	}
	if use := useOf(m.a, p); use != nil {
		if i, known := m.steps[use.ID.Text]; known {
			return i
		}
	}
	return -1
}

// single reports whether a use is of one part, not of a sub-assembly.
func (m *machine) single(use *plan.Use) bool {
	_, ok := use.Part.Pick(m.sel)
	return ok
}

// split gives each use, or each screw, of a unit a unit of its own.
func (m *machine) split(u *unit) []*unit {
	var out []*unit
	of := map[string]*unit{}
	for _, i := range u.pieces {
		use := m.pieces[i].Use
		one := of[use]
		if one == nil || use == "" {
			one = &unit{joint: u.joint, step: u.step, order: i}
			of[use] = one
			out = append(out, one)
		}
		m.join(one, i)
	}
	for _, one := range out {
		m.setWays(one)
	}
	return out
}

// setWays lists the ways a unit may move out, the likeliest first: a screw leaves
// head first; a part along the axes of its joints, then those of the assembly, up
// first, then its own.
func (m *machine) setWays(u *unit) {
	if u.joint != "" {
		u.ways, u.axes = []solid.Vec{outward(m.pieces[u.pieces[0]])}, 1
		return
	}
	var list []solid.Vec
	add := func(v solid.Vec) {
		v = rounded(v)
		if !slices.ContainsFunc(list, func(w solid.Vec) bool { return w.Dist(v) < 1e-4 }) {
			list = append(list, v)
		}
	}
	for _, j := range m.a.Joints {
		for i, layer := range j.Through {
			if !names(layer.Features, u.uses) {
				continue
			}
			for _, way := range m.heads[j.ID.Text] {
				if i == 0 { // under the head
					add(way)
				} else {
					add(way.Mul(-1))
				}
			}
		}
	}
	u.axes = len(list)
	for _, v := range []solid.Vec{{Z: 1}, {Y: -1}, {X: 1}, {X: -1}, {Y: 1}, {Z: -1}} {
		add(v)
	}
	if len(u.pieces) == 1 {
		for _, v := range m.pieces[u.pieces[0]].At.Turn {
			add(v)
			add(v.Mul(-1))
		}
	}
	u.ways = list
}

// names reports whether one of some features belongs to one of some numbered uses.
func names(features []plan.Word, uses []string) bool {
	for _, f := range features {
		use, _, _ := strings.Cut(f.Text, ".")
		for _, numbered := range uses {
			if len(numbered) >= len(use) && numbered[:len(use)] == use && (len(numbered) == len(use) || numbered[len(use)] == '.') {
				return true
			}
		}
	}
	return false
}

// holds reports whether screws hold a unit: it must not leave before them.
func (m *machine) holds(screws, u *unit) bool {
	if screws.joint == "" || u.joint != "" {
		return false
	}
	j := m.a.Joint(screws.joint)
	if j == nil {
		return false
	}
	for _, layer := range j.Through {
		if names(layer.Features, u.uses) {
			return true
		}
	}
	for _, place := range j.Also {
		if names(place, u.uses) {
			return true
		}
	}
	return false
}

// clear is how far, in mm, a unit moves along a way before it runs into another;
// infinite when it never does; any smaller number once it is less than wanted.
// Belts are bent round the flanges of their pulleys, and strands past everything.
func (m *machine) clear(u, other *unit, way solid.Vec, wanted float64) float64 {
	free := math.Inf(1)
	for _, i := range u.pieces {
		if use := useOf(m.a, m.pieces[i]); use != nil && (use.From.Given() || names(use.Around, other.uses)) {
			return free
		}
	}
	mine, others := m.boxAlong(u, way), m.boxAlong(other, way)
	mine.Max.Z = math.Inf(1)
	if !mine.Meets(others) {
		return free
	}
	for _, k := range other.pieces {
		if !mine.Meets(m.ways.box(k, way)) {
			continue
		}
		for _, i := range u.pieces {
			if free = math.Min(free, m.ways.clear(i, k, way)); free < wanted {
				return free
			}
		}
	}
	return free
}

// blocks reports whether a unit, moving along a way without end, runs into another.
func (m *machine) blocks(other, u *unit, way solid.Vec) bool {
	wanted := math.Inf(1)
	return m.clear(u, other, way, wanted) < wanted
}

// boxAlong is a unit's box in axes whose z runs along a way.
func (m *machine) boxAlong(u *unit, way solid.Vec) solid.Box {
	key := attempt{u, way}
	box, known := m.boxes[key]
	if !known {
		box = solid.EmptyBox()
		for _, i := range u.pieces {
			box = box.Join(m.ways.box(i, way))
		}
		m.boxes[key] = box
	}
	return box
}

// extent is how long a unit is along a way, mm.
func (m *machine) extent(u *unit, way solid.Vec) float64 {
	if u.joint != "" { // screws in a row leave each its own hole
		return m.ways.box(u.pieces[0], way).Size().Z
	}
	return m.boxAlong(u, way).Size().Z
}
