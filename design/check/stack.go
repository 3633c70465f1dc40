package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/solid"
	"plansheaf/design/standards"
)

// joints is what measures the case's joints.
func (s *Situation) joints() *joint.Machine {
	if s.facts.joints == nil {
		s.facts.joints = joint.Of(s.Reckoning, s.Layout)
		s.facts.joints.Kept = s.work.Kept
	}
	return s.facts.joints
}

// Stacks measures every place of a joint of assembly a, once; none for joints without
// a screw whose thread is known.
func (s *Situation) Stacks(a *plan.Assembly, j *plan.Joint) []joint.Stack {
	return s.joints().Stacks(a, j)
}

// Holds measures every place of a joint with a pin, a rivet or a retaining ring.
func (s *Situation) Holds(a *plan.Assembly, j *plan.Joint) []joint.Hold {
	return s.joints().Holds(a, j)
}

// Fits are the places of a joint where a shaft is in a hole, the shaft's side as Mine,
// with their fits; equal ones once.
func (s *Situation) Fits(a *plan.Assembly, j *plan.Joint) (at []layout.Mating, fits []joint.Fit) {
	type pair struct{ mine, theirs finding.Span }
	seen := map[pair]bool{}
	for _, place := range s.joints().Matings(a, j) {
		fit, ok := s.joints().FitOf(place)
		if p := (pair{fit.Shaft.At, fit.Hole.At}); ok && !seen[p] {
			seen[p] = true
			if mine, _ := s.joints().SizeOf(place.Mine); mine.Hole {
				place.Mine, place.Theirs = place.Theirs, place.Mine
			}
			at, fits = append(at, place), append(fits, fit)
		}
	}
	return at, fits
}

// eachStack visits every joint of the case that has a screw whose thread is known,
// with its places measured.
func (s *Situation) eachStack(visit func(a *plan.Assembly, j *plan.Joint, places []joint.Stack)) {
	s.eachJoint(func(a *plan.Assembly, j *plan.Joint) {
		p := joint.Screw(s.Reckoning, j)
		if p == nil || !isScrew(p) {
			return
		}
		if places := s.joints().Stacks(a, j); len(places) > 0 {
			visit(a, j, places)
		}
	})
}

// placesSaying visits what is said of a joint's places, "" of those in order, once
// for each different text with all the places it holds for. What differs only in which
// instance of a part it names is the same, and then told of the part.
func placesSaying(places []joint.Stack, say func(p *joint.Stack) string, visit func(text string, at []joint.Stack)) {
	var order []string
	said := map[string]string{}
	with := map[string][]joint.Stack{}
	for i := range places {
		text := say(&places[i])
		if text == "" {
			continue
		}
		ofPart := byPart(&places[i], text)
		switch first, told := said[ofPart]; {
		case !told:
			order = append(order, ofPart)
			said[ofPart] = text
		case first != text:
			said[ofPart] = ofPart
		}
		with[ofPart] = append(with[ofPart], places[i])
	}
	for _, ofPart := range order {
		visit(said[ofPart], with[ofPart])
	}
}

// mostNamed bounds how many places a message names.
const mostNamed = 4

// whereSaid says at which of a joint's places something holds: "at 2 of 6 places
// (lid.posts.1, lid.posts.4)"; "" for a joint of one place.
func whereSaid(at []joint.Stack, all int) string {
	switch {
	case all == 1:
		return ""
	case len(at) == all:
		return fmt.Sprintf("at all %s places: ", number(all))
	}
	var names []string
	for i := range at {
		if i == mostNamed {
			names = append(names, "…")
			break
		}
		names = append(names, placeName(&at[i]))
	}
	return fmt.Sprintf("at %s of %s places (%s): ", number(len(at)), number(all), strings.Join(names, ", "))
}

func number(n int) string { return quantity.Text(quantity.Number(float64(n)), quantity.Metric) }

// placeName names a place by the feature under the head.
func placeName(p *joint.Stack) string {
	c := p.Crossings[0]
	return c.Spot.Path + "." + c.Spot.Feature
}

// aboutScrew is a finding about a joint's screw at some of its places.
func (s *Situation) aboutScrew(a *plan.Assembly, j *plan.Joint, at []joint.Stack, all int, message string) finding.Finding {
	w, _ := j.Fastener.Pick(s.Case.Options)
	f := finding.Finding{At: w.At, Subject: jointSubject(a, j), Message: whereSaid(at, all) + message}
	seen := map[string]bool{}
	for _, c := range at[0].Crossings {
		if id := c.Part.Part.ID; !seen[id.Text] {
			seen[id.Text] = true
			f.Also = append(f.Also, finding.Related{At: id.At, Say: fmt.Sprintf("it goes through %q", id.Text)})
		}
	}
	return f
}

