package changes

import (
	"slices"
	"strconv"
	"strings"

	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/solid"
	"plansheaf/design/way"
)

// still is how far, mm, a body may stand aside and count as where it was: what rounding
// leaves of places that are worked out.
const still = 1e-4

// A unit is what an assembly holds or joins as one: a use with all that it brings, or a
// place of a joint with its screw, washers and nut.
type unit struct {
	unitKey
	sub    string // title of the assembly that a use brings; "" for others
	pieces []layout.Piece
}

type unitKey struct {
	name   string // of a use, without its number; of a joint
	number string // of a repeated use; the place of a joint
	joint  bool
}

// units are those of an assembly's pieces, in their order.
func units(of assembled) []*unit {
	known := map[unitKey]*unit{}
	var out []*unit
	for _, p := range of.pieces {
		k := unitKey{name: p.Joint, number: strconv.Itoa(p.Place), joint: true}
		if p.Use != "" {
			name, number, _ := strings.Cut(p.Use, ".")
			k = unitKey{name: name, number: number}
		}
		u := known[k]
		if u == nil {
			u = &unit{unitKey: k, sub: of.held(k)}
			known[k] = u
			out = append(out, u)
		}
		u.pieces = append(u.pieces, p)
	}
	return out
}

// An assembled is an assembly of one revision in one case, with its pieces.
type assembled struct {
	plan     *plan.Plan
	assembly *plan.Assembly
	options  plan.Selection
	pieces   []layout.Piece
}

// held is the title of the assembly that a use stands for; "" for parts and joints.
func (of assembled) held(k unitKey) string {
	if k.joint {
		return ""
	}
	use := of.assembly.Use(k.name)
	if use == nil {
		return ""
	}
	id, _ := way.Held(use, of.options)
	if a := of.plan.Assembly(id); a != nil {
		return assemblyTitle(a)
	}
	return ""
}

// A contrast compares assemblies piece by piece.
type contrast struct {
	parts, uses, joints renaming
	// looks reports whether two bodies look the same.
	looks  func(a, b *solid.Solid) bool
	system quantity.System
}

// A pair is a piece as it was and as it is; either may be missing.
type pair struct{ old, new *layout.Piece }

// differences are what differs between an assembly as it was and as it is, equal ones
// together, and the pieces that stay, as the new revision has them.
func (c *contrast) differences(old, new assembled) (list []*difference, stays []layout.Piece) {
	was := map[unitKey]*unit{}
	before := units(old)
	for _, u := range before {
		was[u.unitKey] = u
	}
	var all []*difference
	for _, u := range units(new) {
		key := u.unitKey
		if u.joint {
			key.name = within(c.joints, new.assembly.ID.Text, u.name)
		} else {
			key.name = within(c.uses, new.assembly.ID.Text, u.name)
		}
		had := was[key]
		delete(was, key)
		changed, same := c.unit(had, u)
		all, stays = append(all, changed...), append(stays, same...)
	}
	for _, u := range before {
		if was[u.unitKey] == u {
			changed, _ := c.unit(u, nil)
			all = append(all, changed...)
		}
	}
	return together(all), stays
}

// within is the old name of something in an assembly.
func within(r renaming, assembly, id string) string {
	if was, differs := r[assembly+"."+id]; differs {
		if _, name, ok := strings.Cut(was, "."); ok {
			return name
		}
	}
	return id
}

// unit compares a unit with what it was; one of both may be missing.
func (c *contrast) unit(old, new *unit) (list []*difference, stays []layout.Piece) {
	switch {
	case new == nil && old.sub != "":
		return []*difference{{sign: gone, words: old.sub + ": gone", own: true, old: old.pieces, count: 1}}, nil
	case new == nil:
		new = &unit{}
	case old == nil && new.sub != "":
		return []*difference{{sign: newly, words: new.sub + ": new", own: true, new: new.pieces, count: 1}}, nil
	case old == nil:
		old = &unit{}
	case new.sub != "" && old.sub != "":
		return c.sub(old, new)
	}
	pairs, stays := c.pairs(old.pieces, new.pieces, solid.Stay)
	for _, p := range pairs {
		list = append(list, c.piece(p))
	}
	return list, stays
}

