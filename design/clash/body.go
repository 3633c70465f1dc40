package clash

import (
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
)

// A Body is one thing that takes up room in the machine: a part, half of one that
// telescopes, a belt, or a screw, washer or nut of a joint.
type Body struct {
	// Path leads from the machine to the part: "frame.feet.2"; of what a joint brings to
	// the joint: "frame.head_to_post".
	Path  string
	In    *reckon.Instance // the part's own, or the assembly's whose joint it is
	Joint *plan.Joint      // nil for parts
	Place int              // of the joint, from 1
	Screw bool             // it is the screw of its joint
	Part  *reckon.Part
	Belt  *layout.Belt // nil for others

	Solid *solid.Solid
	At    solid.Placement // in the machine's axes

	box    solid.Box
	number int    // in the machine
	held   int    // which joint of which assembly, as reckon.Tally has it; -1 for parts
	half   int    // of a telescoping part: 1 for what comes out
	rides  string // of what a joint brings: the path of the part under its head, which it moves with
}

// Name is what a message calls the body: its path, or what it is and its joint's.
func (b *Body) Name() string {
	if b.Joint != nil {
		return b.Part.Part.ID.Text + " of " + b.Path
	}
	return b.Path
}

// mostBodies bounds how many bodies of a machine are looked at.
const mostBodies = 50000

// collect lists everything solid in the machine: parts in the order of its instances,
// then what joints bring.
func collect(r *reckon.Reckoning, l *layout.Layout, store *Store) []*Body {
	list := gathered(parts(r, l, store))
	for i, h := range r.Tally().Joints {
		at, placed := l.Placement(h.In)
		if !placed {
			continue
		}
		path := below(h.In, h.Joint.ID.Text)
		for _, f := range l.Fastenings(h.Assembly, h.Joint) {
			rides := below(h.In, f.Crossings[0].Spot.Path)
			for _, p := range f.Hardware() {
				list.add(Body{Path: path, In: h.In, Joint: h.Joint, Place: f.Place, Screw: p.Part == f.Screw, Part: p.Part, held: i, rides: rides}, p.Solid, p.At.Then(at))
			}
		}
	}
	for _, b := range list {
		b.box = store.boxAt(b.Solid, b.At)
	}
	return list
}

// gathered is a list of bodies that grows to mostBodies; their boxes are left open.
type gathered []*Body

func (g *gathered) add(b Body, s *solid.Solid, at solid.Placement) {
	if s == nil || len(*g) >= mostBodies {
		return
	}
	b.number, b.Solid, b.At = len(*g), s, at
	*g = append(*g, &b)
}

// parts lists the parts of the machine, belts and both halves of what telescopes among
// them, without their boxes, which take longer than all else of it.
func parts(r *reckon.Reckoning, l *layout.Layout, store *Store) []*Body {
	var out gathered
	add := out.add
	soft := map[*reckon.Instance]func(){}
	for _, belt := range l.Belts() {
		soft[belt.Instance] = func() {
			s, at := store.band(belt)
			add(Body{Path: belt.Instance.Path, In: belt.Instance, Part: belt.Part, Belt: belt, held: -1}, s, at)
		}
	}
	for _, t := range l.Telescopes() {
		soft[t.Instance] = func() {
			p := r.Part(t.Instance.Part.ID.Text)
			if t.Comes.Solid == nil || p == nil {
				return // it has a place like others
			}
			b := Body{Path: t.Instance.Path, In: t.Instance, Part: p, held: -1}
			add(b, t.Stays.Solid, t.Stays.At)
			b.half = 1
			add(b, t.Comes.Solid, t.Comes.At)
		}
	}
	for _, in := range r.Tally().Instances {
		if in.Part == nil {
			continue
		}
		if more := soft[in]; more != nil {
			more()
		}
		at, placed := l.Placement(in)
		if p := r.Part(in.Part.ID.Text); placed && p != nil {
			add(Body{Path: in.Path, In: in, Part: p, held: -1}, p.Solid, at)
		}
	}
	return out
}

// holder is the assembly instance that a body belongs to.
func (b *Body) holder() *reckon.Instance {
	if b.Joint != nil {
		return b.In
	}
	return b.In.Parent
}

// common is the innermost assembly instance that holds both bodies.
func common(a, b *Body) *reckon.Instance {
	seen := map[*reckon.Instance]bool{}
	for in := a.holder(); in != nil; in = in.Parent {
		seen[in] = true
	}
	for in := b.holder(); in != nil; in = in.Parent {
		if seen[in] {
			return in
		}
	}
	return nil
}
