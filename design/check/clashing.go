package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"plansheaf/design/clash"
	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
)

// Clashes is what overlaps, floats or runs into something in the case, found once.
func (s *Situation) Clashes() *clash.Report {
	if s.facts.clashes == nil {
		if s.work.clashes == nil {
			s.work.clashes = clash.NewStore(s.work.Ways().Bodies())
			s.work.clashes.Kept = s.work.Kept
		}
		s.facts.clashes = clash.Of(s.Reckoning, s.Layout, s.joints(), s.work.clashes)
	}
	return s.facts.clashes
}

// A namedBody is what an assembly calls a body, or what the body belongs to.
type namedBody struct {
	word plan.Word // the use, or the joint
	name string
}

// inAssembly is what an assembly's instance calls a body that it holds.
func inAssembly(in *reckon.Instance, b *clash.Body) namedBody {
	if b.Joint != nil && b.In == in {
		return namedBody{b.Joint.ID, b.Joint.ID.Text}
	}
	one := b.In
	for one.Parent != nil && one.Parent != in {
		one = one.Parent
	}
	if one.Use == nil {
		return namedBody{}
	}
	return namedBody{one.Use.ID, one.Use.ID.Text}
}

// about is a finding about two bodies in the assembly that holds both.
func (s *Situation) about(in *reckon.Instance, a, b *clash.Body, message string) finding.Finding {
	mine, theirs := inAssembly(in, a), inAssembly(in, b)
	if a.Joint == nil && b.Joint != nil { // a screw is moved more easily than a part
		mine, theirs = theirs, mine
	}
	f := finding.Finding{At: mine.word.At, Subject: in.Assembly.ID.Text + "." + mine.name, Message: message}
	if theirs.word != mine.word {
		f.Also = append(f.Also, finding.Related{At: theirs.word.At, Say: "the other"})
	}
	return f
}

// An overlapping is overlaps that are one fault: of the same uses of the same assembly.
type overlapping struct {
	deepest clash.Overlap
	pairs   int
}

// overlapping are the case's overlaps, those of repeated uses and of the places of a
// joint together.
func (s *Situation) overlapping() []*overlapping {
	var out []*overlapping
	of := map[string]*overlapping{}
	for _, o := range s.Clashes().Overlaps {
		if s.wrongScrew(o.A) || s.wrongScrew(o.B) || o.Fit != "" && s.misfits()[[2]string{o.A.Part.Part.ID.Text, o.B.Part.Part.ID.Text}] {
			continue // told of the screw or the fit
		}
		key := o.In.Assembly.ID.Text + "|" + inAssembly(o.In, o.A).name + "|" + inAssembly(o.In, o.B).name + "|" + o.A.Part.Part.ID.Text + "|" + o.B.Part.Part.ID.Text
		one := of[key]
		if one == nil {
			one = &overlapping{deepest: o}
			of[key] = one
			out = append(out, one)
		}
		one.pairs++
		if o.Depth > one.deepest.Depth {
			one.deepest = o
		}
	}
	return out
}

// wrongScrew reports whether a body is a screw that is too long or of another thread,
// which is told of its joint.
func (s *Situation) wrongScrew(b *clash.Body) bool {
	return b.Screw && b.In.Assembly != nil && s.oversized(b.In.Assembly, b.Joint.ID.Text)
}

// overlapText says how two bodies overlap.
func (s *Situation) overlapText(o *overlapping) string {
	d := &o.deepest
	text := fmt.Sprintf("%q and %q overlap by %s (%s), deepest at %s of the machine", d.A.Name(), d.B.Name(), hundredths(d.Depth), cubic(d.Volume), placeText(d.At))
	switch {
	case d.Stated != nil:
		text += fmt.Sprintf("; the plan states %s", hundredths(d.Allowed))
	case d.Fit != "":
		text += fmt.Sprintf("; their %s fit accounts for %s", d.Fit, hundredths(d.Allowed))
	}
	if o.pairs > 1 {
		text += fmt.Sprintf("; so do %s more such pairs", number(o.pairs-1))
	}
	if d.Instances > 1 {
		text += fmt.Sprintf("; in each of %s %q", number(d.Instances), d.In.Assembly.ID.Text)
	}
	return text
}

// overlapFinding is a finding about an overlap, with the least shift that parts them.
func (s *Situation) overlapFinding(o *overlapping) finding.Finding {
	d := &o.deepest
	f := s.about(d.In, d.A, d.B, s.overlapText(o))
	f.Also = append(f.Also, seatNotes(d.A, d.B)...)
	f.Remedy = fmt.Sprintf("move one of them by %s at least, take that much off, or, where it is meant, state it with overlaps and a reason", upToHundredths(d.Depth))
	return f
}

// cubic is a volume for a message.
func cubic(mm3 float64) string {
	digits := 1.0
	for mm3*digits < 100 && digits < 1000 {
		digits *= 10
	}
	return fmt.Sprintf("%g mm³", math.Round(mm3*digits)/digits)
}

// placeText is a place in the machine, to tenths.
func placeText(at solid.Vec) string {
	tenth := func(x float64) string { return mm(math.Round(x*10)/10 + 0) }
	return fmt.Sprintf("x %s, y %s, z %s", tenth(at.X), tenth(at.Y), tenth(at.Z))
}

// standsText is where a motion stands: "stroke at 62 mm".
func (s *Situation) standsText(m *plan.Motion, v quantity.Value) string {
	return fmt.Sprintf("%s at %s", m.ID.Text, s.travelled(v))
}

// travelled is a position for a message, to tenths of a millimetre or of a degree.
func (s *Situation) travelled(v quantity.Value) string {
	if v.Is(quantity.Length) {
		return mm(math.Round(v.SI*1e4)/10 + 0)
	}
	return quantity.Text(v.Nominal(), System(s.Reckoning.Plan))
}

// othersText is where other motions stand: ", swing at 30°"; empty where all rest.
func (s *Situation) othersText(others map[string]quantity.Value) string {
	if len(others) == 0 {
		return ""
	}
	return ", " + s.allStand(others)
}

// allStand is where motions stand: "stroke at 62 mm, swing at 30°".
func (s *Situation) allStand(at map[string]quantity.Value) string {
	var texts []string
	for id, v := range at {
		texts = append(texts, fmt.Sprintf("%s at %s", id, s.travelled(v)))
	}
	slices.Sort(texts)
	return strings.Join(texts, ", ")
}
