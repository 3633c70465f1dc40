package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"plansheaf/design/clash"
	"plansheaf/design/finding"
	"plansheaf/design/joint"
)

// sameDepth (mm) is by how much overlaps may differ that come of one shift.
const sameDepth = 0.05

// leastShare is how deep, of the deepest, an overlap must be to come of the same fault: what
// is met by far less is met for another reason. Common practice, no source.
const leastShare = 0.25

// mostGrouped bounds among how many overlaps a common part is looked for; of more, each is
// told by itself.
const mostGrouped = 300

// An overlapFault is overlaps that are one fault.
type overlapFault struct {
	pairs []*overlapping
	by    *clash.Body // what all of them share; nil for a single one
	same  bool        // by the same depth
}

// overlapFaults are the case's overlaps by fault: a part that meets several others is told
// once, those that meet most others before the rest. What lies off and is told so is left out.
func (s *Situation) overlapFaults() []overlapFault {
	rest := slices.DeleteFunc(slices.Clone(s.overlapping()), func(o *overlapping) bool { return s.strayIn(o) != nil })
	var out []overlapFault
	for len(rest) <= mostGrouped {
		one, ok := mostShared(rest)
		if !ok {
			break
		}
		out = append(out, one)
		rest = slices.DeleteFunc(rest, func(o *overlapping) bool { return slices.Contains(one.pairs, o) })
	}
	for _, o := range rest {
		out = append(out, overlapFault{pairs: []*overlapping{o}})
	}
	return out
}

// strayIn is what lies off so that two bodies overlap; nil for nothing.
func (s *Situation) strayIn(o *overlapping) *strayed {
	return s.astray().meets(o.deepest.In, o.deepest.A, o.deepest.B, o.deepest.Depth)
}

// mostShared is the part that most overlaps have in common.
func mostShared(list []*overlapping) (most overlapFault, ok bool) {
	for _, first := range list {
		for _, b := range []*clash.Body{first.deepest.A, first.deepest.B} {
			if b.Joint != nil {
				continue
			}
			one := overlapFault{by: b, same: true, pairs: withPart(list, b.Part.Part.ID.Text)}
			one.pairs = slices.DeleteFunc(one.pairs, func(o *overlapping) bool {
				return o.deepest.Depth > first.deepest.Depth || o.deepest.Depth < leastShare*first.deepest.Depth
			})
			for _, o := range one.pairs {
				one.same = one.same && math.Abs(o.deepest.Depth-first.deepest.Depth) < sameDepth
			}
			if n := one.others(); n >= 2 && (n > most.others() || n == most.others() && one.same && !most.same) {
				most, ok = one, true
			}
		}
	}
	return most, ok
}

// withPart are the overlaps of a part with others.
func withPart(list []*overlapping, part string) (out []*overlapping) {
	for _, o := range list {
		a, b := o.deepest.A, o.deepest.B
		if a.Joint == nil && a.Part.Part.ID.Text == part || b.Joint == nil && b.Part.Part.ID.Text == part {
			out = append(out, o)
		}
	}
	return out
}

// other is what overlaps with what a fault's pairs share.
func (f *overlapFault) other(o *overlapping) *clash.Body {
	if o.deepest.A.Joint == nil && o.deepest.A.Part == f.by.Part {
		return o.deepest.B
	}
	return o.deepest.A
}

// others is how many different parts meet what the pairs share.
func (f *overlapFault) others() int {
	seen := map[string]bool{}
	for _, o := range f.pairs {
		seen[f.other(o).Part.Part.ID.Text] = true
	}
	return len(seen)
}

// beyond is by how much the worst pair overlaps more than it may, mm.
func (f *overlapFault) beyond() float64 {
	most := 0.0
	for _, o := range f.pairs {
		most = math.Max(most, o.deepest.Depth-o.deepest.Allowed)
	}
	return most
}

// overlapFaultFinding is a finding about a fault: of one pair, or of the part that all share.
func (s *Situation) overlapFaultFinding(f *overlapFault) finding.Finding {
	if f.by == nil {
		return s.overlapFinding(f.pairs[0])
	}
	least, most := math.Inf(1), 0.0
	var names []string
	own := f.by.In.Parent.Assembly
	out := finding.Finding{At: f.by.In.Use.ID.At, Subject: own.ID.Text + "." + f.by.In.Use.ID.Text}
	out.Also = append(out.Also, finding.Related{At: f.by.Part.Part.ID.At, Say: "the part"})
	for i, o := range f.pairs {
		least, most = math.Min(least, o.deepest.Depth), math.Max(most, o.deepest.Depth)
		other := f.other(o)
		if i < mostNamed {
			names = append(names, fmt.Sprintf("%q", other.Name()))
		}
		out.Also = append(out.Also, finding.Related{At: inAssembly(o.deepest.In, other).word.At, Say: s.overlapText(o)})
	}
	out.Also = append(out.Also, seatNotes(f.by)...)
	if len(f.pairs) > mostNamed {
		names = append(names, "…")
	}
	met := fmt.Sprintf("%q overlaps with %s others", f.by.Name(), number(len(f.pairs)))
	if f.same {
		out.Message = fmt.Sprintf("%s, with each by %s (%s): it is that much too large, or stands that much aside", met, hundredths(most), strings.Join(names, ", "))
		out.Remedy = fmt.Sprintf("look at its sizes and its place first: it is in the way of all of them by %s; or, where it is meant, state it with overlaps and a reason", hundredths(most))
		return out
	}
	out.Message = fmt.Sprintf("%s, by %s to %s (%s): it is what they have in common", met, hundredths(least), hundredths(most), strings.Join(names, ", "))
	out.Remedy = "look at its sizes and its place first; or, where it is meant, state it with overlaps and a reason"
	return out
}

// pushedOff reports whether the layers of a place lie apart by just as much as one of them
// overlaps with something: it stands aside, which is told of that.
func (s *Situation) pushedOff(p *joint.Stack) bool {
	none := true
	for i, gap := range p.Gaps {
		if gap <= gapWithin {
			continue
		}
		none = false
		one, other := p.Crossings[i].Part.Part.ID.Text, p.Crossings[i+1].Part.Part.ID.Text
		if !slices.ContainsFunc(append(withPart(s.overlapping(), one), withPart(s.overlapping(), other)...), func(o *overlapping) bool {
			return math.Abs(o.deepest.Depth-gap) < sameDepth
		}) {
			return false
		}
	}
	return !none
}
