package compose

import (
	"strings"

	"plansheaf/design/bill"
	"plansheaf/design/check"
	"plansheaf/design/joint"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/sequence"
	"plansheaf/publish/page"
	"plansheaf/publish/wording"
)

// cards are what a step takes, for each combination that has it.
type cards map[*check.Situation]*sequence.Card

func (c *composer) cardsOf(st *plan.Step) cards {
	out := cards{}
	for _, s := range c.all {
		if card := cardOf(s, st); card != nil {
			out[s] = card
		}
	}
	return out
}

// cardOf is what a step takes under a situation, nil where it has no such step.
func cardOf(s *check.Situation, st *plan.Step) *sequence.Card {
	rec := s.Sequence()
	i, ok := rec.Graph.Index(st)
	if !ok {
		return nil
	}
	card := rec.Card(i)
	return &card
}

// bag is the list of what to lay out for a step: what it adds, then the screws, washers
// and nuts of its joints; nil when it takes nothing.
func (c *composer) bag(list cards) *page.Table {
	t := &page.Table{Columns: []page.Column{{Head: c.said("Count"), Align: page.Right}, {Head: c.said("Part")}}}
	seen := map[string]bool{}
	for _, s := range c.all {
		if list[s] == nil {
			continue
		}
		for _, item := range list[s].Bag {
			if id := item.ID(); !seen[id] {
				seen[id] = true
				t.Rows = append(t.Rows, c.bagRow(list, id))
			}
		}
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return t
}

func (c *composer) bagRow(list cards, id string) page.Row {
	count := func(s *check.Situation) int {
		if list[s] != nil {
			for _, item := range list[s].Bag {
				if item.ID() == id {
					return item.Count
				}
			}
		}
		return 0
	}
	only, _ := c.only(func(s *check.Situation) bool { return count(s) > 0 })
	c = c.under(only)
	return page.Row{Only: only, Cells: cells(
		c.vary(func(s *check.Situation) []page.Inline { return number(count(s)) }), c.within(nil).reference(plan.Word{Text: id}),
	)}
}

// A screwed is a joint as a step handles it: a step may start it and make it tight.
type screwed struct {
	joint   *plan.Joint
	started bool
}

// screws is the table of the joints that a step makes or tightens with screws and other
// fasteners, or by a clamp's own screw; nil for none.
func (c *composer) screws(a *plan.Assembly, list cards) *page.Table {
	t := &page.Table{Columns: []page.Column{
		{Head: c.said("Joint")}, {Head: c.said("Count"), Align: page.Right}, {Head: c.said("Screw")}, {Head: c.said("With"), Wide: true},
		{Head: c.said("Tool"), Wide: true}, {Head: c.said("Torque"), Align: page.Right},
	}}
	seen := map[screwed]bool{}
	for _, s := range c.all {
		if list[s] == nil {
			continue
		}
		for _, w := range list[s].Joints {
			key := screwed{w.Joint, w.Started}
			if !w.Joint.Fastener.Given() && len(w.Tools) == 0 || seen[key] {
				continue
			}
			seen[key] = true
			t.Rows = append(t.Rows, c.screwRow(a, list, key))
		}
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return t
}

func (c *composer) screwRow(a *plan.Assembly, list cards, key screwed) page.Row {
	find := func(s *check.Situation) *sequence.Work {
		if list[s] != nil {
			for i := range list[s].Joints {
				if w := &list[s].Joints[i]; w.Joint == key.joint && w.Started == key.started {
					return w
				}
			}
		}
		return nil
	}
	only, _ := c.only(func(s *check.Situation) bool { return find(s) != nil })
	c = c.under(only)
	of := func(words func(s *check.Situation, w *sequence.Work) []page.Inline) []page.Inline {
		return c.vary(func(s *check.Situation) []page.Inline {
			if w := find(s); w != nil {
				return words(s, w)
			}
			return nil
		})
	}
	return page.Row{Only: only, Cells: cells(
		of(func(_ *check.Situation, w *sequence.Work) []page.Inline {
			name := strings.ReplaceAll(w.Joint.ID.Text, "_", " ")
			if w.Owner != a {
				name = w.Owner.Title.Value + ", " + name
			}
			return []page.Inline{c.linkTo(jointTarget(w.Owner, w.Joint), name)}
		}),
		of(func(_ *check.Situation, w *sequence.Work) []page.Inline { return number(w.Places) }),
		of(func(s *check.Situation, w *sequence.Work) []page.Inline {
			if clamp := joint.ClampOf(s.Reckoning, w.Owner, w.Joint); clamp != nil { // closed by a screw of its own
				return []page.Inline{c.partLink(clamp.Part)}
			}
			return c.screwWords(s, w.Joint)
		}),
		of(func(s *check.Situation, w *sequence.Work) []page.Inline { return c.withWords(s, w.Joint) }),
		of(func(s *check.Situation, w *sequence.Work) []page.Inline { return c.toolWords(s, w) }),
		of(func(_ *check.Situation, w *sequence.Work) []page.Inline {
			if w.Started {
				return c.said("leave loose")
			}
			return c.tightness(w.Tight)
		}),
	)}
}

func (c *composer) screwWords(s *check.Situation, j *plan.Joint) []page.Inline {
	p := joint.Screw(s.Reckoning, j)
	if p == nil {
		return nil
	}
	title := bill.Title(p)
	if p.Fastener != nil {
		title = p.Fastener.Title
	}
	return []page.Inline{c.linkTo(partTarget(p.Part), title)}
}

// withWords are the washers and the nut of a joint.
func (c *composer) withWords(s *check.Situation, j *plan.Joint) []page.Inline {
	var items [][]page.Inline
	ids := s.Reckoning.JointParts(j)
	for _, id := range ids[min(1, len(ids)):] {
		if p := c.plan.Part(id); p != nil {
			items = append(items, []page.Inline{c.partLink(p)})
		}
	}
	if j.Lock.Given() && j.Lock.Text != "none" {
		items = append(items, c.said("lock: %s", strings.ReplaceAll(j.Lock.Text, "_", " ")))
	}
	return joined(items)
}

// toolWords are what turns a joint's screws and what keeps its nuts from turning.
func (c *composer) toolWords(s *check.Situation, w *sequence.Work) []page.Inline {
	words := page.Words(c.wrenches(w.Tools))
	held := ""
	switch nut := joint.NutOf(s.Reckoning, w.Joint); {
	case len(w.Holds) > 0:
		held = c.say("%s on the nut|a tool that keeps it from turning", c.wrenches(w.Holds))
	case nut != nil && nut.Part.Fastener != nil && nut.Part.Fastener.Slot.Given():
		held = c.say("the slot holds the nut")
	}
	if held == "" {
		return words
	}
	if len(words) > 0 {
		held = ", " + held
	}
	return append(words, page.Text(held))
}

// wrenches name tools with their sizes.
func (c *composer) wrenches(list []sequence.Wrench) string {
	var names []string
	for _, w := range list {
		names = append(names, strings.TrimSpace(c.say(wording.Phrase(w.Kind))+" "+w.Size))
	}
	return strings.Join(names, ", ")
}

// tightness says how tight a joint is made, nothing where nothing turns; where nobody
// knows what it bears, no number is made up.
func (c *composer) tightness(t joint.Tightening) []page.Inline {
	switch {
	case t.Never:
		return nil
	case t.Hand:
		return c.said("hand tight")
	case t.Known:
		return c.measured(asSet(t.Torque))
	}
	return c.said("firm")
}

// asSet is a torque to three figures: no wrench is set finer.
func asSet(v quantity.Value) quantity.Value {
	v = v.Nominal()
	v.SI = quantity.Figures(v.SI, 3)
	return v
}

// worthLifting is from which mass on a step says what its heaviest thing weighs, kg:
// less nobody minds. Common practice, no source.
const worthLifting = 1.0

// liftWords say what the heaviest thing is that a step adds, and how many it takes.
func (c *composer) liftWords(a *plan.Assembly, l sequence.Lift) []page.Inline {
	if l.Mass < worthLifting {
		return nil
	}
	return c.weighing(c.lifted(a, l.Name), l)
}

// weighing says what is lifted, what it weighs and whether that is too much.
func (c *composer) weighing(what []page.Inline, l sequence.Lift) []page.Inline {
	mass := []page.Inline{c.mass(l.Mass)}
	switch {
	case l.Mass > l.Limit && l.Hoist:
		return c.told("%s, %s: by a hoist|what to lift and its mass", what, mass)
	case l.Mass > l.Limit:
		return c.told("%s, %s: more than the %s that may be lifted by hand|what to lift and its mass", what, mass, []page.Inline{c.mass(l.Limit)})
	case !l.Known:
		return c.told("%s, %s at least: not all of it is weighed|what to lift and its mass", what, mass)
	}
	return c.told("%s, %s|what to lift and its mass", what, mass)
}

// lifted is the title of what stands at a path of an assembly.
func (c *composer) lifted(a *plan.Assembly, path string) []page.Inline {
	words := page.Words(path)
	for _, name := range (plan.Word{Text: path}).Path() {
		if a == nil {
			break
		}
		use := a.Use(name)
		if use == nil {
			continue // a number
		}
		words = c.useWords(use)
		id, _ := use.Assembly.Pick(c.all[0].Case.Options)
		a = c.plan.Assembly(id.Text)
	}
	return words
}
