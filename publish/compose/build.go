package compose

import (
	"fmt"
	"strings"

	"plansheaf/design/check"
	"plansheaf/design/plan"
	"plansheaf/design/sequence"
	"plansheaf/publish/page"
)

// assemblies are the overview of the work and one page an assembly with its steps.
func (c *composer) assemblies() []*page.Page {
	overview := &page.Page{
		ID: "build", Title: c.say("Building"), Kind: page.Assemblies,
		Summary: c.say("The work in its order, one assembly after the other."),
	}
	t := page.Table{ID: "order", Columns: []page.Column{
		{Head: c.said("No."), Align: page.Right}, {Head: c.said("Assembly")}, {Head: c.said("Build"), Align: page.Right}, {Head: c.said("Steps"), Align: page.Right}, {Head: c.said("Time"), Align: page.Right},
	}}
	pages := []*page.Page{overview}
	ranks := make(map[*check.Situation]int, len(c.all)) // assemblies so far that a combination builds
	for _, a := range c.order {
		only, exists := c.only(func(s *check.Situation) bool { return s.Reckoning.Tally().Assembled[a.ID.Text] > 0 })
		if !exists {
			continue
		}
		link := page.Link{To: assemblyTarget(a), Words: page.Words(a.Title.Value)}
		some := c.under(only)
		rank := make(map[*check.Situation]int, len(c.all))
		for _, s := range c.all {
			if takes(s, a) {
				ranks[s]++
				rank[s] = ranks[s]
			}
		}
		t.Rows = append(t.Rows, page.Row{Only: only, Cells: cells(
			some.vary(func(s *check.Situation) []page.Inline { return number(rank[s]) }), []page.Inline{link},
			some.vary(func(s *check.Situation) []page.Inline { return number(s.Reckoning.Tally().Assembled[a.ID.Text]) }),
			some.vary(func(s *check.Situation) []page.Inline { return number(stepsOf(s, a)) }),
			some.vary(func(s *check.Situation) []page.Inline { return page.Words(c.duration(minutesOf(s, a))) }),
		)})
		pages = append(pages, c.assembly(a, rank, only))
	}
	overview.Blocks = []page.Block{c.paragraph("Build the assemblies in this order; each one is ready when the next needs it."), t}
	return pages
}

func stepsOf(s *check.Situation, a *plan.Assembly) (n int) {
	for _, st := range a.Steps {
		if st.Only.Fits(s.Case.Options) {
			n++
		}
	}
	return n
}

func minutesOf(s *check.Situation, a *plan.Assembly) (minutes float64) {
	for _, st := range a.Steps {
		if st.Only.Fits(s.Case.Options) && st.Time.Given() {
			if v, ok := s.Reckoning.Quantity(st.Time); ok {
				minutes += v.SI / 60
			}
		}
	}
	return minutes
}

// assembly is the page of an assembly, which is the rank-th of those that each
// combination builds.
func (c *composer) assembly(a *plan.Assembly, rank map[*check.Situation]int, only page.Only) *page.Page {
	c = c.within(a).under(only)
	pg := &page.Page{
		ID: "build/" + a.ID.Text, Title: a.Title.Value, Kind: page.Assembly, Parent: "build", Only: only,
		Summary: c.say("Step by step, with what each takes."),
	}
	pg.Blocks = append(pg.Blocks, c.assembled(a)...)
	for _, note := range a.Notes {
		pg.Blocks = append(pg.Blocks, c.text(note)...)
	}
	done := make(map[*check.Situation]int, len(c.all)) // steps so far that a combination has
	for _, st := range a.Steps {
		some := c.among(st.Only.Fits)
		for _, s := range some.all {
			done[s]++
		}
		numbered := some.vary(func(s *check.Situation) []page.Inline { return page.Words(fmt.Sprintf("%d.%d", rank[s], done[s])) })
		pg.Blocks = append(pg.Blocks, some.step(a, st, numbered))
	}
	return pg
}

func (c *composer) step(a *plan.Assembly, s *plan.Step, numbered []page.Inline) page.Step {
	id := a.ID.Text + "." + s.ID.Text
	out := page.Step{
		ID: id, Anchor: "step-" + s.ID.Text, Number: numbered, Title: s.Title.Value, Only: onlyOf(s.Only), Tick: "step-" + id,
	}
	for _, h := range c.plan.Hazards {
		if c.guards(h, a, s) {
			out.Cautions = append(out.Cautions, c.within(nil).hazardBox(h))
		}
	}
	if pic := c.Pictures.Steps[id]; pic != nil {
		out.Figure = &page.Figure{Picture: pic}
	}
	takes := c.cardsOf(s)
	out.Bag = c.bag(takes)
	out.Screws = c.screws(a, takes)
	out.Facts = c.stepFacts(a, s, takes)
	out.Text = c.wording(s.Text)
	for i, m := range s.Measures {
		out.Measures = append(out.Measures, c.measureItem(a, m, fmt.Sprintf("measure-%s-%d", id, i+1)))
	}
	return out
}

