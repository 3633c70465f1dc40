package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
)

// A bearing tells how two uses of an assembly lie to each other at one place of a joint:
// by what the second lies off the first, across what goes through both.
type bearing struct {
	j          *plan.Joint
	at         finding.Span // of the word in the joint
	one, other string       // paths of the parts from the assembly, or their uses
	off        solid.Vec
	sees       func(solid.Vec) solid.Vec // what of a shift shows at this place
	misses     bool
}

// A strayed is some of an assembly's uses, or of the machine's parts, that lie off all the
// rest by one shift, as every joint between the two sides says: one fault, be it in one
// place or one seat.
type strayed struct {
	a     *plan.Assembly // nil for the whole machine
	uses  []stray        // those that lie off, the fewer of the two sides
	shift solid.Vec
	told  []bearing   // one for each joint that misses
	fits  *plan.Joint // the only joint between the two sides that does not miss, so that it is wrong; nil for none

	side map[string]int // by use, or by path from the machine: 1 for what lies off, -1 for the rest
}

// A stray is a use that lies off the rest.
type stray struct {
	name string
	use  *plan.Use
	in   *plan.Assembly
	up   string // the path that what the use is placed on begins with, with its dot
}

// fewestAstray is how many joints must agree before their misses are taken for one fault.
const fewestAstray = 2

// astray finds whether all that misses in the machine, or in one assembly, comes of one
// shift, once.
func (s *Situation) astray() *strays {
	if s.facts.strays != nil {
		return s.facts.strays
	}
	out := &strays{s: s, of: map[*plan.Assembly]*strayed{}, first: map[*plan.Assembly]string{}}
	s.facts.strays = out
	bearings := map[*plan.Joint][]bearing{}
	of := map[*plan.Assembly][]bearing{}
	var missing []*plan.Assembly
	s.eachJoint(func(a *plan.Assembly, j *plan.Joint) {
		bearings[j] = s.bearings(a, j)
		of[a] = append(of[a], byUse(bearings[j])...)
		if !slices.Contains(missing, a) && slices.ContainsFunc(bearings[j], func(b bearing) bool { return b.misses }) {
			missing = append(missing, a)
		}
	})
	for _, held := range s.Reckoning.Tally().Joints {
		if _, known := out.first[held.Assembly]; !known {
			out.first[held.Assembly] = below(held.In.Path)
		}
	}
	if len(missing) > 1 {
		out.whole = s.machineAstray(bearings)
	}
	for _, a := range missing {
		if one := oneShift(of[a]); out.whole == nil && one != nil && one.among(a) {
			out.of[a] = one
		}
	}
	return out
}

// below is the path that all in an instance begins with.
func below(path string) string {
	if path == "" {
		return ""
	}
	return path + "."
}

// byUse are bearings between an assembly's uses.
func byUse(list []bearing) (out []bearing) {
	for _, b := range list {
		b.one, b.other = useOf(b.one), useOf(b.other)
		out = append(out, b)
	}
	return out
}

// machineAstray looks whether one shift of some of the machine's parts explains all that
// misses in it.
func (s *Situation) machineAstray(bearings map[*plan.Joint][]bearing) *strayed {
	var all []bearing
	for _, held := range s.Reckoning.Tally().Joints {
		at, ok := s.Layout.Placement(held.In)
		if held.In.Parent == nil {
			at, ok = solid.Turned(solid.Vec{Z: 1}, 0), true
		}
		if !ok {
			continue
		}
		back := at.Inverse()
		for _, b := range bearings[held.Joint] {
			sees := b.sees
			b.one, b.other, b.off = below(held.In.Path)+b.one, below(held.In.Path)+b.other, at.Direction(b.off)
			b.sees = func(v solid.Vec) solid.Vec { return at.Direction(sees(back.Direction(v))) }
			all = append(all, b)
		}
	}
	out := oneShift(all)
	if out == nil {
		return nil
	}
	off, rest := 0, 0
	for _, in := range s.Reckoning.Tally().Instances {
		switch out.side[in.Path] {
		case 1:
			off++
		case -1:
			rest++
		}
	}
	if rest < off {
		out.turnOver()
	}
	out.name(s.Reckoning.Tally().Root)
	if len(out.uses) == 0 || off == 0 || rest == 0 {
		return nil
	}
	return out
}

// turnOver takes the other side for the one that lies off.
func (o *strayed) turnOver() {
	o.shift = o.shift.Mul(-1)
	for name := range o.side {
		o.side[name] *= -1
	}
}

