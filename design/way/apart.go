package way

import (
	"cmp"
	"math"
	"slices"

	"plansheaf/design/solid"
)

// A Removal is a unit with the way by which it leaves what is still there.
type Removal struct {
	Unit *Unit
	Way  solid.Vec // unit vector
	Free float64   // mm: how far the way is known to be free; infinite for all along
}

// A Stop is a unit that no way without end was found for, with the way on which it
// gets farthest and what it runs into there.
type Stop struct {
	Unit *Unit
	Way  solid.Vec
	Free float64 // mm
	By   *Unit   // nil where it cannot be told
	Held bool    // By holds it fast, and cannot leave itself: screws
}

// A Parting is an assembly come apart, as far as it does.
type Parting struct {
	*Assembly
	Out     []Removal // in the order in which things can be taken off
	Stays   []*Unit   // the first is what the rest was put on; the others are stopped
	Locked  []*Unit   // those that another one holds fast whatever way they go, and takes with it
	Stopped []Stop    // those of Stays but the first, Locked, and parts that leave their place but then run into something
	Bounded bool      // there was too much to try: what is stopped may have a way all the same
}

// Apart takes the assembly apart unit by unit, the last step's first where it can,
// each along a straight way that is free of what is still there.
func (m *Assembly) Apart() *Parting {
	p := &Parting{Assembly: m}
	rest := m.Units()
	slices.SortStableFunc(rest, func(a, b *Unit) int {
		return cmp.Or(cmp.Compare(b.Step, a.Step), cmp.Compare(len(b.Joint), 0)-cmp.Compare(len(a.Joint), 0), cmp.Compare(b.order, a.order))
	})
	broken := map[*Unit]bool{} // made by splitting
	for len(rest) > 1 {
		if i, r, found := m.next(rest); found {
			if p.Out = append(p.Out, r); r.Unit.Joint == "" && !math.IsInf(r.Free, 1) {
				p.Stopped = append(p.Stopped, m.stop(r.Unit, rest))
			}
			rest = slices.Delete(rest, i, i+1)
			continue
		}
		if m.space.Bounded() {
			break // nothing more is found to be free
		}
		i := slices.IndexFunc(rest, func(u *Unit) bool { return !broken[u] && (len(u.Uses) > 1 || u.Joint != "" && len(u.Pieces) > 1) })
		if i >= 0 {
			parts := m.split(rest[i])
			for _, u := range parts {
				broken[u] = true
			}
			rest = slices.Replace(rest, i, i+1, parts...)
			continue
		}
		i, by := m.lock(rest)
		if i < 0 {
			break
		}
		p.Locked = append(p.Locked, rest[i])
		stop := m.stop(rest[i], []*Unit{by})
		p.Stopped = append(p.Stopped, stop)
		by.Pieces = append(by.Pieces, rest[i].Pieces...)
		clear(m.failed)
		clear(m.boxes)
		clear(m.rough)
		rest = slices.Delete(rest, i, i+1)
	}
	for _, u := range rest[:max(len(rest)-1, 0)] {
		p.Stopped = append(p.Stopped, m.stop(u, rest))
	}
	slices.Reverse(rest)
	p.Stays, p.Bounded = rest, m.space.Bounded()
	return p
}

// plenty is the share of an assembly's longest side at which a way is long enough to
// be drawn.
const plenty = 0.5

// passes are what next looks for, one after the other: a way without end, away from
// what the unit is held to or any; failing that, one that is free for long; failing
// that, one that is free until the unit has left its place.
var passes = []struct {
	off   bool
	reach func(long, short float64) float64
}{
	{true, func(_, _ float64) float64 { return math.Inf(1) }},
	{false, func(_, _ float64) float64 { return math.Inf(1) }},
	{true, func(long, _ float64) float64 { return long }},
	{false, func(long, _ float64) float64 { return long }},
	{true, func(_, short float64) float64 { return short }},
	{false, func(_, short float64) float64 { return short }},
}

