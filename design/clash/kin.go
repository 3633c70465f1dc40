package clash

import (
	"math"
	"strings"

	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
)

// kin tells which bodies are meant to meet.
type kin struct {
	fits   map[[2]string][]fit // by paths, the lower first
	layers map[layer]bool
	ends   map[[2]string]bool // a belt and what it runs around, a stretched part and what it is fixed to
	stated []stated
}

// A fit is a place at which a part sits in another.
type fit struct {
	kind     string
	deep     float64 // by how much shaft and hole are drawn into each other, mm
	off      float64 // how far their axes miss
	at, axis solid.Vec
	r        float64 // of the wider of the two
}

// A layer is a part that a joint's screw goes through at a place, or that it grips.
type layer struct {
	held, place int
	path        string
}

// stated is what the plan says of overlaps, for one instance of the use.
type stated struct {
	says         *plan.Overlap
	assembly     *plan.Assembly
	use          *plan.Use
	mine, theirs string
	by           float64
}

// relate finds out what is meant to meet.
func relate(r *reckon.Reckoning, l *layout.Layout, m *joint.Machine) *kin {
	k := &kin{fits: map[[2]string][]fit{}, layers: map[layer]bool{}, ends: map[[2]string]bool{}}
	for i, h := range r.Tally().Joints {
		at, placed := l.Placement(h.In)
		if !placed {
			continue
		}
		for _, f := range l.Fastenings(h.Assembly, h.Joint) {
			for _, c := range f.Crossings {
				k.layers[layer{i, f.Place, below(h.In, c.Spot.Path)}] = true
			}
			for _, w := range h.Joint.Mine.Features { // what a set screw bears on
				for _, spot := range r.Spots(h.Assembly, w) {
					k.layers[layer{i, f.Place, below(h.In, spot.Path)}] = true
				}
			}
		}
		if h.Joint.Kind.Text == plan.Screw {
			continue
		}
		for _, mate := range m.Matings(h.Assembly, h.Joint) {
			k.mate(m, h, at, mate)
		}
	}
	for _, b := range l.Belts() {
		for _, p := range b.Pulleys {
			k.ends[ordered(b.Instance.Path, below(b.Instance.Parent, p.Path))] = true
		}
		if b.Pressed.Given() {
			for _, s := range r.Spots(b.Instance.Parent.Assembly, b.Pressed) {
				k.ends[ordered(b.Instance.Path, below(b.Instance.Parent, s.Path))] = true
			}
		}
	}
	for _, t := range l.Telescopes() {
		for _, end := range t.Instance.Use.Between {
			for _, s := range r.Spots(t.Instance.Parent.Assembly, end.Theirs) {
				k.ends[ordered(t.Instance.Path, below(t.Instance.Parent, s.Path))] = true
			}
		}
	}
	k.state(r)
	return k
}

// mate notes one place of a fit.
func (k *kin) mate(m *joint.Machine, h reckon.Held, at solid.Placement, mate layout.Mating) {
	mine, theirs := mate.Mine.Feature, mate.Theirs.Feature
	f := fit{kind: h.Joint.Kind.Text, off: mate.Aside, at: at.Point(mine.At), axis: at.Direction(mine.Dir), r: math.Max(mine.D, theirs.D) / 2}
	switch known, ok := m.FitOf(mate); {
	case ok:
		f.deep = (known.Shaft.Nominal - known.Hole.Nominal) / 2
	case f.kind == plan.Run && mine.D > 0 && theirs.D > 0:
		f.deep = (mine.D - theirs.D) / 2
	}
	f.deep = math.Max(0, f.deep)
	if mine.Kind == solid.FlatFace && theirs.Kind == solid.FlatFace {
		f.off = 0 // faces apart or sunk into each other are no fault of a fit
	}
	key := ordered(below(h.In, mate.Mine.Spot.Path), below(h.In, mate.Theirs.Spot.Path))
	k.fits[key] = append(k.fits[key], f)
}

// state notes what the plan says of overlaps.
func (k *kin) state(r *reckon.Reckoning) {
	for _, in := range r.Tally().Instances {
		for i := range in.Use.Overlaps {
			says := &in.Use.Overlaps[i]
			by, ok := r.Length(says.By)
			if !ok {
				continue
			}
			k.stated = append(k.stated, stated{says: says, assembly: in.Parent.Assembly, use: in.Use, mine: in.Path, theirs: below(in.Parent, says.With.Text), by: by})
		}
	}
}

// below is a path from the machine, of one from an assembly's instance.
func below(in *reckon.Instance, path string) string {
	if in.Path == "" {
		return path
	}
	return in.Path + "." + path
}

func ordered(a, b string) [2]string {
	if b < a {
		a, b = b, a
	}
	return [2]string{a, b}
}

// within reports whether a path is or lies inside of another.
func within(path, outer string) bool {
	return path == outer || strings.HasPrefix(path, outer) && path[len(outer)] == '.'
}

// met reports whether two bodies belong together whatever they overlap by: what one
// place of a joint brings, and the layers that its screw goes through.
func (k *kin) met(a, b *Body) bool {
	switch {
	case a.Joint != nil && b.Joint != nil:
		return a.held == b.held && a.Place == b.Place
	case a.Joint != nil:
		return k.layers[layer{a.held, a.Place, b.Path}]
	case b.Joint != nil:
		return k.layers[layer{b.held, b.Place, a.Path}]
	case a.Path == b.Path:
		return true
	}
	return k.ends[ordered(a.Path, b.Path)]
}

// fitsOf are the places at which two parts sit in each other.
func (k *kin) fitsOf(a, b *Body) []fit {
	if a.Joint != nil || b.Joint != nil {
		return nil
	}
	return k.fits[ordered(a.Path, b.Path)]
}

// statedOf is what the plan says of two bodies' overlap; nil for nothing.
func (k *kin) statedOf(a, b *Body) *stated {
	for i := range k.stated {
		s := &k.stated[i]
		if within(a.Path, s.mine) && within(b.Path, s.theirs) || within(b.Path, s.mine) && within(a.Path, s.theirs) {
			return s
		}
	}
	return nil
}
