package solid

import (
	"fmt"
	"strings"
)

// MaxHoles is how many holes a part may have.
const MaxHoles = 20000

// Build makes the solid of a shape: its base with all holes cut. Its lowest
// corner before holes is the origin. What is wrong comes back as [Faults], all
// of it at once as far as one fault does not hide another.
func Build(shape Shape) (*Solid, error) {
	if shape.Base == nil {
		return nil, fault("", "part has no shape")
	}
	body, err := shape.Base.build()
	if err != nil {
		return nil, err
	}
	lies := AxisX
	if b, ok := shape.Base.(Bar); ok {
		lies = b.Lies
	}
	var holes []bored
	var faults Faults
	for i := range shape.Holes {
		made, f := boreAll(body, &shape.Holes[i], lies)
		holes, faults = append(holes, made...), append(faults, f...)
		if len(holes) > MaxHoles {
			return nil, fault("holes", fmt.Sprintf("part has more than %d holes", MaxHoles))
		}
	}
	if faults != nil {
		return nil, faults
	}
	s, err := cutHoles(body, holes)
	if err != nil {
		return nil, err
	}
	s.features = append([]Feature(nil), body.features...)
	for i := range holes {
		s.features = append(s.features, holes[i].feature())
	}
	s.findFaces()
	s.from = &shape
	return s, nil
}

// cutHoles takes the holes out of the body: plain ones directly, all others
// together by the general boolean.
func cutHoles(body *Solid, holes []bored) (*Solid, error) {
	var rest []*Solid
	var names []string
	for i := range holes {
		if cutPlainHole(body, &holes[i]) {
			continue
		}
		rest, names = append(rest, holes[i].tool()), append(names, holes[i].name)
	}
	s, err := subtractAll(body, rest, func(i int) string { return "holes." + names[i] })
	if err != nil {
		return nil, err
	}
	if len(s.Faces) == 0 {
		return nil, fault("holes", "holes take away the whole part")
	}
	return s, nil
}

// findFaces sets each feature's faces: those of its name, or of its members'
// names for a named shape.
func (s *Solid) findFaces() {
	byName := map[string][]int{}
	for i := range s.Faces {
		name := s.Faces[i].Name
		byName[name] = append(byName[name], i)
		if shape, _, ok := strings.Cut(name, "."); ok {
			byName[shape+"."] = append(byName[shape+"."], i)
		}
	}
	for i := range s.features {
		f := &s.features[i]
		switch f.Kind {
		case HoleFeature:
			f.Faces = byName["holes."+f.Name]
		case NamedShape:
			f.Faces = byName[f.Name+"."]
		case FlatFace:
			f.Faces = nil
			for _, k := range byName[f.Name] {
				if s.Faces[k].box.Grow(Tolerance).Meets(f.Box) {
					f.Faces = append(f.Faces, k)
				}
			}
		default:
			f.Faces = byName[f.Name]
		}
	}
}
