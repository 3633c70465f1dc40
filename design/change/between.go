package change

import (
	"cmp"
	"slices"
	"strings"

	"plansheaf/design/plan"
)

// Between compares two revisions of a plan.
func Between(old, new Revision) *Comparison {
	was, is := newSide(old), newSide(new)
	m := match(was, is)
	c := &Comparison{Old: sideOf(old), New: sideOf(new)}
	for _, k := range kinds {
		c.Changes = append(c.Changes, m.changes(k)...)
	}
	c.Effects = m.effects()
	c.Found, c.Gone = m.findings()
	c.settle()
	return c
}

func sideOf(r Revision) Side {
	p := r.Work.Plan
	return Side{Title: plainly(p.Title.Value), Revision: p.Revision.Text, Date: p.Date.Text}
}

// settle puts everything in its order and judges it.
func (c *Comparison) settle() {
	for i := range c.Changes {
		slices.SortStableFunc(c.Changes[i].Lines, func(a, b Field) int {
			if a.Follows != b.Follows {
				return b2i(a.Follows) - b2i(b.Follows)
			}
			return strings.Compare(a.What, b.What)
		})
	}
	slices.SortStableFunc(c.Changes, func(a, b Change) int {
		return cmp.Or(slices.Index(kinds, a.Kind)-slices.Index(kinds, b.Kind), strings.Compare(a.ID, b.ID), strings.Compare(a.Was, b.Was))
	})
	c.Effects.settle()
	byPlace := func(a, b Finding) int {
		return cmp.Or(int(b.Severity)-int(a.Severity), strings.Compare(a.Rule, b.Rule), strings.Compare(a.Subject, b.Subject), strings.Compare(a.Message, b.Message))
	}
	slices.SortStableFunc(c.Found, byPlace)
	slices.SortStableFunc(c.Gone, byPlace)
	c.judge()
}

// changes are those of one kind.
func (m *matching) changes(k Kind) []Change {
	var out []Change
	olds, news := m.old.things(k), m.new.things(k)
	byID := map[string]*thing{}
	for _, x := range news {
		if byID[x.id] == nil {
			byID[x.id] = x
		}
	}
	met := map[*thing]bool{}
	for _, x := range olds {
		y := byID[m.newID(x)]
		if y == nil || met[y] {
			out = append(out, m.one(k, Removed, x, nil))
			continue
		}
		met[y] = true
		if c, differs := m.both(x, y); differs {
			out = append(out, c)
		}
	}
	for _, y := range news {
		if !met[y] {
			out = append(out, m.one(k, Added, nil, y))
		}
	}
	return out
}

// one is a thing that stands on one side alone, with what it says.
func (m *matching) one(k Kind, what string, x, y *thing) Change {
	c := Change{Kind: k, What: what}
	var facts []fact
	if x != nil {
		c.ID, c.Title, c.OldAt = x.id, x.title, x.at
		facts = m.old.facts(x, nil) // in its own names: nothing answers to it
		c.Lines = differences(facts, nil)
	} else {
		c.ID, c.Title, c.NewAt = y.id, y.title, y.at
		facts = m.new.facts(y, m.same)
		c.Lines = differences(nil, facts)
	}
	if k == OfPart {
		c.In = m.usedIn(x, y)
	}
	return c
}

// both compares a thing with what it is now.
func (m *matching) both(x, y *thing) (Change, bool) {
	c := Change{Kind: x.kind, What: Changed, ID: y.id, Title: y.title, OldAt: x.at, NewAt: y.at}
	c.Lines = differences(m.old.facts(x, m.names), m.new.facts(y, m.same))
	if x.kind == OfAssembly {
		c.Lines = append(c.Lines, m.order(x.a, y.a)...)
	}
	written := func(f Field) bool { return !f.Follows }
	stands := func(f Field) bool { return f.What == StandsAt }
	if x.kind == OfPlacement && slices.ContainsFunc(c.Lines, func(f Field) bool { return !stands(f) }) {
		c.Lines = slices.DeleteFunc(c.Lines, stands) // where it stands follows from what is said
	}
	if x.kind == OfPart {
		c.Lines = append(c.Lines, m.newFeatures(x.part)...)
	}
	if x.title != y.title {
		c.Had = x.title
	}
	if x.id != y.id {
		c.Was = x.id
		// What stands in an assembly that was renamed is not renamed itself.
		if x.kind != OfPlacement && x.kind != OfJoint && x.kind != OfStep || tail(x.id) != tail(y.id) {
			c.What = Renamed
		}
	}
	if m.replaced[x.id] == y.id && x.kind == OfPart {
		c.What = Replaced
	}
	if len(c.Lines) == 0 && c.What == Changed {
		return c, false
	}
	c.Follows = c.What == Changed && !slices.ContainsFunc(c.Lines, written)
	if x.kind == OfPart {
		c.In = m.usedIn(x, y)
	}
	return c, true
}

func tail(id string) string {
	_, after, _ := strings.Cut(id, ".")
	return after
}

// newFeatures tells which holes and named shapes of a part were renamed.
func (m *matching) newFeatures(p *plan.Part) []Field {
	var out []Field
	for old, name := range m.names.features[p.ID.Text] {
		out = append(out, Field{What: "name of " + name, Was: "name of " + old, Old: old, New: name})
	}
	slices.SortFunc(out, func(a, b Field) int { return strings.Compare(a.What, b.What) })
	return out
}

// order tells how the order of the steps that both assemblies have differs: those
// between the first and the last that stand elsewhere.
func (m *matching) order(old, new *plan.Assembly) []Field {
	was, is := m.steps(old, new)
	from := 0
	for from < len(was) && was[from][1] == is[from][1] {
		from++
	}
	to := len(was)
	for to > from && was[to-1][1] == is[to-1][1] {
		to--
	}
	if from == to {
		return nil
	}
	names := func(list [][2]string) string {
		var ids []string
		for _, x := range list[from:to] {
			ids = append(ids, x[0])
		}
		return strings.Join(ids, ", ")
	}
	return []Field{{What: StepOrder, Old: names(was), New: names(is)}}
}

// StandsAt is the field of a placement that tells where it comes to stand.
const StandsAt = "stands at"

// StepOrder is the field of an assembly that tells the order of its steps.
const StepOrder = "order of steps"

// steps are the steps that both assemblies have, each by its own and its new name.
func (m *matching) steps(old, new *plan.Assembly) (was, is [][2]string) {
	both := map[string]bool{}
	for _, st := range old.Steps {
		name := m.names.within(OfStep, old.ID.Text, st.ID.Text)
		if new.Step(name) != nil {
			both[name] = true
			was = append(was, [2]string{st.ID.Text, name})
		}
	}
	for _, st := range new.Steps {
		if both[st.ID.Text] {
			is = append(is, [2]string{st.ID.Text, st.ID.Text})
		}
	}
	return was, is
}

// usedIn are the assemblies and joints that hold a part on either side, sorted.
func (m *matching) usedIn(x, y *thing) []string {
	at := map[string]bool{}
	add := func(s *side, t *thing) {
		if t == nil {
			return
		}
		for mark := range s.usesOf(t.id) {
			if place, rest, found := strings.Cut(mark, " "); !found || !strings.HasPrefix(rest, "at ") {
				at[place] = true
			}
		}
	}
	add(m.old, x)
	add(m.new, y)
	var list []string
	for place := range at {
		list = append(list, place)
	}
	slices.Sort(list)
	return list
}
