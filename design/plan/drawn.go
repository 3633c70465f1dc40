package plan

import (
	"fmt"
	"slices"
)

// DrawnNames are the names that a drawing of a part may use: those of its features,
// and the sides and corners of its outline, numbered from 1 in the order in which
// the plan gives them: side_1 runs from corner_1 to corner_2.
func (p *Plan) DrawnNames(part *Part) []string {
	names := p.FeatureNames(part)
	for step := 0; part != nil && part.Outline == nil && part.Of.Given() && step <= len(p.Parts); step++ {
		part = p.Part(part.Of.Text)
	}
	if part == nil || part.Outline == nil {
		return names
	}
	for i := range part.Outline.corners() {
		for _, what := range []string{"side", "corner"} {
			if name := fmt.Sprintf("%s_%d", what, i+1); !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	return names
}

// corners is how many points an outline has.
func (o *Outline) corners() int {
	switch o.Kind.Text {
	case "rectangle":
		return 4
	case "polygon":
		return len(o.Points)
	case "path":
		return len(o.Path)
	}
	return 0
}