// instead is what to order in place of a screw that does not serve at some places,
// given all the joint's places: another length, or what would have to change.
func (s *Situation) instead(at, all []joint.Stack) string {
	p := &at[0]
	if gapShort(p) {
		return fmt.Sprintf("close the gap of %s, then the screw serves, or name what lies between as a layer", hundredths(gapOf(p)))
	}
	if p.Screw.Fastener == nil || p.Screw.Fastener.Standard == "" {
		return fmt.Sprintf("take one from %s to %s long", hundredths(p.Least()), hundredths(p.Most()))
	}
	if serving := joint.Serving(all); len(serving) > 0 {
		if p.Headless() { // the longest is nearest to flush, where the key reaches it
			slices.Reverse(serving)
		}
		if p.Joint.Fit.Given() {
			return "list " + serving[0].String() + " among the parts, the joint then takes it" + others(serving[1:])
		}
		return "take " + serving[0].String() + others(serving[1:])
	}
	if serving := joint.Serving(at); len(serving) > 0 {
		return fmt.Sprintf("take %s there%s, in a joint of their own: no length serves at all places", serving[0].String(), others(serving[1:]))
	}
	if f, left, ok := tight(all); ok {
		return fmt.Sprintf("take %s, which leaves %s, or make room behind", f.String(), hundredths(left))
	}
	if p.Least() > p.Most() {
		return fmt.Sprintf("no length serves: at least %s are needed and at most %s go in; %s, or a layer thinner", hundredths(p.Least()), hundredths(p.Most()), deeper(p))
	}
	return fmt.Sprintf("no length that is sold serves, from %s to %s would; change a layer or a washer by the difference", hundredths(p.Least()), hundredths(p.Most()))
}

// deeper is how to make room behind a screw: a blind hole that much deeper, that the screw
// as it is goes in.
func deeper(p *joint.Stack) string {
	h := p.Last().Feature.Hole
	if p.Stop == nil || !p.Stop.Own || h == nil || h.Kind != solid.Tapped && h.Kind != solid.Forming {
		return "make room behind"
	}
	return fmt.Sprintf("make the hole %s deeper for this screw", hundredths(math.Ceil(10*(p.Length-p.Most())-lengthWithin)/10))
}

// tight is the stocked length that just serves at all of a joint's places, with less
// room before what stands behind than one would choose, and what it leaves.
func tight(places []joint.Stack) (f standards.Fastener, left float64, ok bool) {
	for _, long := range standards.StockedLengths(places[0].Screw.Fastener.Standard, places[0].Screw.Fastener.Size) {
		other, known := places[0].Screw.Fastener.WithLength(long)
		left = math.Inf(1)
		for i := range places {
			p := &places[i]
			plain := p.Head + other.Length - other.ThreadLength
			known = known && !p.Headless() && !p.Wood() && other.Length >= p.Least()-lengthWithin && plain <= p.From+lengthWithin
			left = min(left, p.Floor()-other.Length)
		}
		if known && left >= -lengthWithin && !math.IsInf(left, 1) {
			return other, max(left, 0), true
		}
	}
	return f, 0, false
}

// mostOthers bounds how many further lengths are named.
const mostOthers = 2

// others are further lengths that serve too: " (30 or 35 serve too)".
func others(list []standards.Fastener) string {
	var texts []string
	for _, f := range list[:min(len(list), mostOthers)] {
		texts = append(texts, f.LengthText)
	}
	switch len(texts) {
	case 0:
		return ""
	case 1:
		return " (" + texts[0] + " serves too)"
	}
	return " (" + strings.Join(texts, " or ") + " serve too)"
}

// screwText is a screw for a message: M8 × 25 mm.
func screwText(p *joint.Stack) string {
	if f := p.Screw.Fastener; f != nil && f.Inch {
		return p.Thread.Name + " × " + f.LengthText + " in"
	}
	return p.Thread.Name + " × " + mm(p.Length)
}

// crooked reports whether the screws of a joint cannot stand straight in their holes, or
// their heads lie against something of their own layer, which the rules about holes and
// heads tell; false for "".
func (s *Situation) crooked(a *plan.Assembly, id string) bool {
	j := a.Joint(id)
	if j == nil {
		return false
	}
	for _, p := range s.joints().Stacks(a, j) {
		if _, misses := s.joints().MissOf(&p); misses || p.Struck != nil {
			return true
		}
		if g, known := s.joints().HeadRing(&p); known && g.Outside > g.Inside && fouls(g, p.Crossings[0].Feature) {
			return true
		}
		for _, c := range p.Crossings[:len(p.Crossings)-1] {
			if h := c.Feature.Hole; h != nil && (h.Kind == solid.Tapped || h.Kind == solid.Forming || h.D <= p.Thread.Major) {
				return true
			}
		}
	}
	return false
}

// aboutLength is the function of a rule that says something of the screw's length at
// each place: with what to order instead.
func aboutLength(say func(s *Situation, p *joint.Stack) string) func(*Situation, func(finding.Finding)) {
	return func(s *Situation, report func(finding.Finding)) {
		s.eachStack(func(a *plan.Assembly, j *plan.Joint, places []joint.Stack) {
			if _, is := s.mismatched(a, j); is {
				return
			}
			placesSaying(places, func(p *joint.Stack) string { return say(s, p) }, func(text string, at []joint.Stack) {
				if s.astray().explains(a, j, at, len(places)) {
					return
				}
				f := s.aboutScrew(a, j, at, len(places), text)
				f.Remedy = s.instead(at, places)
				report(f)
			})
		})
	}
}
