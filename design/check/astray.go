package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/plan"
	"plansheaf/design/solid"
)

// A bearing tells how two uses of an assembly lie to each other at one place of a joint:
// by what the second lies off the first, across what goes through both.
type bearing struct {
	j          *plan.Joint
	at         finding.Span // of the word in the joint
	one, other string       // uses
	off        solid.Vec
	sees       func(solid.Vec) solid.Vec // what of a shift shows at this place
	misses     bool
}

// A strayed is some of an assembly's uses that lie off all the rest by one shift, as every
// joint between the two sides says: one fault, be it in one place or one seat.
type strayed struct {
	a     *plan.Assembly
	uses  []string // those that lie off, the fewer of the two sides
	shift solid.Vec
	told  []bearing   // one for each joint that misses
	fits  *plan.Joint // the only joint between the two sides that does not miss, so that it is wrong; nil for none
}

// fewestAstray is how many joints must agree before their misses are taken for one fault.
const fewestAstray = 2

// astray finds, for each assembly, whether all that misses in it comes of one shift.
func (s *Situation) astray() map[*plan.Assembly]*strayed {
	bearings := map[*plan.Assembly][]bearing{}
	var order []*plan.Assembly
	s.eachJoint(func(a *plan.Assembly, j *plan.Joint) {
		if bearings[a] == nil {
			order = append(order, a)
		}
		bearings[a] = append(bearings[a], s.bearings(a, j)...)
	})
	out := map[*plan.Assembly]*strayed{}
	for _, a := range order {
		if one := oneShift(a, bearings[a]); one != nil {
			out[a] = one
		}
	}
	return out
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
			b := bearing{j: j, at: other.Word.At, one: useOf(one.Spot.Path), other: useOf(other.Spot.Path), misses: misses}
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
		b := bearing{j: j, at: m.Theirs.Word.At, one: useOf(m.Mine.Spot.Path), other: useOf(m.Theirs.Spot.Path), misses: s.besideText(j, m) != ""}
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
func oneShift(a *plan.Assembly, all []bearing) *strayed {
	out := &strayed{a: a}
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
	var off, rest []string
	for _, u := range a.Holds {
		for _, name := range namesOf(side, u.ID.Text) {
			if side[name] > 0 {
				off = append(off, name)
			} else {
				rest = append(rest, name)
			}
		}
	}
	if len(off) == 0 || len(rest) == 0 {
		return nil
	}
	out.uses = off
	if len(rest) < len(off) {
		out.uses, out.shift = rest, out.shift.Mul(-1)
	}
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

// finding tells a shift once, at the use that lies off, with the joints that show it.
func (o *strayed) finding() finding.Finding {
	first, _, _ := strings.Cut(o.uses[0], ".")
	f := finding.Finding{Subject: o.a.ID.Text + "." + first}
	for _, u := range o.a.Holds {
		if u.ID.Text == first {
			f.At = u.ID.At
		}
	}
	var names, ways, back, joints []string
	for i, name := range o.uses {
		if i == mostNamed {
			names = append(names, "…")
			break
		}
		names = append(names, fmt.Sprintf("%q", name))
	}
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
	stand := "stand"
	if len(o.uses) == 1 {
		stand = "stands"
	}
	f.Message = fmt.Sprintf("%s %s %s for what they are joined to: by that the holes of %s joints miss (%s)", strings.Join(names, ", "), stand, strings.Join(ways, " and "), number(len(o.told)), strings.Join(joints, ", "))
	if len(o.uses) == 1 {
		f.Message = strings.Replace(f.Message, "what they are", "what it is", 1)
	}
	f.Remedy = fmt.Sprintf("change %s where %s placed, or all those holes", strings.Join(back, " and "), map[bool]string{true: "it is", false: "they are"}[len(o.uses) == 1])
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
