package plan

import (
	"fmt"
	"slices"
)

// Faces are the names of a part's six sides.
func Faces() []string { return []string{"left", "right", "front", "back", "top", "bottom"} }

// mostSlots is the largest number of a slot on one side of a wide bar.
const mostSlots = 16

// FeatureNames are the names that joints, seats and drawings may give to places on
// a part: its faces, holes (without the numbers of a pattern's members), named
// shapes, and what its section or standard brings along. Where the names depend on
// sizes, the list holds all that there may be. An altered part has those of the
// part that it is made of.
func (p *Plan) FeatureNames(part *Part) []string {
	names := Faces()
	add := func(more ...string) {
		for _, n := range more {
			if n != "" && !slices.Contains(names, n) {
				names = append(names, n)
			}
		}
	}
	// An altered part of an altered part ... may run in a circle.
	for step := 0; part != nil && step < len(p.Parts)+1; step++ {
		for _, h := range part.Holes {
			add(h.ID.Text)
		}
		add(shapeFeatures(part)...)
		if s := p.StockOf(part.Stock.Text); s != nil && s.Section != nil {
			add(sectionFeatures(s.Section, part.Lies.Text)...)
		}
		if !part.Of.Given() {
			break
		}
		part = p.Part(part.Of.Text)
	}
	return names
}

func shapeFeatures(part *Part) []string {
	var names []string
	for _, s := range part.Shape {
		names = append(names, s.Name.Text)
		switch s.Kind.Text {
		case "cylinder", "cone", "turned":
			names = append(names, "axis", "body", "start", "end")
		case "tube":
			names = append(names, "axis", "body", "start", "end", "bore")
		}
	}
	switch {
	case part.Standard.Given():
		names = append(names, "axis", "body", "start", "end", "bore", "thread", "head", "screw")
	case part.Fastener != nil:
		names = append(names, "axis", "body", "start", "end", "bore", "thread")
	case part.Strand != nil, part.Loop != nil, part.Telescope != nil:
		names = append(names, "axis", "body", "start", "end")
	}
	return names
}

func sectionFeatures(s *Section, lies string) []string {
	names := []string{"start", "end"}
	switch s.Kind.Text {
	case "round":
		names = append(names, "axis", "body")
	case "tube":
		names = append(names, "axis", "body", "bore")
	case "thread":
		names = append(names, "axis", "body", "thread")
	case "slotted":
		ends := map[string][]string{"": {"left", "right"}, "x": {"left", "right"}, "y": {"front", "back"}, "z": {"top", "bottom"}}[lies]
		for _, side := range Faces() {
			if slices.Contains(ends, side) {
				continue
			}
			names = append(names, "slot_"+side)
			for n := 1; n <= mostSlots; n++ {
				names = append(names, fmt.Sprintf("slot_%s_%d", side, n))
			}
		}
	}
	return names
}
