package check

import (
	"fmt"
	"math"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
)

// HoleThroughMitre finds holes across a bar that come out of its mitred end.
var HoleThroughMitre = Rule{
	Rule: finding.Rule{
		Name: "hole-through-mitre", Severity: finding.Warning,
		Reason: "The drill runs out of the slanted end: the hole is open there, and its thread or its head holds on one side only.",
		Remedy: "move the hole away from the tip, make it less deep, or drill it from the other side",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		for _, p := range s.Reckoning.Plan.Parts {
			if !s.has(p.ID.Text) {
				continue
			}
			part := s.Reckoning.Part(p.ID.Text)
			for _, h := range p.Holes {
				end := openEnd(part, h)
				if end == "" {
					continue
				}
				report(finding.Finding{
					At: h.ID.At, Subject: p.ID.Text + "." + h.ID.Text,
					Message: fmt.Sprintf("the hole %q of %q comes out of its mitred %s end", h.ID.Text, p.ID.Text, end),
					Also:    []finding.Related{{At: p.ID.At, Say: fmt.Sprintf("in part %q", p.ID.Text)}},
				})
			}
		}
	},
}

// openEnd is the name of the mitred end that a hole across a bar comes out of, "" for
// none. A hole along the bar starts at an end and is meant to.
func openEnd(part *reckon.Part, h *plan.Hole) string {
	if part == nil || part.Bar == nil || part.Solid == nil || part.Bar.Start.Angle == 0 && part.Bar.End.Angle == 0 {
		return ""
	}
	along := part.Bar.Lies.Vec()
	for _, face := range part.Solid.Features() {
		lean := math.Abs(face.Dir.Dot(along))
		if face.Kind != solid.FlatFace || lean < solid.Tolerance || lean > 1-solid.Tolerance {
			continue
		}
		for _, f := range part.Solid.Features() {
			if f.Kind != solid.HoleFeature || f.Pattern != h.ID.Text && f.Name != h.ID.Text || math.Abs(f.Dir.Dot(along)) > 1-solid.Tolerance {
				continue
			}
			mouth := f.At.Sub(face.At).Dot(face.Dir)
			floor := mouth + f.Depth*f.Dir.Dot(face.Dir)
			tilt := f.Dir.Dot(face.Dir)
			if math.Max(mouth, floor)+f.D/2*math.Sqrt(math.Max(0, 1-tilt*tilt)) > solid.Tolerance {
				return face.Name
			}
		}
	}
	return ""
}
