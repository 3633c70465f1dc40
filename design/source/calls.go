package source

import (
	"fmt"
	"slices"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/ready"
)

// maxInherited bounds how many results the plan's calculations may take over from
// others, since chains of calculations made from each other grow with their square.
const maxInherited = 20_000

// calls puts into each calculation that says what it is made from that one's results,
// inputs, tables, functions, assumptions and limits, so that nothing after reading needs
// to know how a calculation came about. What was taken over stands at the word after
// from, where its faults are told.
func (g *reading) calls() {
	state := map[*plan.Calc]bool{} // true: under way, or done
	inherited := 0
	for _, c := range g.plan.Calcs {
		g.call(c, state, &inherited)
	}
	for _, c := range g.plan.Calcs {
		if !c.From.Given() && len(c.Finds) == 0 && c.Chain == nil && !g.damaged[c] {
			g.report(nothingFound, c.Title.At, fmt.Sprintf("the calculation %q finds nothing", c.ID.Text), "")
		}
	}
}

// call expands one calculation, what it is made from first.
func (g *reading) call(c *plan.Calc, state map[*plan.Calc]bool, inherited *int) {
	if state[c] {
		return
	}
	state[c] = true
	if !c.From.Given() {
		return
	}
	// A calculation may be named as the ready one that it is made from.
	own := g.plan.Calc(c.From.Text)
	readyOne, known := ready.Named(c.From.Text)
	var m made
	switch {
	case own != nil && own != c:
		g.call(own, state, inherited)
		if g.damaged[own] {
			g.damaged[c] = true
		}
		m = fromPlan(own, c.From.At)
	case known:
		c.Ready = true
		m = fromReady(readyOne.In(g.plan.Language.Text), c.From.At)
	default:
		g.unknownCalc(c, own)
		return
	}
	if *inherited += len(m.Finds); *inherited > maxInherited {
		g.report(tooLarge, c.From.At, fmt.Sprintf("the plan's calculations take over more than %d results from each other", maxInherited), "")
		return
	}
	g.merge(c, m)
}

// unknownCalc reports a name after from that nothing answers to. A calculation made
// from itself is found with the other circles.
func (g *reading) unknownCalc(c, own *plan.Calc) {
	g.damaged[c] = true
	if own == c || g.unread["calc"] {
		return
	}
	names := ids(ready.All(), func(r *ready.Calc) string { return r.Name })
	names = append(names, ids(g.plan.Calcs, func(o *plan.Calc) string { return o.ID.Text })...)
	g.report(unknownReference, c.From.At, fmt.Sprintf("no calculation is called %s, neither a ready one nor one of this plan", quoted(c.From.Text)), g.near.perhaps(c.From.Text, names))
}

// A made is what a calculation is made from, standing at the word after from.
type made struct {
	*plan.Calc
	inputs []plan.Given // with Is where there is a default
	name   string       // for findings: "power_screw"
}

func fromReady(r *ready.Calc, at finding.Span) made {
	m := made{Calc: r.Plan(at), name: r.Name}
	for _, in := range r.Inputs {
		given := plan.Given{Name: plan.Word{Text: in.Name, At: at}, About: plan.Text{Value: in.About, At: at}, Unit: in.Unit, Must: true, At: at}
		if i := slices.IndexFunc(m.Givens, func(d plan.Given) bool { return d.Name.Text == in.Name }); i >= 0 {
			given.Is = m.Givens[i].Is
		}
		m.inputs = append(m.inputs, given)
	}
	for i := range m.Finds {
		m.Finds[i].Made = true
	}
	return m
}

// fromPlan is a calculation of the plan as another one takes it over.
func fromPlan(c *plan.Calc, at finding.Span) made {
	m := made{Calc: &plan.Calc{Tables: c.Tables, Defines: slices.Clone(c.Defines), About: moved(c.About, at), Source: moved(c.Source, at), Ready: c.Ready}, name: c.ID.Text}
	for _, g := range c.Givens {
		g.Like = c.ID.Text + "." + g.Name.Text
		g.Name.At, g.At, g.Is, g.About, g.Because = at, at, stands(g.Is, at), moved(g.About, at), moved(g.Because, at)
		m.inputs = append(m.inputs, g)
	}
	for _, f := range c.Finds {
		f.Name.At, f.Is, f.About, f.Made = at, stands(f.Is, at), moved(f.About, at), true
		m.Finds = append(m.Finds, f)
	}
	for _, a := range c.Assumes {
		m.Assumes = append(m.Assumes, moved(a, at))
	}
	for _, l := range c.Limits {
		m.Limits = append(m.Limits, plan.Require{That: stands(l.That, at), Because: moved(l.Because, at), At: at})
	}
	for i := range m.Defines {
		m.Defines[i].Is = stands(m.Defines[i].Is, at)
		m.Defines[i].At = at
	}
	return m
}

// moved is a text that stands elsewhere.
func moved(t plan.Text, at finding.Span) plan.Text {
	if !t.Given() {
		return t
	}
	return plan.Text{Value: t.Value, At: at}
}