// next is the first unit that can leave, with its way. A screw's need only be free
// until it has left its place. What everything else was put on is never the next.
func (m *Assembly) next(rest []*Unit) (index int, r Removal, found bool) {
	size := solid.EmptyBox()
	for _, u := range rest {
		size = size.Join(m.boxAlong(u, solid.Vec{Z: 1}))
	}
	s := size.Size()
	long := plenty * math.Max(s.X, math.Max(s.Y, s.Z))
	for _, pass := range passes {
		for i, u := range rest[:len(rest)-1] {
			if m.holder(u, rest) != nil {
				continue
			}
			for _, way := range u.ways {
				if pass.off && !m.off(u, rest, way) {
					continue
				}
				least := m.extent(u, way) + Allowance
				if u.Joint == "" {
					least = pass.reach(math.Max(long, least), least)
				}
				if free := m.freedom(u, rest, way, least); free >= least {
					return i, Removal{u, way, free}, true
				}
			}
		}
	}
	return 0, Removal{}, false
}

// holder are the first screws of the rest that hold a unit; nil for none.
func (m *Assembly) holder(u *Unit, rest []*Unit) *Unit {
	for _, o := range rest {
		if o != u && m.holds(o, u) {
			return o
		}
	}
	return nil
}

// touching (mm) is how near to what holds it a thing lies.
const touching = 1.0

// off reports whether a way leads a unit off what it is held to: against the way it
// would run into that at once. What no joint holds may go anywhere.
func (m *Assembly) off(u *Unit, rest []*Unit, way solid.Vec) bool {
	if u.Joint != "" || slices.Contains(u.ways[:u.axes], way) {
		return true
	}
	tied := false
	for _, o := range rest {
		if o != u && m.Bound(u, o) {
			if tied = true; m.clear(u, o, way.Mul(-1), touching, touching) < touching {
				return true
			}
		}
	}
	return !tied
}

// freedom is how far a unit moves along a way before it runs into one of the rest;
// once it is known to be less than wanted, any smaller number.
func (m *Assembly) freedom(u *Unit, rest []*Unit, way solid.Vec, least float64) float64 {
	try := attempt{u, way}
	if last, tried := m.failed[try]; tried && last.free < least && slices.Contains(rest, last.by) {
		return last.free // what was in the way still is
	}
	free := math.Inf(1)
	for _, o := range rest {
		if o == u {
			continue
		}
		if free = math.Min(free, m.clear(u, o, way, least, math.Inf(1))); free < least {
			m.failed[try] = failure{o, free}
			return free
		}
	}
	return free
}

// attempt is a unit's try to leave along a way, failure what it ran into, and where.
type attempt struct {
	unit *Unit
	way  solid.Vec
}

type failure struct {
	by   *Unit
	free float64
}

// stop tells what keeps a unit from leaving the rest.
func (m *Assembly) stop(u *Unit, rest []*Unit) Stop {
	s := Stop{Unit: u, Free: -1}
	if by := m.holder(u, rest); by != nil {
		s.By, s.Held, s.Free = by, true, 0
		s.Way = u.ways[0]
		return s
	}
	for _, way := range u.ways {
		free, by := math.Inf(1), (*Unit)(nil)
		for _, o := range rest {
			if o == u {
				continue
			}
			if f := m.clear(u, o, way, 0, math.Inf(1)); f < free {
				free, by = f, o
			}
		}
		if free > s.Free+solid.Tolerance && by != nil { // of equal ones the first
			s.Way, s.Free, s.By = way, free, by
		}
	}
	return s
}

// lock finds the first unit that another one holds fast, and that one; -1 when there
// is none.
func (m *Assembly) lock(rest []*Unit) (index int, by *Unit) {
	for i, u := range rest[:len(rest)-1] {
		for k, o := range rest[:len(rest)-1] {
			if k != i && o.Joint == "" && m.locked(u, o) {
				return i, o
			}
		}
	}
	return -1, nil
}

// locked reports whether a unit cannot leave its place for another, whatever way it
// goes: a ring round a waist, a fuse in its holder.
func (m *Assembly) locked(u, o *Unit) bool {
	for _, way := range u.ways {
		if least := m.extent(u, way); m.clear(u, o, way, least, least) >= least {
			return false
		}
	}
	return true
}