// name names what lies off within an instance: a whole assembly where nothing in it lies
// otherwise. It returns how much in it lies off, and how much does not.
func (o *strayed) name(in *reckon.Instance) (off, rest int) {
	if len(in.Children) == 0 {
		off, rest = max(o.side[in.Path], 0), max(-o.side[in.Path], 0)
	}
	before := len(o.uses)
	for _, child := range in.Children {
		a, b := o.name(child)
		off, rest = off+a, rest+b
	}
	if off > 0 && rest == 0 && in.Use != nil {
		o.uses = append(o.uses[:before], stray{in.Path, in.Use, in.Parent.Assembly, below(in.Parent.Path)})
	}
	return off, rest
}

// among names the uses of an assembly that lie off; it reports whether there are any, and
// others.
func (o *strayed) among(a *plan.Assembly) bool {
	var off, rest []stray
	for _, u := range a.Holds {
		for _, name := range namesOf(o.side, u.ID.Text) {
			if one := (stray{name, u, a, ""}); o.side[name] > 0 {
				off = append(off, one)
			} else {
				rest = append(rest, one)
			}
		}
	}
	if o.a, o.uses = a, off; len(rest) < len(off) {
		o.uses = rest
		o.turnOver()
	}
	return len(off) > 0 && len(rest) > 0
}

// bearings are how the uses that a joint joins lie to each other.
func (s *Situation) bearings(a *plan.Assembly, j *plan.Joint) []bearing {
	var out []bearing
	for _, p := range s.Stacks(a, j) {
		miss, misses := s.joints().MissOf(&p)
		if misses && (miss.Tilt > 0 || miss.Together) {
			return []bearing{{j: j, misses: true, sees: func(solid.Vec) solid.Vec { return solid.Vec{} }}}
		}
		for i := 1; i < len(p.Crossings); i++ {
			one, other := &p.Crossings[i-1], &p.Crossings[i]
			if misses && miss.Other != one && miss.Guide != one && miss.Other != other && miss.Guide != other {
				continue
			}
			b := bearing{j: j, at: other.Word.At, one: one.Spot.Path, other: other.Spot.Path, misses: misses}
			b.sees = seesAcross(p.Dir, one.Feature, other.Feature)
			b.off = b.sees(other.Feature.At.Sub(one.Feature.At))
			if one.Feature.Hole == nil || other.Feature.Hole == nil { // a slot or a face: only what is told counts
				b.off = b.sees(miss.Off)
				if misses && miss.Guide == other {
					b.off = b.off.Mul(-1)
				}
			}
			b.misses = misses && b.off.Len() > joint.InLine
			out = append(out, b)
		}
	}
	for _, m := range s.joints().Matings(a, j) {
		if j.Kind.Text == plan.Glue {
			continue
		}
		b := bearing{j: j, at: m.Theirs.Word.At, one: m.Mine.Spot.Path, other: m.Theirs.Spot.Path, misses: s.besideText(j, m) != ""}
		b.sees = seesAcross(m.Mine.Feature.Dir)
		b.off = b.sees(m.Theirs.Feature.At.Sub(m.Mine.Feature.At))
		out = append(out, b)
	}
	return out
}

// seesAcross is what of a shift shows across a way, and across the slots there.
func seesAcross(way solid.Vec, features ...solid.Feature) func(solid.Vec) solid.Vec {
	return func(v solid.Vec) solid.Vec {
		v = v.Sub(way.Mul(v.Dot(way)))
		for _, f := range features {
			if f.Along != (solid.Vec{}) {
				v = v.Sub(f.Along.Mul(v.Dot(f.Along)))
			}
		}
		return v
	}
}

// useOf is the use of an assembly that a path from it begins with: "feet.2" of
// "feet.2.pad".
func useOf(path string) string {
	name, rest, _ := strings.Cut(path, ".")
	if number, _, _ := strings.Cut(rest, "."); number != "" && strings.Trim(number, "0123456789") == "" {
		return name + "." + number
	}
	return name
}

// oneShift looks whether one shift of some uses explains all that misses; nil where not.
func oneShift(all []bearing) *strayed {
	out := &strayed{}
	joints := map[*plan.Joint]bool{}
	for _, b := range all {
		if b.misses && !joints[b.j] {
			joints[b.j] = true
			out.told = append(out.told, b)
		}
		if b.misses && b.off.Len() > out.shift.Len() {
			out.shift = b.off
		}
	}
	if len(out.told) < fewestAstray {
		return nil
	}
	side, against := sides(all, out.shift)
	if against != nil && len(out.told) > fewestAstray {
		out.fits = against
		side, against = sides(slices.DeleteFunc(slices.Clone(all), func(b bearing) bool { return b.j == out.fits }), out.shift)
	}
	if against != nil {
		return nil
	}
	out.side = side
	return out
}

