package way

import (
	"math"
	"slices"
	"strings"

	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/solid"
	"plansheaf/design/standards"
)

// A Unit is what moves as one when an assembly comes apart: a use with all that
// belongs to it, equal uses of one step, or what a joint's screws take along that
// leaves to one side: screws with the washers under their heads, or nuts with theirs.
type Unit struct {
	Pieces []int    // indices
	Uses   []string // numbered: "feet.2"; none for what a joint takes
	Joint  string   // of what a joint takes
	Nut    bool     // it is on the nut's side
	Step   int      // index of the step that brings it, -1 for none
	order  int      // of its first piece
	ways   []solid.Vec
	axes   int // how many of the ways, the first, are axes of its joints
}

// Name is what the author calls the unit: its uses, or its joint.
func (u *Unit) Name() string {
	if u.Joint != "" {
		return u.Joint
	}
	return strings.Join(u.Uses, ", ")
}

// rounded is a direction so that equal ones compare equal.
func rounded(v solid.Vec) solid.Vec { return coarse(coarse(v).Unit()) }

// An Assembly is the pieces of a plan's assembly as units, with the space that they
// stand in.
type Assembly struct {
	Pieces []layout.Piece
	plan   *plan.Assembly
	sel    plan.Selection
	space  *Space
	steps  map[string]int // by key of a piece: the index of the step that brings it
	screws map[string][]int
	failed map[attempt]failure
	boxes  map[attempt]solid.Box // of units along ways
	rough  map[attempt]solid.Box // around these
	bound  map[[2]*Unit]bool     // which units a joint ties
}

// Of returns an assembly's pieces as they are under some choices, ready to come apart.
func Of(a *plan.Assembly, sel plan.Selection, pieces []layout.Piece, memory *Memory) *Assembly {
	m := &Assembly{Pieces: pieces, plan: a, sel: sel, space: NewSpace(pieces, memory), steps: map[string]int{}, screws: map[string][]int{},
		failed: map[attempt]failure{}, boxes: map[attempt]solid.Box{}, rough: map[attempt]solid.Box{}, bound: map[[2]*Unit]bool{}}
	for i, st := range a.Steps {
		if st.Only.Fits(sel) {
			for k := range newsUpTo(len(pieces), a, st, m.steps) {
				m.steps[k] = i
			}
		}
	}
	for i, p := range pieces {
		if m.screw(p) {
			m.screws[p.Joint] = append(m.screws[p.Joint], i)
		}
	}
	return m
}

// screw reports whether a piece is the screw of its joint, not a washer or a nut.
func (m *Assembly) screw(p layout.Piece) bool {
	j := m.joint(p.Joint)
	if j == nil {
		return false
	}
	id, ok := j.Fastener.Pick(m.sel)
	return ok && p.Part.Part.ID.Text == id.Text
}

func (m *Assembly) joint(id string) *plan.Joint {
	if id == "" {
		return nil
	}
	return m.plan.Joint(id)
}

// Outward is the way along which a screw leaves, head first, and a nut off its screw.
func Outward(p layout.Piece) solid.Vec { return rounded(p.At.Direction(solid.Vec{Z: 1})) }

// nut reports whether a piece of a joint is on the nut's side: it points away from
// the screw's head, as the washers under a nut do.
func (m *Assembly) nut(p layout.Piece) bool {
	for _, k := range m.screws[p.Joint] {
		if s := m.Pieces[k]; s.Place == p.Place {
			return Outward(s).Dot(Outward(p)) < 0
		}
	}
	return false
}