// sub compares a sub-assembly with itself: it may stand elsewhere as a whole, and
// something in it may be changed.
func (c *contrast) sub(old, new *unit) (list []*difference, stays []layout.Piece) {
	shift, whole := solid.Stay, false
	for k := range min(len(old.pieces), len(new.pieces)) {
		if a, b := old.pieces[k], new.pieces[k]; c.same(a.Solid, b.Solid) {
			shift, whole = a.At.Inverse().Then(b.At), true
			break
		}
	}
	pairs, same := c.pairs(old.pieces, new.pieces, shift)
	if whole && len(same)*2 < len(new.pieces) { // most of it stands otherwise: no whole that moved
		shift = solid.Stay
		pairs, same = c.pairs(old.pieces, new.pieces, shift)
	}
	title := new.sub
	if old.sub != new.sub {
		title += ", before: " + old.sub
	}
	if near(shift, solid.Stay) {
		if len(pairs) == 0 {
			return nil, new.pieces
		}
		d := &difference{sign: inside, words: title + ": changed within", count: 1}
		d.old, d.new = bothOf(pairs)
		return []*difference{d}, same
	}
	at := middle(old.pieces)
	d := &difference{
		sign: moved, words: title + ": " + c.shift(shift, at), own: true, count: 1, old: old.pieces, new: new.pieces,
		ways: [][2]solid.Vec{{at, shift.Point(at)}},
	}
	if len(pairs) > 0 {
		d.words += ", and changed within"
	}
	return []*difference{d}, nil
}

// bothOf are the pieces of pairs.
func bothOf(pairs []pair) (old, new []layout.Piece) {
	for _, p := range pairs {
		if p.old != nil {
			old = append(old, *p.old)
		}
		if p.new != nil {
			new = append(new, *p.new)
		}
	}
	return old, new
}

// pairs finds for each piece which it was, with everything before moved by a shift, and
// gives those apart that stay: of each part first the same bodies in the same places, then
// the same bodies elsewhere, then others, and the first of each, the screw of a joint.
func (c *contrast) pairs(old, new []layout.Piece, shift solid.Placement) (list []pair, stays []layout.Piece) {
	of, taken := make([]int, len(new)), make([]bool, len(old))
	was := map[string][]int{} // by part, those not taken
	for k, a := range old {
		id := a.Part.Part.ID.Text
		was[id] = append(was[id], k)
	}
	for i := range of {
		of[i] = -1
	}
	match := func(fits func(a, b layout.Piece) bool) {
		for i, b := range new {
			if of[i] >= 0 {
				continue
			}
			id := c.parts.of(b.Part.Part.ID.Text)
			for n, k := range was[id] {
				if fits(old[k], b) {
					of[i], taken[k] = k, true
					was[id] = slices.Delete(was[id], n, n+1)
					break
				}
			}
		}
	}
	match(func(a, b layout.Piece) bool { return near(a.At.Then(shift), b.At) && c.same(a.Solid, b.Solid) })
	stay := make([]bool, len(new))
	for i, k := range of {
		if stay[i] = k >= 0; stay[i] {
			stays = append(stays, new[i])
		}
	}
	match(func(a, b layout.Piece) bool { return c.same(a.Solid, b.Solid) })
	match(func(a, b layout.Piece) bool { return true })
	if len(old) > 0 && len(new) > 0 && of[0] < 0 && !taken[0] {
		of[0], taken[0] = 0, true
	}
	for i, k := range of {
		switch {
		case stay[i]:
		case k >= 0:
			list = append(list, pair{&old[k], &new[i]})
		default:
			list = append(list, pair{nil, &new[i]})
		}
	}
	for k := range old {
		if !taken[k] {
			list = append(list, pair{&old[k], nil})
		}
	}
	return list, stays
}

// same reports whether two bodies look the same.
func (c *contrast) same(a, b *solid.Solid) bool {
	return a == b || a.MemoKey() == b.MemoKey() || c.looks(a, b)
}

// near reports whether two placements are the same but for rounding.
func near(a, b solid.Placement) bool {
	return a.Move.Sub(b.Move).Len() <= still && sameTurn(a, b)
}

// sameTurn reports whether two placements turn alike but for rounding.
func sameTurn(a, b solid.Placement) bool {
	const rounding = 1e-6
	for k := range a.Turn {
		if a.Turn[k].Sub(b.Turn[k]).Len() > rounding {
			return false
		}
	}
	return true
}
