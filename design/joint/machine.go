package joint

import (
	"plansheaf/design/layout"
	"plansheaf/design/memo"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
)

// A Machine answers what the joints of a placed machine come to. It keeps what it
// has worked out; it is not for several goroutines at once.
type Machine struct {
	// Kept keeps what is measured from one run to the next; nil for none.
	Kept   *memo.Store
	r      *reckon.Reckoning
	l      *layout.Layout
	stacks map[*plan.Joint][]Stack
	held   map[*plan.Joint][]*reckon.Held
	tree   *node // of bodies, built when first asked for
	heads  map[spot]answer[Ring]
	nuts   map[spot]answer[Ring]
	misses map[spot]answer[Miss]
	byPath map[string]*reckon.Instance // of the whole machine; built when first asked for
}

// A spot is one place of one joint, for what is kept of it.
type spot struct {
	joint *plan.Joint
	place int
}

// An answer is one that was worked out before.
type answer[T any] struct {
	is T
	ok bool
}

// kept gives the answer for a place, worked out once.
func kept[T any](known map[spot]answer[T], s *Stack, find func(*Stack) (T, bool)) (T, bool) {
	at := spot{s.Joint, s.Place}
	a, asked := known[at]
	if !asked {
		a.is, a.ok = find(s)
		known[at] = a
	}
	return a.is, a.ok
}

// Of prepares the joints of a machine that layout has placed.
func Of(r *reckon.Reckoning, l *layout.Layout) *Machine {
	m := &Machine{r: r, l: l, stacks: map[*plan.Joint][]Stack{}, held: map[*plan.Joint][]*reckon.Held{}, heads: map[spot]answer[Ring]{}, nuts: map[spot]answer[Ring]{}, misses: map[spot]answer[Miss]{}}
	joints := r.Tally().Joints
	for i := range joints {
		h := &joints[i]
		m.held[h.Joint] = append(m.held[h.Joint], h)
	}
	return m
}

// A body is something solid in the machine: a part, or what a joint brings.
type body struct {
	in    *reckon.Instance // the part's, or the assembly's whose joint it is
	joint *plan.Joint      // of hardware; nil for parts
	place int              // of the joint
	part  *reckon.Part
	solid *solid.Solid
	at    solid.Placement
	box   solid.Box
}

// says names a body for a message: by its path, hardware by its joint.
func (b *body) says() string {
	path := b.in.Path
	if b.joint != nil {
		if path != "" {
			path += "."
		}
		return b.part.Part.ID.Text + " of " + path + b.joint.ID.Text
	}
	return path
}

// mostBodies bounds how many bodies of a machine are looked at.
const mostBodies = 50000

// bodies lists everything solid in the machine that has a rigid place, and its belts.
func (m *Machine) bodies() []*body {
	var out []*body
	add := func(b body) {
		b.box = b.solid.Box().Under(b.at)
		out = append(out, &b)
	}
	for _, in := range m.r.Tally().Instances {
		if in.Part == nil || len(out) >= mostBodies {
			continue
		}
		at, placed := m.l.Placement(in)
		if p := m.r.Part(in.Part.ID.Text); placed && p != nil && p.Solid != nil {
			add(body{in: in, part: p, solid: p.Solid, at: at})
		}
	}
	for _, b := range m.l.Belts() {
		if belt, at := b.Body(); belt != nil && len(out) < mostBodies {
			add(body{in: b.Instance, part: b.Part, solid: belt, at: at})
		}
	}
	for _, h := range m.r.Tally().Joints {
		at, placed := m.l.Placement(h.In)
		if !placed {
			continue
		}
		for _, f := range m.l.Fastenings(h.Assembly, h.Joint) {
			if len(out) >= mostBodies {
				return out
			}
			for _, p := range f.Hardware() {
				add(body{in: h.In, joint: h.Joint, place: f.Place, part: p.Part, solid: p.Solid, at: p.At.Then(at)})
			}
		}
	}
	return out
}
