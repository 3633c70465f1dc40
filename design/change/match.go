package change

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"plansheaf/design/plan"
)

// matching finds for each thing of the old revision what it is in the new one.
type matching struct {
	old, new *side
	names    *names            // of the old side
	same     *names            // of the new side: they rename nothing
	replaced map[string]string // old part to the new one that stands in its places
}

// match matches everything, in an order in which names that others lean on are known
// first.
func match(old, new *side) *matching {
	m := &matching{old: old, new: new, names: newNames(old.plan), same: newNames(new.plan), replaced: map[string]string{}}
	for _, k := range []Kind{OfMaterial, OfSupplier, OfTool, OfStock, OfValue, OfMotion, OfChoice} {
		m.alike(k)
	}
	m.options()
	m.parts()
	m.assemblies()
	for _, k := range []Kind{OfPlacement, OfJoint, OfStep} {
		m.inside(k)
	}
	for _, k := range []Kind{OfCalculation, OfHazard, OfClaim, OfDrawing, OfPage, OfFile} {
		m.alike(k)
	}
	return m
}

const (
	// sameAll is the likeness from which two things of different names are one, and
	// sameTitled that where they have the same title, too.
	sameAll    = 0.7
	sameTitled = 0.4
	// mostPairs bounds how many pairs of unmatched things are compared one by one.
	mostPairs = 40_000
)

// alike finds renamed things of a kind: those that have no namesake and say almost the
// same.
func (m *matching) alike(k Kind) {
	gone, come := m.without(k)
	for from, to := range m.pairs(gone, come, m.resemblance(gone, come)) {
		m.names.of[k][from.id] = to.id
	}
}

// without are the things of a kind that have no namesake on the other side.
func (m *matching) without(k Kind) (gone, come []*thing) {
	there, here := map[string]bool{}, map[string]bool{}
	olds, news := m.old.things(k), m.new.things(k)
	for _, x := range olds {
		there[m.newID(x)] = true
	}
	for _, x := range news {
		here[x.id] = true
		if !there[x.id] {
			come = append(come, x)
		}
	}
	for _, x := range olds {
		if !here[m.newID(x)] {
			gone = append(gone, x)
		}
	}
	return gone, come
}

// newID is the name that an old thing has in the new plan by what is known so far.
func (m *matching) newID(x *thing) string {
	if x.a != nil && x.kind != OfAssembly {
		_, id, _ := strings.Cut(x.id, ".")
		return m.names.id(OfAssembly, x.a.ID.Text) + "." + m.names.within(x.kind, x.a.ID.Text, id)
	}
	return m.names.id(x.kind, x.id)
}

// resemblance judges pairs of things by what they say: 0 for different things.
func (m *matching) resemblance(gone, come []*thing) func(a, b *thing) float64 {
	facts := m.told(gone, come)
	return func(a, b *thing) float64 {
		like := likeness(facts[a], facts[b], "title")
		if like >= sameAll || like >= sameTitled && a.title != "" && a.title == b.title {
			return like
		}
		return 0
	}
}

func (m *matching) told(gone, come []*thing) map[*thing][]fact {
	facts := map[*thing][]fact{}
	for _, x := range gone {
		facts[x] = m.old.told(x, m.names)
	}
	for _, x := range come {
		facts[x] = m.new.told(x, m.same)
	}
	return facts
}

// pairs takes the best pairs first, each thing once. Ties go by names, whichever side
// they stand on, so that both directions pair alike.
func (m *matching) pairs(gone, come []*thing, score func(a, b *thing) float64) map[*thing]*thing {
	out := map[*thing]*thing{}
	if len(gone)*len(come) > mostPairs {
		return out
	}
	type pair struct {
		a, b  *thing
		score float64
	}
	var list []pair
	for _, a := range gone {
		for _, b := range come {
			if s := score(a, b); s > 0 {
				list = append(list, pair{a, b, s})
			}
		}
	}
	slices.SortFunc(list, func(p, q pair) int {
		if p.score != q.score {
			if p.score > q.score {
				return -1
			}
			return 1
		}
		pl, ph := min(p.a.id, p.b.id), max(p.a.id, p.b.id)
		ql, qh := min(q.a.id, q.b.id), max(q.a.id, q.b.id)
		if c := strings.Compare(pl, ql); c != 0 {
			return c
		}
		return strings.Compare(ph, qh)
	})
	taken := map[*thing]bool{}
	for _, p := range list {
		if !taken[p.a] && !taken[p.b] {
			taken[p.a], taken[p.b] = true, true
			out[p.a] = p.b
		}
	}
	return out
}

