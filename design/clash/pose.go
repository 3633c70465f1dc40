package clash

import (
	"plansheaf/design/layout"
	"plansheaf/design/quantity"
	"plansheaf/design/solid"
)

// A pose is the machine laid out with motions somewhere.
type pose struct {
	layout *layout.Layout
	parts  []*Body           // that are there, without boxes
	stands []solid.Placement // of the bodies at rest, in their order
}

// A standing is where a motion stands.
type standing struct {
	motion string
	at     float64
}

// pose lays the machine out with motions somewhere; nil where it cannot be laid out so. One
// that stands somewhere with all others at rest is laid out there once.
func (s *search) pose(at map[string]quantity.Value) *pose {
	if len(at) != 1 {
		return s.lay(at)
	}
	key := standing{}
	for id, v := range at {
		key = standing{id, v.SI}
	}
	p, known := s.poses[key]
	if !known {
		if s.poses == nil {
			s.poses = map[standing]*pose{}
		}
		p = s.lay(at)
		s.poses[key] = p
	}
	return p
}

func (s *search) lay(at map[string]quantity.Value) *pose {
	l, err := s.l.At(at)
	if err != nil {
		return nil
	}
	p := &pose{layout: l, parts: parts(s.r, l, s.store), stands: make([]solid.Placement, len(s.bodies))}
	there := map[string][]*Body{} // by path, halves in order
	for _, b := range p.parts {
		there[b.Path] = append(there[b.Path], b)
	}
	went := map[string]solid.Placement{}
	for i, b := range s.bodies {
		p.stands[i] = b.At
		if b.Joint != nil {
			p.stands[i] = b.At.Then(s.carried(b, l, went))
		} else if list := there[b.Path]; b.half < len(list) && alikeBox(list[b.half].Solid.Box(), b.Solid.Box()) {
			p.stands[i] = list[b.half].At
			if b.half == 0 {
				went[b.Path] = b.At.Inverse().Then(p.stands[i])
			}
		}
	}
	return p
}

// carried is how what a joint brings moves: with the part under its head, or with the
// joint's assembly where that part has no shape.
func (s *search) carried(b *Body, l *layout.Layout, went map[string]solid.Placement) solid.Placement {
	if d, known := went[b.rides]; known {
		return d
	}
	rest, placed := s.l.Placement(b.In)
	at, too := l.Placement(b.In)
	if !placed || !too {
		return solid.Stay
	}
	return rest.Inverse().Then(at)
}

// alikeBox reports whether two boxes are one.
func alikeBox(a, b solid.Box) bool {
	return a.Min.Dist(b.Min)+a.Max.Dist(b.Max) < 1/alike
}
