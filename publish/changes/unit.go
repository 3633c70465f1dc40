package changes

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"plansheaf/design/bill"
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

// A sign says on paper what became of a thing.
type sign string

const (
	newly  sign = "+" // there was none
	gone   sign = "−" // there is none any more
	moved  sign = "→" // it stands elsewhere
	other  sign = "≠" // it has another shape, or another one stands in its place
	inside sign = "⊃" // a sub-assembly in which something changed
)

// A difference is one thing of an assembly that looks otherwise.
type difference struct {
	sign     sign
	words    string // what it is and what became of it, without its number
	any      string // the words where many like it went other ways; "" for none
	own      bool   // the assembly's own doing: not that of a sub-assembly in it
	old, new []layout.Piece
	count    int
	// ways are from where what moved stood to where it stands, in the assembly's axes.
	ways [][2]solid.Vec
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

// mostWays is in how many directions pieces of one part may have moved equally far and
// still be told one direction at a time.
const mostWays = 2

// together makes one of equal differences, in the order of the first of each. Pieces of
// one part that moved equally far, but in many directions, are one: arrows tell them apart.
func together(all []*difference) []*difference {
	directions := map[string]map[string]bool{}
	for _, d := range all {
		if d.any != "" {
			if directions[d.any] == nil {
				directions[d.any] = map[string]bool{}
			}
			directions[d.any][d.words] = true
		}
	}
	known := map[string]*difference{}
	var out []*difference
	for _, d := range all {
		if len(directions[d.any]) > mostWays {
			d.words = d.any
		}
		key := string(d.sign) + d.words
		one := known[key]
		if one == nil {
			known[key] = d
			out = append(out, d)
			continue
		}
		one.old, one.new, one.ways = append(one.old, d.old...), append(one.new, d.new...), append(one.ways, d.ways...)
		one.count += d.count
		one.own = one.own || d.own
	}
	return out
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

// piece is what became of a piece that does not stay.
func (c *contrast) piece(p pair) *difference {
	d := &difference{own: true, count: 1}
	switch {
	case p.old == nil:
		d.sign, d.words, d.new = newly, title(p.new)+": new", []layout.Piece{*p.new}
		return d
	case p.new == nil:
		d.sign, d.words, d.old = gone, title(p.old)+": gone", []layout.Piece{*p.old}
		return d
	}
	d.old, d.new = []layout.Piece{*p.old}, []layout.Piece{*p.new}
	shift := p.old.At.Inverse().Then(p.new.At)
	at := middle(d.old)
	switch {
	case p.old.Part.Part.ID.Text != c.parts.of(p.new.Part.Part.ID.Text), title(p.old) != title(p.new) && !c.same(p.old.Solid, p.new.Solid):
		d.sign, d.words = other, title(p.new)+": in place of "+title(p.old)
	case !c.same(p.old.Solid, p.new.Solid):
		d.sign, d.words = other, title(p.new)+": another shape or size"
	default:
		d.sign, d.words = moved, title(p.new)+": "+c.shift(shift, at)
		if far := shift.Point(at).Sub(at).Len(); far > still && sameTurn(shift, solid.Stay) {
			d.any = fmt.Sprintf("%s: moved by %s, each the way that its arrow shows", title(p.new), c.length(far))
		}
		d.ways = [][2]solid.Vec{{at, shift.Point(at)}}
	}
	return d
}

// same reports whether two bodies look the same.
func (c *contrast) same(a, b *solid.Solid) bool {
	return a == b || a.MemoKey() == b.MemoKey() || c.looks(a, b)
}

func title(p *layout.Piece) string { return bill.Title(p.Part) }

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

// length is a length in mm as the new plan prints it.
func (c *contrast) length(mm float64) string {
	return quantity.Text(quantity.MM(math.Round(mm/still)*still), c.system)
}

// middle is that of the box around pieces, in the assembly's axes.
func middle(pieces []layout.Piece) solid.Vec {
	box := solid.EmptyBox()
	for _, p := range pieces {
		for _, corner := range p.Solid.Box().Corners() {
			box = box.Add(p.At.Point(corner))
		}
	}
	return box.Min.Add(box.Max).Mul(0.5)
}

// shift says in words how something stands otherwise whose middle was at a point.
func (c *contrast) shift(by solid.Placement, at solid.Vec) string {
	way := by.Point(at).Sub(at)
	var words []string
	for _, one := range []struct {
		along      float64
		more, less string
	}{
		{way.X, "to the right", "to the left"}, {way.Y, "to the back", "to the front"}, {way.Z, "up", "down"},
	} {
		if math.Abs(one.along) <= still {
			continue
		}
		to := one.more
		if one.along < 0 {
			to = one.less
		}
		words = append(words, c.length(math.Abs(one.along))+" "+to)
	}
	cos := (by.Turn[0].X + by.Turn[1].Y + by.Turn[2].Z - 1) / 2
	turned := ""
	if angle := math.Acos(min(1, max(-1, cos))) * 180 / math.Pi; angle > 1e-3 {
		turned = fmt.Sprintf("turned by %s°", strconv.FormatFloat(math.Round(angle*100)/100, 'f', -1, 64))
	}
	switch {
	case len(words) == 0:
		return cmp.Or(turned, "moved")
	case turned != "":
		return turned + " and moved by " + strings.Join(words, ", ")
	}
	return "moved by " + strings.Join(words, ", ")
}