// options finds renamed options: in a choice that both have, those with the same title.
func (m *matching) options() {
	for _, c := range m.old.plan.Choices {
		other := m.new.plan.Choice(m.names.id(OfChoice, c.ID.Text))
		if other == nil {
			continue
		}
		to := map[string]string{}
		for _, o := range c.Options {
			for _, n := range other.Options {
				if plainly(o.Title.Value) == plainly(n.Title.Value) && o.ID.Text != n.ID.Text && !hasOption(other, o.ID.Text) && !hasOption(c, n.ID.Text) {
					to[o.ID.Text] = n.ID.Text
				}
			}
		}
		m.names.options[c.ID.Text] = to
	}
}

func hasOption(c *plan.Choice, id string) bool {
	return slices.ContainsFunc(c.Options, func(o plan.Option) bool { return o.ID.Text == id })
}

// inside finds renamed uses, joints or steps, each within its assembly.
func (m *matching) inside(k Kind) {
	gone, come := m.without(k)
	score := m.resemblance(gone, come)
	for from, to := range m.pairs(gone, come, func(a, b *thing) float64 {
		if m.names.id(OfAssembly, a.a.ID.Text) != b.a.ID.Text {
			return 0
		}
		return score(a, b)
	}) {
		_, id, _ := strings.Cut(to.id, ".")
		m.names.of[k][from.id] = id
	}
}

// assemblies finds renamed assemblies: those that hold mostly the same.
func (m *matching) assemblies() {
	gone, come := m.without(OfAssembly)
	score := func(a, b *thing) float64 {
		held, holds := m.holds(m.old, m.names, a.a), m.holds(m.new, m.same, b.a)
		like := likeness(held, holds)
		if like >= sameTitled && (like >= sameAll || a.title == b.title) {
			return like
		}
		return 0
	}
	for from, to := range m.pairs(gone, come, score) {
		m.names.of[OfAssembly][from.id] = to.id
	}
}

// holds is what an assembly holds, as facts.
func (m *matching) holds(s *side, n *names, a *plan.Assembly) []fact {
	t := &teller{side: s, names: n, a: a}
	for _, u := range a.Holds {
		_, part := t.reference(u.Part, role(OfPart))
		_, sub := t.reference(u.Assembly, role(OfAssembly))
		t.add("holds", "", "", part+sub)
	}
	for _, j := range a.Joints {
		_, screw := t.reference(j.Fastener, role(OfPart))
		t.add("joint", "", "", j.Kind.Text+screw)
	}
	return t.out
}

// manner reports fields that say what a part is called, where it is had and how it is
// shown: nothing of its shape.
func manner(field string) bool {
	return about(field, []string{"title", "bought", "notes", "files", "because", "print", "finish"})
}

// parts finds renamed parts, those of the same shape and use, and replaced ones: other
// parts in the same places. Altered parts may lean on others and come last.
func (m *matching) parts() {
	for range 2 {
		gone, come := m.without(OfPart)
		facts := m.told(gone, come)
		for x, list := range facts {
			facts[x] = slices.DeleteFunc(list, func(f fact) bool { return manner(f.key) })
		}
		score := func(a, b *thing) float64 {
			shape, use := likeness(facts[a], facts[b]), m.sameUse(a.id, b.id)
			titled := a.title == b.title
			switch {
			case shape == 1 && (use > 0 || titled), shape >= sameAll && use >= 0.5, shape >= sameTitled && use >= 0.5 && titled:
				return 1 + shape + use
			}
			return 0
		}
		for from, to := range m.pairs(gone, come, score) {
			m.names.of[OfPart][from.id] = to.id
		}
	}
	gone, come := m.without(OfPart)
	for from, to := range m.pairs(gone, come, func(a, b *thing) float64 {
		if use := m.sameUse(a.id, b.id); use >= 0.5 {
			return use
		}
		return 0
	}) {
		m.replaced[from.id] = to.id
		m.names.of[OfPart][from.id] = to.id
	}
	m.features()
}