// Units are the assembly's pieces as they move, in the order of their first pieces.
func (m *Assembly) Units() []*Unit {
	type group struct {
		step  int
		joint string
		nut   bool
		id    string
		turn  [3]solid.Vec
	}
	var out []*Unit
	of := map[group]*Unit{}
	for i, p := range m.Pieces {
		g := group{step: m.step(p), joint: p.Joint}
		if p.Joint != "" {
			g.turn[2], g.nut = Outward(p), m.nut(p)
		} else if use := UseOf(m.plan, p); use != nil && m.single(use) {
			g.id, _ = Held(use, m.sel)
			g.turn = [3]solid.Vec{rounded(p.At.Turn[0]), rounded(p.At.Turn[1]), rounded(p.At.Turn[2])}
		} else {
			g.id = p.Use // a sub-assembly's pieces are turned every way
		}
		u := of[g]
		if u == nil {
			u = &Unit{Joint: p.Joint, Nut: g.nut, Step: g.step, order: i}
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
func (m *Assembly) join(u *Unit, i int) {
	u.Pieces = append(u.Pieces, i)
	if use := m.Pieces[i].Use; use != "" && !slices.Contains(u.Uses, use) {
		u.Uses = append(u.Uses, use)
	}
}

// step is the index of the step that brings a piece; what no step brings counts as
// there from the start.
func (m *Assembly) step(p layout.Piece) int {
	k := Key(p)
	if i, known := m.steps[k]; known {
		return i
	}
	if use := UseOf(m.plan, p); use != nil {
		if i, known := m.steps[use.ID.Text]; known {
			return i
		}
	}
	return -1
}

// single reports whether a use is of one part, not of a sub-assembly.
func (m *Assembly) single(use *plan.Use) bool {
	_, ok := use.Part.Pick(m.sel)
	return ok
}

// split gives each use, or each screw with its washers, a unit of its own.
func (m *Assembly) split(u *Unit) []*Unit {
	type one struct {
		use   string
		place int
	}
	var out []*Unit
	of := map[one]*Unit{}
	for _, i := range u.Pieces {
		key := one{m.Pieces[i].Use, m.Pieces[i].Place}
		part := of[key]
		if part == nil {
			part = &Unit{Joint: u.Joint, Nut: u.Nut, Step: u.Step, order: i}
			of[key] = part
			out = append(out, part)
		}
		m.join(part, i)
	}
	for _, part := range out {
		m.setWays(part)
	}
	return out
}

// mostOwn bounds the axes of a unit's own pieces that are tried.
const mostOwn = 12

// setWays lists the ways a unit may move out, the likeliest first: a screw leaves
// head first; a nut off the screw, else as parts do; a part as its plan says it comes
// in, along the axes of its joints, then those of the assembly, up first, then its own.
func (m *Assembly) setWays(u *Unit) {
	var list []solid.Vec
	add := func(v solid.Vec) {
		v = rounded(v)
		if !slices.ContainsFunc(list, func(w solid.Vec) bool { return w.Dist(v) < 1e-4 }) {
			list = append(list, v)
		}
	}
	if u.Joint != "" {
		out := Outward(m.Pieces[u.Pieces[0]])
		if add(out); m.isKind(u.Joint, plan.Pin, plan.Ring) {
			add(out.Mul(-1)) // driven out, or sprung off over either end
		}
		if !u.Nut {
			u.ways, u.axes = list, 1
			return
		}
	}
	for _, i := range u.Pieces {
		if use := UseOf(m.plan, m.Pieces[i]); use != nil && len(use.Way) > 0 {
			add(axisOf(use.Way[len(use.Way)-1].Axis.Text).Mul(-1)) // back where it came in last
		}
	}
	for _, j := range m.plan.Joints {
		for i, layer := range j.Through {
			if !Names(layer.Features, u.Uses) {
				continue
			}
			for _, k := range m.screws[j.ID.Text] {
				if way := Outward(m.Pieces[k]); i == 0 { // under the head
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
	for _, i := range u.Pieces[:min(len(u.Pieces), mostOwn)] {
		for _, v := range m.Pieces[i].At.Turn {
			add(v)
			add(v.Mul(-1))
		}
	}
	u.ways = list
}

// axisOf is the way that a leg runs along: "x", "-z"; up where it says none.
func axisOf(name string) solid.Vec {
	v := solid.Vec{Z: 1}
	switch strings.TrimPrefix(name, "-") {
	case "x":
		v = solid.Vec{X: 1}
	case "y":
		v = solid.Vec{Y: 1}
	}
	if strings.HasPrefix(name, "-") {
		v = v.Mul(-1)
	}
	return v
}

// Names reports whether one of some features belongs to one of some numbered uses.
func Names(features []plan.Word, uses []string) bool {
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

// isKind reports whether a joint is of one of some kinds.
func (m *Assembly) isKind(id string, kinds ...string) bool {
	j := m.joint(id)
	return j != nil && slices.Contains(kinds, j.Kind.Text)
}

// holds reports whether screws hold a unit: it must not leave before them. A pin does
// not: a part lifts off it along its axis, and runs into it any other way.
func (m *Assembly) holds(screws, u *Unit) bool {
	if screws.Joint == "" || screws.Nut || u.Joint != "" || m.isKind(screws.Joint, plan.Pin) {
		return false
	}
	j := m.plan.Joint(screws.Joint)
	if j == nil {
		return false
	}
	for _, layer := range j.Through {
		if Names(layer.Features, u.Uses) {
			return true
		}
	}
	for _, place := range j.Also {
		if Names(place, u.Uses) {
			return true
		}
	}
	return false
}

// Bound reports whether a joint ties a unit to another: for screws, whether their
// heads bear on it; for nuts, whether they do.
func (m *Assembly) Bound(u, v *Unit) bool {
	key := [2]*Unit{u, v}
	tied, known := m.bound[key]
	if !known {
		tied = m.ties(u, v)
		m.bound[key] = tied
	}
	return tied
}

func (m *Assembly) ties(u, v *Unit) bool {
	if u.Joint != "" {
		j := m.plan.Joint(u.Joint)
		if j == nil || len(j.Through) == 0 {
			return false
		}
		bears := j.Through[0]
		if u.Nut {
			bears = j.Through[len(j.Through)-1]
		}
		return Names(bears.Features, v.Uses)
	}
	for _, j := range m.plan.Joints {
		if joins(j, u.Uses) && joins(j, v.Uses) {
			return true
		}
	}
	return false
}

// joins reports whether a joint is of one of some numbered uses.
func joins(j *plan.Joint, uses []string) bool {
	if Names(j.Mine.Features, uses) || Names(j.Theirs.Features, uses) {
		return true
	}
	for i := range j.Through {
		if Names(j.Through[i].Features, uses) {
			return true
		}
	}
	return false
}

// threaded reports whether two pieces belong to one joint whose screw runs into the
// other: into a part named last, a nut, an insert.
func (m *Assembly) threaded(a, b int) bool {
	return m.screwedInto(m.Pieces[a], m.Pieces[b]) || m.screwedInto(m.Pieces[b], m.Pieces[a])
}

func (m *Assembly) screwedInto(screw, other layout.Piece) bool {
	j := m.joint(screw.Joint)
	if j == nil || !m.screw(screw) {
		return false
	}
	if other.Joint != "" {
		return other.Joint == screw.Joint
	}
	uses := []string{other.Use}
	if n := len(j.Through); n > 0 && Names(j.Through[n-1].Features, uses) {
		return true
	}
	for _, place := range j.Also {
		if n := len(place); n > 0 && Names(place[n-1:], uses) {
			return true
		}
	}
	return false
}

// strand reports whether a piece is a cable's, a hose's or a wire's, which gives way.
func (m *Assembly) strand(i int) bool {
	use := UseOf(m.plan, m.Pieces[i])
	return use != nil && use.From.Given()
}

// bends reports whether a piece gives way to a unit: belts are bent round the flanges
// of their pulleys, strands past everything, a retaining ring springs over what it sits
// on, a wood screw cuts its way.
func (m *Assembly) bends(i int, other *Unit) bool {
	p := m.Pieces[i]
	cuts := p.Part.Fastener != nil && p.Part.Fastener.Kind == standards.WoodScrew
	if j := m.joint(p.Joint); j != nil && (cuts || j.Kind.Text == plan.Ring) {
		return len(j.Through) > 0 && Names(j.Through[len(j.Through)-1].Features, other.Uses)
	}
	use := UseOf(m.plan, m.Pieces[i])
	return use != nil && (use.From.Given() || Names(use.Around, other.Uses))
}

// clear is how far, in mm, a unit moves along a way before it runs into another;
// infinite when it never does within reach; any smaller number once it is less than
// wanted.
func (m *Assembly) clear(u, other *Unit, way solid.Vec, wanted, reach float64) float64 {
	free := math.Inf(1)
	mine, others := m.boxAround(u, way), m.boxAround(other, way)
	if mine.Max.Z = math.Inf(1); !mine.Meets(others) {
		return free
	}
	mine, others = m.boxAlong(u, way), m.boxAlong(other, way)
	if mine.Max.Z = math.Inf(1); !mine.Meets(others) {
		return free
	}
	for _, k := range other.Pieces {
		if !mine.Meets(m.space.Box(k, way)) || m.strand(k) {
			continue
		}
		for _, i := range u.Pieces {
			if m.bends(i, other) {
				continue
			}
			if free = math.Min(free, m.space.Free(i, k, way, m.threaded(i, k), reach)); free < wanted {
				return free
			}
		}
	}
	return free
}

// Blocks reports whether a unit, moving along a way without end, runs into another.
func (m *Assembly) Blocks(other, u *Unit, way solid.Vec) bool {
	never := math.Inf(1)
	return m.clear(u, other, way, never, never) < never
}

// boxAlong is a unit's box in axes whose z runs along a way.
func (m *Assembly) boxAlong(u *Unit, way solid.Vec) solid.Box {
	return joined(m.boxes, attempt{u, way}, m.space.Box)
}

// boxAround is a box around boxAlong, found at little cost.
func (m *Assembly) boxAround(u *Unit, way solid.Vec) solid.Box {
	return joined(m.rough, attempt{u, way}, m.space.around)
}

// joined is the box around the boxes of a unit's pieces along a way, found once.
func joined(known map[attempt]solid.Box, of attempt, boxOf func(piece int, way solid.Vec) solid.Box) solid.Box {
	box, found := known[of]
	if !found {
		box = solid.EmptyBox()
		for _, i := range of.unit.Pieces {
			box = box.Join(boxOf(i, of.way))
		}
		known[of] = box
	}
	return box
}

// extent is how long a unit is along a way, mm.
func (m *Assembly) extent(u *Unit, way solid.Vec) float64 {
	if u.Joint == "" {
		return m.boxAlong(u, way).Size().Z
	}
	longest := 0.0 // screws in a row leave each its own hole
	for _, i := range u.Pieces {
		longest = math.Max(longest, m.space.Box(i, way).Size().Z)
	}
	return longest
}
