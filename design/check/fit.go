package check

import (
	"fmt"
	"math"
	"slices"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
	"plansheaf/design/standards"
)

// A passing is one layer of a screw joint: what the screw meets there.
type passing struct {
	a      *plan.Assembly
	j      *plan.Joint
	screw  *reckon.Part
	thread standards.Thread
	word   plan.Word // the feature as the joint names it
	spot   reckon.Spot
	cut    *plan.Solid // a round shape that is cut away and named, where the spot is no hole
	first  bool
	bites  bool // the screw threads here: the last layer of a joint without a nut
	insert bool // the last layer of a joint into an insert, where the insert sits
}

// eachPassing visits the holes of every joint's layers for screws whose thread is
// known, a pattern once.
func (s *Situation) eachPassing(visit func(p passing)) {
	if !s.facts.passed {
		s.facts.passed = true
		s.pass(func(p passing) { s.facts.passings = append(s.facts.passings, p) })
	}
	for _, p := range s.facts.passings {
		visit(p)
	}
}

// eachPassedHole visits a hole of a part once for each joint, however many instances of
// the part the joint holds.
func (s *Situation) eachPassedHole(visit func(p passing)) {
	type key struct {
		a    *plan.Assembly
		j    *plan.Joint
		hole *plan.Hole
	}
	seen := map[key]bool{}
	s.eachPassing(func(p passing) {
		k := key{p.a, p.j, p.spot.Hole}
		if p.spot.Hole != nil && !seen[k] {
			seen[k] = true
			visit(p)
		}
	})
}

func (s *Situation) pass(visit func(p passing)) {
	s.eachJoint(func(a *plan.Assembly, j *plan.Joint) {
		screw, thread, ok := s.screwOf(j)
		if !ok {
			return
		}
		nut := joint.NutOf(s.Reckoning, j)
		insert := nut != nil && nut.Part.Fastener != nil && nut.Part.Fastener.Kind.Text == "insert"
		for i, layer := range j.Through {
			last := i == len(j.Through)-1
			for _, w := range layer.Features {
				for _, spot := range oncePerHole(s.Reckoning.Spots(a, w)) {
					visit(passing{a: a, j: j, screw: screw, thread: thread, word: w, spot: spot, cut: s.cutBore(spot), first: i == 0, bites: last && nut == nil, insert: last && insert})
				}
			}
		}
	})
}

// cutBore is the cylinder that a part has cut away under the name of a spot, which is a
// bore to what goes through it; nil for other spots.
func (s *Situation) cutBore(spot reckon.Spot) *plan.Solid {
	p := s.Reckoning.Part(spot.Part.ID.Text)
	for depth := 0; p != nil && spot.Hole == nil && depth < mostAltered; depth++ {
		for i := range p.Part.Shape {
			if one := &p.Part.Shape[i]; one.Name.Text == spot.Feature && one.Cut && one.Kind.Text == "cylinder" && !one.Thread.Given() {
				return one
			}
		}
		p = p.Base
	}
	return nil
}

// mostAltered bounds how often a part is altered from another.
const mostAltered = 20

// eachWidth visits the holes and bores that a joint's screw goes through without turning
// in, with how wide they are in millimetres, once for each joint.
func (s *Situation) eachWidth(visit func(p passing, wide float64)) {
	type key struct {
		j   *plan.Joint
		cut *plan.Solid
	}
	seen := map[key]bool{}
	s.eachPassing(func(p passing) {
		k := key{p.j, p.cut}
		if p.cut == nil || p.bites || p.insert || seen[k] {
			return
		}
		seen[k] = true
		if wide, ok := s.Reckoning.Length(p.cut.D); ok {
			visit(p, wide)
		}
	})
	s.eachPassedHole(func(p passing) {
		if p.bites || p.insert {
			return
		}
		if wide, ok := s.wide(p.spot.Hole); ok {
			visit(p, wide)
		}
	})
}