// sides puts uses on the side that is shifted, 1, or on the other, -1; against is a joint
// that does not agree with what others say.
func sides(all []bearing, shift solid.Vec) (side map[string]int, against *plan.Joint) {
	side = map[string]int{}
	put := func(use string, on int) bool {
		if side[use] == 0 {
			side[use] = on
		}
		return side[use] == on
	}
	for _, b := range all {
		if !b.misses {
			continue
		}
		ok := false
		switch seen := b.sees(shift); {
		case b.one == b.other:
		case b.off.Sub(seen).Len() < joint.InLine:
			ok = put(b.other, 1) && put(b.one, -1)
		case b.off.Add(seen).Len() < joint.InLine:
			ok = put(b.one, 1) && put(b.other, -1)
		}
		if !ok {
			return nil, b.j
		}
	}
	for changed := true; changed; {
		changed = false
		for _, b := range all {
			if b.misses || b.one == b.other || b.sees(shift).Len() < joint.InLine || b.off.Len() > joint.InLine {
				continue // what has play, or would not show the shift, ties nothing
			}
			one, other := side[b.one], side[b.other]
			switch {
			case one == other:
			case one == 0:
				side[b.one], changed = other, true
			case other == 0:
				side[b.other], changed = one, true
			default:
				return nil, b.j
			}
		}
	}
	return side, nil
}

// namesOf are the names under which a use, which may be repeated, is on a side.
func namesOf(side map[string]int, use string) (names []string) {
	if side[use] != 0 {
		return []string{use}
	}
	for n := 1; side[fmt.Sprintf("%s.%d", use, n)] != 0; n++ {
		names = append(names, fmt.Sprintf("%s.%d", use, n))
	}
	return names
}

// follows reports whether a use is seated on another of those that lie off, so that it is
// where that one takes it.
func (o *strayed) follows(u stray) bool {
	return u.use.Seat != nil && slices.ContainsFunc(o.uses, func(other stray) bool {
		return other.name != u.name && strings.HasPrefix(u.up+u.use.Seat.Onto.Text, other.name+".")
	})
}

// quoted are names for a message, the first few.
func quoted(list []stray) string {
	var names []string
	for i, u := range list {
		if i == mostNamed {
			names = append(names, "…")
			break
		}
		names = append(names, fmt.Sprintf("%q", u.name))
	}
	return strings.Join(names, ", ")
}

// finding tells a shift once, at the use that lies off, with the joints that show it.
func (o *strayed) finding() finding.Finding {
	var own, with []stray
	for _, u := range o.uses {
		if o.follows(u) {
			with = append(with, u)
		} else {
			own = append(own, u)
		}
	}
	if len(own) == 0 {
		own, with = o.uses, nil
	}
	f := finding.Finding{At: own[0].use.ID.At, Subject: own[0].in.ID.Text + "." + own[0].use.ID.Text}
	var ways, back, joints []string
	for _, w := range []struct {
		by   float64
		axis string
	}{{o.shift.X, "x"}, {o.shift.Y, "y"}, {o.shift.Z, "z"}} {
		if math.Abs(w.by) >= joint.InLine {
			ways = append(ways, fmt.Sprintf("%s too far along %s", hundredths(math.Abs(w.by)), minus(w.by)+w.axis))
			back = append(back, fmt.Sprintf("%s by %s", w.axis, hundredths(-w.by)))
		}
	}
	for i, b := range o.told {
		if i < mostNamed {
			joints = append(joints, fmt.Sprintf("%q", b.j.ID.Text))
		}
		f.Also = append(f.Also, finding.Related{At: b.at, Say: fmt.Sprintf("%q misses here", b.j.ID.Text)})
	}
	if len(o.told) > mostNamed {
		joints = append(joints, "…")
	}
	stand, they := "stand", "they are"
	if len(own) == 1 {
		stand, they = "stands", "it is"
	}
	f.Message = fmt.Sprintf("%s %s %s for what %s joined to", quoted(own), stand, strings.Join(ways, " and "), they)
	if len(with) > 0 {
		f.Message += fmt.Sprintf(", and %s with it", quoted(with))
	}
	f.Message += fmt.Sprintf(": by that the holes of %s joints miss (%s)", number(len(o.told)), strings.Join(joints, ", "))
	f.Remedy = fmt.Sprintf("change %s where %s placed, or all those holes", strings.Join(back, " and "), they)
	if o.fits != nil {
		f.Remedy = fmt.Sprintf("only the holes of %q do not miss: look at them first, they place it; or ", o.fits.ID.Text) + f.Remedy
	}
	return f
}

// minus is the sign of a way against an axis.
func minus(by float64) string {
	if by < 0 {
		return "−"
	}
	return ""
}