// stands is a quantity that stands elsewhere, as a whole.
func stands(q plan.Quantity, at finding.Span) plan.Quantity {
	if !q.Given() {
		return q
	}
	q.Plain = plan.Formula{Expr: q.Plain.Expr, At: at}
	options := slices.Clone(q.Options)
	for i := range options {
		options[i].Value = plan.Formula{Expr: options[i].Value.Expr, At: at}
	}
	q.Options, q.At = options, at
	return q
}

// merge puts what a calculation is made from before what it says itself.
func (g *reading) merge(c *plan.Calc, m made) {
	if !c.About.Given() {
		c.About = m.About
	}
	if !c.Source.Given() {
		c.Source = m.Source
	}
	c.Assumes = append(m.Assumes, c.Assumes...)
	c.Limits = append(m.Limits, c.Limits...)
	c.Tables = beside(m.Tables, c.Tables, func(t plan.TableFile) string { return t.Name.Text })
	c.Defines = beside(m.Defines, c.Defines, func(d plan.Definition) string { return d.Name.Text })
	g.mergeInputs(c, m)
	finds := m.Finds
	for _, f := range c.Finds {
		if slices.ContainsFunc(m.Finds, func(o plan.Find) bool { return o.Name.Text == f.Name.Text }) {
			g.report(idClash, f.Name.At, fmt.Sprintf("%s finds %q already", m.name, f.Name.Text), "give this result another name", finding.Related{At: c.From.At, Say: "made from here"})
			continue
		}
		finds = append(finds, f)
	}
	c.Finds = finds
}

// beside is a list with another one's things before it, but for those of the same name.
func beside[T any](first, own []T, name func(T) string) []T {
	var list []T
	for _, t := range first {
		if !slices.ContainsFunc(own, func(o T) bool { return name(o) == name(t) }) {
			list = append(list, t)
		}
	}
	return append(list, own...)
}

// mergeInputs fills the inputs with what the calculation gives, and reports those that
// it leaves open and what it gives for nothing.
func (g *reading) mergeInputs(c *plan.Calc, m made) {
	lost := g.damaged[c] // what it is made from, or itself, was not read whole
	var givens []plan.Given
	var missing []string
	for _, in := range m.inputs {
		i := slices.IndexFunc(c.Givens, func(o plan.Given) bool { return o.Name.Text == in.Name.Text })
		switch {
		case i >= 0:
			given := c.Givens[i]
			given.Unit, given.Like, given.Must = in.Unit, in.Like, in.Must
			if !given.About.Given() {
				given.About = in.About
			}
			givens = append(givens, given)
		case in.Is.Given():
			givens = append(givens, in)
		case !lost:
			missing = append(missing, in.Name.Text)
		}
	}
	inputs := ids(m.inputs, func(in plan.Given) string { return in.Name.Text })
	for _, own := range c.Givens {
		name := own.Name.Text
		switch {
		case slices.Contains(inputs, name):
			continue
		case slices.ContainsFunc(m.Finds, func(f plan.Find) bool { return f.Name.Text == name }):
			g.report(idClash, own.Name.At, fmt.Sprintf("%s finds %q; it cannot be given", m.name, name), "", finding.Related{At: c.From.At, Say: "made from here"})
			continue
		case !lost && !usedWithin(c, name):
			remedy := g.near.perhaps(name, missing)
			if len(missing) == 0 {
				remedy = g.near.perhaps(name, inputs)
			}
			g.report(inputSuperfluous, own.Name.At, fmt.Sprintf("%s has no input %q, and nothing in this calculation names it", m.name, name), remedy, finding.Related{At: c.From.At, Say: "made from here"})
		}
		givens = append(givens, own)
	}
	if len(missing) > 0 {
		g.damaged[c] = true
		for _, name := range missing {
			in := m.inputs[slices.Index(inputs, name)]
			say := fmt.Sprintf("%s needs the input %q", m.name, name)
			if in.About.Value != "" {
				say += ", " + in.About.Value
			}
			remedy := fmt.Sprintf("add it under given: %s: {is: ...}", name)
			if in.Unit != "" {
				remedy = fmt.Sprintf("add it under given: %s: {is: ... %s}", name, in.Unit)
			}
			g.report(inputMissing, c.From.At, say, remedy)
		}
	}
	c.Givens = givens
}

// usedWithin reports whether a formula that the calculation itself holds names a given.
func usedWithin(c *plan.Calc, name string) bool {
	in := func(q plan.Quantity) bool {
		for _, f := range q.All() {
			if !f.Given() {
				continue
			}
			for _, use := range f.Expr.Names() {
				if use.Text == name {
					return true
				}
			}
		}
		return false
	}
	return slices.ContainsFunc(c.Finds, func(f plan.Find) bool { return in(f.Is) }) ||
		slices.ContainsFunc(c.Givens, func(o plan.Given) bool { return in(o.Is) }) ||
		slices.ContainsFunc(c.Defines, func(d plan.Definition) bool { return in(d.Is) }) ||
		slices.ContainsFunc(append(slices.Clone(c.Requires), c.Limits...), func(q plan.Require) bool { return in(q.That) })
}
