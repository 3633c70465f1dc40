package check

import (
	"fmt"
	"math"

	"plansheaf/design/finding"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
)

// A pose is the machine with its motions somewhere.
type pose struct {
	says   string // "with stroke at 160 mm"; empty at rest
	layout *layout.Layout
}

// maxPosed bounds how many motions are taken to their ends.
const maxPosed = 32

// poses are the machine at rest and with each motion alone at either end of its
// range, found out once.
func (s *Situation) poses() []pose {
	if s.facts.poses != nil {
		return s.facts.poses
	}
	s.facts.poses = []pose{{layout: s.Layout}}
	for i, m := range s.Reckoning.Plan.Motions {
		from, to, err := s.Reckoning.Range(m)
		if i >= maxPosed || err != nil {
			continue
		}
		for _, end := range []quantity.Value{from, to} {
			l, err := s.Layout.At(map[string]quantity.Value{m.ID.Text: end})
			if err == nil {
				s.facts.poses = append(s.facts.poses, pose{fmt.Sprintf("with %s at %s", m.ID.Text, quantity.Text(end, System(s.Reckoning.Plan))), l})
			}
		}
	}
	return s.facts.poses
}

// at is a message with the pose that it holds for.
func (p pose) at(message string) string {
	if p.says == "" {
		return message
	}
	return p.says + " " + message
}

// hundredths is a length in mm for a message, rounded to what a workshop measures.
func hundredths(v float64) string { return mm(math.Round(v*100) / 100) }

// upToHundredths is a length that must not be less, rounded up.
func upToHundredths(v float64) string { return hundredths(math.Ceil(v*100-1e-6) / 100) }

// instanceSubject names a use for waivers, and where it stands in the plan.
func instanceSubject(in *reckon.Instance) (subject string, also finding.Related) {
	a := in.Parent.Assembly
	return a.ID.Text + "." + in.Use.ID.Text, finding.Related{At: in.Use.ID.At, Say: "where it is placed"}
}

// loopOf is what the plan says of a belt.
func loopOf(b *layout.Belt) *plan.Loop { return b.Part.Part.Loop }

// hundredthsOf is a plain number for a message, in hundredths.
func hundredthsOf(v float64) string {
	return quantity.Text(quantity.Number(math.Round(v*100)/100+0), quantity.Metric)
}