// oncePerHole keeps of the holes of one pattern in one part the first.
func oncePerHole(spots []reckon.Spot) []reckon.Spot {
	type key struct {
		part *plan.Part
		hole *plan.Hole
		face string
	}
	seen := map[key]bool{}
	var kept []reckon.Spot
	for _, spot := range spots {
		k := key{spot.Part, spot.Hole, ""}
		if spot.Hole == nil {
			k.face = spot.Feature
		}
		if !seen[k] {
			seen[k] = true
			kept = append(kept, spot)
		}
	}
	return kept
}

// wood reports whether the screw is a wood screw.
func (p passing) wood() bool {
	return p.screw.Fastener != nil && p.screw.Fastener.Kind == standards.WoodScrew
}

// hole is the hole in words with its size: the clearance hole for M6 "head.posts".
func (p passing) hole() string {
	if p.spot.Hole == nil {
		return fmt.Sprintf("the bore %q", p.word.Text)
	}
	return fmt.Sprintf("the %s %q", holeWords(p.spot.Hole), p.word.Text)
}

// finding is a finding about the hole that the screw meets.
func (p passing) finding(message, remedy string) finding.Finding {
	f := p.about(message, remedy)
	at := p.spot.Part.ID.At
	switch {
	case p.spot.Hole != nil:
		at = p.spot.Hole.ID.At
	case p.cut != nil:
		at = p.cut.Name.At
	}
	f.Also = []finding.Related{{At: at, Say: fmt.Sprintf("the hole, in part %q", p.spot.Part.ID.Text)}}
	return f
}

// about is a finding about a layer, be it a hole or not.
func (p passing) about(message, remedy string) finding.Finding {
	return finding.Finding{At: p.word.At, Subject: jointSubject(p.a, p.j), Message: message, Remedy: remedy}
}

// adjusts reports whether the joint says that the play of this layer is meant.
func (p passing) adjusts() bool { return adjusts(p.j, p.word) }

// adjusts reports whether a joint says that the play of a layer is meant.
func adjusts(j *plan.Joint, layer plan.Word) bool {
	return slices.ContainsFunc(j.Adjusts, func(w plan.Word) bool { return w.Text == layer.Text })
}

// wide is the width in millimetres that a hole leaves for a screw; ok is false
// where it is not known or the hole has a thread.
func (s *Situation) wide(h *plan.Hole) (mm float64, ok bool) {
	switch h.Kind.Text {
	case plan.Bore:
		return s.Reckoning.Length(h.Diameter)
	case plan.SlotHole:
		return s.Reckoning.Length(h.Wide)
	case plan.For:
		return s.Reckoning.ClearanceOf(h)
	}
	return 0, false
}

// mm is a length for a message.
func mm(v float64) string { return quantity.Text(quantity.MM(v), quantity.Metric) }

// sameThread reports whether a screw of one thread turns into the other.
func sameThread(a, b standards.Thread) bool {
	return math.Abs(a.Major-b.Major) < threadWithin && math.Abs(a.Pitch-b.Pitch) < threadWithin && a.LeftHand == b.LeftHand
}

// threadWithin is in millimetres; no two listed threads lie closer.
const threadWithin = 1e-6

// lookalike is a warning for two threads that a hand can start in each other and
// that then jam; "" for others.
func lookalike(a, b standards.Thread) string {
	if math.Abs(a.Major-b.Major) > lookalikeWithin*a.Major || a.Series == "wood" || a.Series == "trapezoidal" || b.Series == "trapezoidal" {
		return ""
	}
	say := "the same diameter at another pitch"
	if a.Inch != b.Inch {
		say = "an inch thread that looks like the metric one"
		if a.Inch {
			say = "a metric thread that looks like the inch one"
		}
	}
	return fmt.Sprintf(": %s (%s by %s against %s by %s); it starts by hand and jams", say, mm(a.Major), mm(a.Pitch), mm(b.Major), mm(b.Pitch))
}

// lookalikeWithin is the share by which two diameters may differ for threads to be
// taken for each other: M6 and 1/4 in are 6 % apart. Common practice, no source.
const lookalikeWithin = 0.065

// roundedTo is v rounded to whole steps, as drills are sold.
func roundedTo(v, step float64) float64 { return math.Round(v/step) * step }
