package scene

import (
	"cmp"
	"math"
	"slices"

	"plansheaf/design/solid"
)

// A removal is a unit with the way by which it leaves what is still there.
type removal struct {
	unit *unit
	way  solid.Vec
	free float64 // mm: how far the way is free; infinite for all along
}

// apart takes a machine apart unit by unit, the last step's first, each along a
// straight way that is free of what is still there. It returns the removals in
// their order, and the units that stay: the first of them is what the rest was put
// on, the others no free way was found for. Locked are the units that another one
// holds fast and takes with it.
func (m *machine) apart() (out []removal, stay, locked []*unit) {
	rest := m.units()
	slices.SortStableFunc(rest, func(a, b *unit) int {
		return cmp.Or(cmp.Compare(b.step, a.step), cmp.Compare(len(b.joint), 0)-cmp.Compare(len(a.joint), 0), cmp.Compare(b.order, a.order))
	})
	broken := map[*unit]bool{} // made by splitting
	for len(rest) > 1 {
		if i, r, found := m.next(rest); found {
			out = append(out, r)
			rest = slices.Delete(rest, i, i+1)
			continue
		}
		if m.ways.lines > mostLines {
			break // nothing more is found to be free
		}
		i := slices.IndexFunc(rest, func(u *unit) bool { return !broken[u] && (len(u.uses) > 1 || u.joint != "" && len(u.pieces) > 1) })
		if i >= 0 {
			parts := m.split(rest[i])
			for _, u := range parts {
				broken[u] = true
			}
			rest = slices.Replace(rest, i, i+1, parts...)
			continue
		}
		i = m.lock(rest)
		if i < 0 {
			break
		}
		locked = append(locked, rest[i])
		rest = slices.Delete(rest, i, i+1)
	}
	slices.Reverse(rest)
	return out, rest, locked
}

// plenty is the share of a machine's longest side at which a way is as good as free
// all along: long enough to be drawn.
const plenty = 0.5

// next is the first unit that can leave, with its way: one away from what the unit
// is held to and free for long; failing that, any that is free for long; failing
// that, one that is free until the unit has left its place, as a screw's always need
// be only. What everything else was put on is never the next.
func (m *machine) next(rest []*unit) (index int, r removal, found bool) {
	size := solid.EmptyBox()
	for _, u := range rest {
		size = size.Join(m.boxAlong(u, solid.Vec{Z: 1}))
	}
	s := size.Size()
	long := plenty * math.Max(s.X, math.Max(s.Y, s.Z))
	for _, pass := range []struct{ off, short bool }{{off: true}, {}, {off: true, short: true}, {short: true}} {
		for i, u := range rest[:len(rest)-1] {
			if slices.ContainsFunc(rest, func(o *unit) bool { return o != u && m.holds(o, u) }) {
				continue
			}
			for _, way := range u.ways {
				if pass.off && !m.off(u, rest, way) {
					continue
				}
				least := long
				if pass.short || u.joint != "" {
					least = m.extent(u, way) + rubbing
				}
				if free := m.freedom(u, rest, way, least); free >= least {
					return i, removal{u, way, free}, true
				}
			}
		}
	}
	return 0, removal{}, false
}

// touching (mm) is how near to what holds it a thing lies.
const touching = 1.0

// off reports whether a way leads a unit off what it is held to: against the way it
// would run into that at once. What no joint holds may go anywhere.
func (m *machine) off(u *unit, rest []*unit, way solid.Vec) bool {
	if u.joint != "" || slices.Contains(u.ways[:u.axes], way) {
		return true
	}
	tied := false
	for _, o := range rest {
		if o != u && m.bound(u, o) {
			if tied = true; m.clear(u, o, way.Mul(-1), touching) < touching {
				return true
			}
		}
	}
	return !tied
}

// freedom is how far a unit moves along a way before it runs into one of the rest;
// once it is known to be less than wanted, any smaller number.
func (m *machine) freedom(u *unit, rest []*unit, way solid.Vec, least float64) float64 {
	try := attempt{u, way}
	if last, tried := m.failed[try]; tried && last.free < least && slices.Contains(rest, last.by) {
		return last.free // what was in the way still is
	}
	free := math.Inf(1)
	for _, o := range rest {
		if o == u {
			continue
		}
		if free = math.Min(free, m.clear(u, o, way, least)); free < least {
			m.failed[try] = failure{o, free}
			return free
		}
	}
	return free
}

// attempt is a unit's try to leave along a way, failure what it ran into, and where.
type attempt struct {
	unit *unit
	way  solid.Vec
}

type failure struct {
	by   *unit
	free float64
}

// lock merges the first unit that another one holds fast into that one, and returns
// its index; -1 when there is none.
func (m *machine) lock(rest []*unit) int {
	for i, u := range rest[:len(rest)-1] {
		for k, o := range rest[:len(rest)-1] {
			if k != i && o.joint == "" && m.locked(u, o) {
				o.pieces = append(o.pieces, u.pieces...)
				clear(m.failed)
				clear(m.boxes)
				return i
			}
		}
	}
	return -1
}

// locked reports whether a unit cannot leave its place for another, whatever way it
// goes: a ring round a waist, a fuse in its holder.
func (m *machine) locked(u, o *unit) bool {
	for _, way := range u.ways {
		if least := m.extent(u, way); m.clear(u, o, way, least) >= least {
			return false
		}
	}
	return true
}