// guards reports whether a hazard is to be warned of before a step: when its where
// names the step, or a part or assembly that the step adds.
func (c *composer) guards(h *plan.Hazard, a *plan.Assembly, s *plan.Step) bool {
	for _, w := range h.Where {
		if w.Text == a.ID.Text+"."+s.ID.Text {
			return true
		}
		for _, add := range s.Adds {
			use := a.Use(add.Path()[0])
			if use == nil {
				continue
			}
			for _, ref := range append(use.Part.All(), use.Assembly.All()...) {
				if ref.Text == w.Text {
					return true
				}
			}
		}
	}
	return false
}

// stepFacts are what else a step needs: consumables, tools, people, time, steps before
// it, and the heaviest thing to lift.
func (c *composer) stepFacts(a *plan.Assembly, st *plan.Step, takes cards) []page.Fact {
	var facts []page.Fact
	add := func(label string, words []page.Inline) {
		if len(words) > 0 {
			facts = append(facts, page.Fact{Label: label, Words: words})
		}
	}
	of := func(words func(card *sequence.Card) []page.Inline) []page.Inline {
		return c.vary(func(s *check.Situation) []page.Inline {
			if takes[s] == nil {
				return nil
			}
			return words(takes[s])
		})
	}
	var uses, tools, needs, slides [][]page.Inline
	for _, u := range st.Uses {
		words := c.within(nil).reference(u.Part)
		if u.Amount.Given() {
			words = append(words, page.Text(" "))
			words = append(words, c.quantityWords(u.Amount)...)
		}
		uses = append(uses, words)
	}
	for _, w := range st.Tools {
		title := strings.ReplaceAll(w.Text, "_", " ")
		if own := c.plan.Tool(w.Text); own != nil && own.Title.Given() {
			title = own.Title.Value
		}
		tools = append(tools, page.Words(title))
	}
	for _, w := range st.Needs {
		needs = append(needs, c.stepLink(a, w))
	}
	for _, w := range st.SlidesIn {
		slides = append(slides, page.Words(strings.ReplaceAll(w.Text, "_", " ")))
	}
	add(c.say("First|before the rest of a step"), of(func(card *sequence.Card) []page.Inline { return c.turnWords(card.Rest) }))
	add(c.say("The work lies"), of(func(card *sequence.Card) []page.Inline { return c.lyingWords(card.Rest) }))
	add(c.say("Put in now, used later"), joined(slides))
	add(c.say("Uses"), joined(uses))
	add(c.say("Tools"), joined(tools))
	add(c.say("After|a step"), joined(needs))
	add(c.say("Heaviest to lift"), of(func(card *sequence.Card) []page.Inline { return c.liftWords(a, card.Lift) }))
	if st.People.Given() {
		add(c.say("People"), of(func(card *sequence.Card) []page.Inline { return number(card.People) }))
	}
	if st.Time.Given() {
		add(c.say("Time"), of(func(card *sequence.Card) []page.Inline {
			if card.Timed {
				return page.Words(c.duration(card.Time.SI / 60))
			}
			return nil
		}))
	}
	return facts
}

func (c *composer) stepLink(a *plan.Assembly, w plan.Word) []page.Inline {
	in, id := a, w.Text
	if path := w.Path(); len(path) == 2 {
		in, id = c.plan.Assembly(path[0]), path[1]
	}
	if in == nil || in.Step(id) == nil {
		return page.Words(w.Text)
	}
	return []page.Inline{c.linkTo(stepTarget(in, id), in.Step(id).Title.Value)}
}

func (c *composer) measureItem(a *plan.Assembly, m plan.Measure, tick string) page.Item {
	is := c.vary(func(s *check.Situation) []page.Inline {
		if v, ok := s.Measured(a, m); ok {
			return c.measured(v.Nominal())
		}
		return c.said("not known")
	})
	words := c.told("%s: %s|what to measure", c.inline(m.Say), is)
	if m.Within.Given() {
		words = c.told("%s: %s, within %s|what to measure", c.inline(m.Say), is, c.quantityWords(m.Within))
	}
	return page.Item{Tick: tick, Only: onlyOf(m.Only), Blocks: []page.Block{page.Paragraph{Words: words}}}
}