// sameUse is how much of the places of an old part are those of a new one, 0 to 1. A
// place is known by its name, or by where it is.
func (m *matching) sameUse(old, new string) float64 {
	was, is := m.old.usesOf(old), m.new.usesOf(new)
	both := 0
	for mark := range was {
		if is[mark] {
			both++
		}
	}
	if both == 0 {
		return 0
	}
	return float64(both) / float64(min(len(was), len(is)))
}

// usesOf are the marks of the places where a part is used.
func (s *side) usesOf(part string) map[string]bool {
	if s.uses == nil {
		s.uses = map[string]map[string]bool{}
		t := &teller{side: s}
		mark := func(part, at string) {
			if s.uses[part] == nil {
				s.uses[part] = map[string]bool{}
			}
			s.uses[part][at] = true
		}
		for _, a := range s.plan.Assemblies {
			for _, u := range a.Holds {
				for _, w := range u.Part.All() {
					mark(w.Text, a.ID.Text+"."+u.ID.Text)
					if _, at := t.point(u.Place); at != "" {
						_, turn := t.compact(reflect.ValueOf(u.Turn), "Use.Turn")
						mark(w.Text, a.ID.Text+" at "+at+turn)
					}
				}
			}
			for _, j := range a.Joints {
				for i, list := range [][]plan.Reference{{j.Fastener}, {j.Into}, {j.With}, j.UnderHead, j.UnderNut} {
					for _, ref := range list {
						for _, w := range ref.All() {
							mark(w.Text, fmt.Sprintf("%s.%s %d", a.ID.Text, j.ID.Text, i))
						}
					}
				}
			}
			for _, st := range a.Steps {
				for _, u := range st.Uses {
					mark(u.Part.Text, a.ID.Text+"."+st.ID.Text+" uses")
				}
			}
		}
		for _, p := range s.plan.Parts {
			if p.Of.Given() {
				mark(p.Of.Text, "of "+p.ID.Text)
			}
		}
	}
	return s.uses[part]
}

// features finds renamed holes and named shapes of parts that both plans have.
func (m *matching) features() {
	for _, p := range m.old.plan.Parts {
		other := m.new.plan.Part(m.names.id(OfPart, p.ID.Text))
		if other == nil {
			continue
		}
		was, is := m.old.featuresOf(p), m.new.featuresOf(other)
		to := map[string]string{}
		for _, f := range was {
			if slices.ContainsFunc(is, f.named) {
				continue
			}
			i := slices.IndexFunc(is, func(g feat) bool { return g.mean == f.mean && !slices.ContainsFunc(was, g.named) })
			if i >= 0 {
				to[f.name] = is[i].name
				is = slices.Delete(slices.Clone(is), i, i+1)
			}
		}
		m.names.features[p.ID.Text] = to
	}
}

// A feat is a hole or a named shape with what makes it.
type feat struct{ name, mean string }

func (f feat) named(g feat) bool { return f.name == g.name }

func (s *side) featuresOf(p *plan.Part) []feat {
	t := &teller{side: s, part: p}
	var list []feat
	for _, h := range p.Holes {
		bare := *h
		bare.ID, bare.Note = plan.Word{}, plan.Text{}
		list = append(list, feat{h.ID.Text, "hole " + t.shapeOf(&bare)})
	}
	for _, one := range p.Shape {
		if one.Name.Given() {
			bare := one
			bare.Name = plan.Word{}
			list = append(list, feat{one.Name.Text, "shape " + t.shapeOf(&bare)})
		}
	}
	return list
}
