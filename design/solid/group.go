package solid

import (
	"fmt"
	"math"
)

// MaxMembers is how many members a group may have.
const MaxMembers = 500

// upright returns the placement that lays a shape made along z along an axis,
// for sizes across it in the order x before y before z.
func upright(along Axis) Placement {
	switch along {
	case AxisX: // x, y, z of the shape go to y, z, x
		return Placement{Turn: [3]Vec{{Y: 1}, {Z: 1}, {X: 1}}}
	case AxisY: // right-handed: z, x, y
		return Placement{Turn: [3]Vec{{Z: 1}, {X: 1}, {Y: 1}}}
	}
	return Stay
}

func (g Group) build() (*Solid, error) {
	if len(g) == 0 || len(g) > MaxMembers {
		return nil, fault("shape", fmt.Sprintf("has %d members, it must have 1 to %d", len(g), MaxMembers))
	}
	var faults Faults
	made := make([]*Solid, len(g))
	for i, m := range g {
		field := fmt.Sprintf("shape.%d", i+1)
		if m.Shape == nil {
			faults = append(faults, Fault{field, "has no shape"})
			continue
		}
		s, err := m.solid()
		if err != nil {
			faults = append(faults, inField(err, field).(Faults)...)
			continue
		}
		for k := range s.Faces {
			if f := &s.Faces[k]; f.Patch != 0 {
				f.Patch += i * patchesEach
			}
		}
		made[i] = s
	}
	if faults == nil && g[0].Cut {
		faults = append(faults, Fault{"shape.1.cut", "there is nothing before it to take away from"})
	}
	if faults != nil {
		return nil, faults
	}
	return g.join(made)
}

// solid returns the member's shape where it stands, its faces named.
func (m Member) solid() (*Solid, error) {
	at := m.At
	if !at.finite() || at.Len() > 2*MaxSize {
		return nil, fault("at", fmt.Sprintf("lies outside ± %s", mm(MaxSize)))
	}
	if m.Along < AxisX || m.Along > AxisZ {
		return nil, fault("axis", "must be x, y or z")
	}
	s, err := m.Shape.make()
	if err != nil {
		return nil, err
	}
	turn := upright(m.Along)
	if _, block := m.Shape.(Block); block {
		turn = Stay
	}
	s = s.Placed(LowestAt(s, turn, at))
	s.renameSides(m.Name)
	return s, nil
}

// renameSides names the flat sides on the bounding box for the way they look
// after turning, and puts the member's name before all names.
func (s *Solid) renameSides(name string) {
	for i := range s.Faces {
		f := &s.Faces[i]
		if p, ok := f.Surface.(Plane); ok {
			for _, d := range sideDirections {
				reach := math.Max(s.box.Min.Dot(d.dir), s.box.Max.Dot(d.dir))
				if p.Z.Dot(d.dir) > 1-angleTolerance && p.O.Dot(d.dir) > reach-Tolerance {
					f.Name = d.name
				}
			}
		}
		if name != "" {
			f.Name = name + "." + f.Name
		}
	}
}

// join puts the members together in order.
func (g Group) join(made []*Solid) (*Solid, error) {
	body := made[0]
	var features []Feature
	add := func(i int) {
		if g[i].Name == "" {
			if i == 0 { // a turned part's own axis, body and steps
				features = append(features, made[i].features...)
			}
			return
		}
		named := Feature{Name: g[i].Name, Kind: NamedShape, At: made[i].box.Centre(), Dir: g[i].Along.Vec(), Box: made[i].box}
		for _, f := range made[i].features {
			if f.Kind == AxisFeature {
				named.At, named.Dir, named.D, named.Depth, named.Thread = f.At, f.Dir, f.D, f.Depth, f.Thread
			}
			f.Name = g[i].Name + "." + f.Name
			features = append(features, f)
		}
		features = append(features, named)
	}
	add(0)
	for i := 1; i < len(g); i++ {
		var err error
		if g[i].Cut {
			body, err = Subtract(body, made[i])
		} else {
			body, err = Union(body, made[i])
		}
		if err != nil {
			return nil, inField(err, fmt.Sprintf("shape.%d", i+1))
		}
		if len(body.Faces) == 0 {
			return nil, fault(fmt.Sprintf("shape.%d.cut", i+1), "takes away all that stands before it")
		}
		add(i)
	}
	// The part's own origin is its lowest corner; members may stand anywhere.
	move := Moved(body.box.Min.Mul(-1))
	for i := range features {
		features[i] = features[i].placed(move)
	}
	body.features = nil
	body = body.Placed(move)
	body.features = append(flatFeatures(body), features...)
	return body, nil
}
