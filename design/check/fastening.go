package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/standards"
)

// eachFastening visits the places of the joints of a kind whose fastener has known
// sizes: pins, rivets, retaining rings.
func (s *Situation) eachFastening(kind string, visit func(a *plan.Assembly, j *plan.Joint, f standards.Fastener, places []layout.Fastening)) {
	s.eachJoint(func(a *plan.Assembly, j *plan.Joint) {
		if j.Kind.Text != kind {
			return
		}
		_, is := fastenerOf(j)
		if places := s.Layout.Fastenings(a, j); len(places) > 0 && is(places[0].Screw) {
			visit(a, j, *places[0].Screw.Fastener, places)
		}
	})
}

// aboutLayer is a finding about what a pin, a rivet or a ring meets in a layer.
func aboutLayer(a *plan.Assembly, j *plan.Joint, c *layout.Crossing, message, remedy string) finding.Finding {
	f := finding.Finding{At: c.Word.At, Subject: jointSubject(a, j), Message: message, Remedy: remedy}
	if h := c.Spot.Hole; h != nil {
		f.Also = []finding.Related{{At: h.ID.At, Say: fmt.Sprintf("the hole, in part %q", c.Part.Part.ID.Text)}}
	}
	return f
}

// eachBore visits the holes that a joint's fastener goes through, each of a part once,
// with how wide they come out.
func (s *Situation) eachBore(places []layout.Fastening, visit func(c *layout.Crossing, bore joint.Size)) {
	seen := map[finding.Span]bool{}
	for i := range places {
		for k := range places[i].Crossings {
			c := &places[i].Crossings[k]
			at := c.Word.At
			if c.Spot.Hole != nil {
				at = c.Spot.Hole.ID.At
			}
			if bore, ok := s.joints().BoreOf(c); ok && !seen[at] {
				seen[at] = true
				visit(c, bore)
			}
		}
	}
}

// lengthsFrom are the designations of a fastener in the listed lengths that suit,
// shortest first: "ISO 8734 4x20".
func lengthsFrom(f standards.Fastener, suits func(standards.Fastener) bool) (names []string) {
	for _, long := range standards.StockedLengths(f.Standard, f.Size) {
		if other, ok := f.WithLength(long); ok && suits(other) {
			names = append(names, other.String())
		}
	}
	return names
}

// takeFirst is the remedy that names the first of some designations, "" for none.
func takeFirst(names []string) string {
	if len(names) == 0 {
		return ""
	}
	return "take " + names[0]
}
