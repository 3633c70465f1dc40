package compose

import (
	"fmt"
	"slices"
	"strings"

	"plansheaf/design/bill"
	"plansheaf/design/check"
	"plansheaf/design/joint"
	"plansheaf/design/plan"
	"plansheaf/publish/page"
	"plansheaf/publish/wording"
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
	out.Bag = c.bag(a, s)
	out.Screws = c.screws(a, s)
	out.Facts = c.stepFacts(a, s)
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

// A bagged part is what a step takes of one part.
type bagged struct {
	part  string
	count int
}

// taken lists the parts that a step adds and fastens with under a situation: uses
// that it adds, fasteners of the joints that it makes, in order.
func taken(s *check.Situation, a *plan.Assembly, st *plan.Step) (uses, fasteners []bagged) {
	r := s.Reckoning
	add := func(list *[]bagged, id string, n int) {
		for i := range *list {
			if (*list)[i].part == id {
				(*list)[i].count += n
				return
			}
		}
		*list = append(*list, bagged{id, n})
	}
	for _, w := range st.Adds {
		use := a.Use(w.Path()[0])
		if use == nil || !use.Only.Fits(s.Case.Options) {
			continue
		}
		n := 1
		if use.Count.Given() && len(w.Path()) == 1 {
			n, _ = r.Whole(use.Count)
		}
		if id, ok := use.Part.Pick(s.Case.Options); ok {
			add(&uses, id.Text, n)
		} else if id, ok := use.Assembly.Pick(s.Case.Options); ok {
			add(&uses, id.Text, n)
		}
	}
	for _, j := range jointsMade(s, a, st) {
		places := r.JointPlaces(a, j)
		for _, id := range r.JointParts(j) {
			add(&fasteners, id, places)
		}
	}
	return uses, fasteners
}

// jointsMade are the joints whose screws go in at a step.
func jointsMade(s *check.Situation, a *plan.Assembly, st *plan.Step) []*plan.Joint {
	var list []*plan.Joint
	for _, w := range append(slices.Clone(st.Fastens), st.Loose...) {
		j := a.Joint(w.Text)
		if j != nil && j.Only.Fits(s.Case.Options) && !slices.Contains(list, j) {
			list = append(list, j)
		}
	}
	return list
}

// bag is the list of parts to lay out for a step; nil when it takes none.
func (c *composer) bag(a *plan.Assembly, st *plan.Step) *page.Table {
	t := &page.Table{Columns: []page.Column{{Head: c.said("Count"), Align: page.Right}, {Head: c.said("Part")}}}
	seen := map[string]bool{}
	for _, s := range c.all {
		uses, _ := taken(s, a, st)
		for _, u := range uses {
			if !seen[u.part] {
				seen[u.part] = true
				t.Rows = append(t.Rows, c.bagRow(a, st, u.part))
			}
		}
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return t
}

func (c *composer) bagRow(a *plan.Assembly, st *plan.Step, id string) page.Row {
	count := func(s *check.Situation) int {
		uses, _ := taken(s, a, st)
		for _, u := range uses {
			if u.part == id {
				return u.count
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

// screws is the table of the joints that a step makes or tightens; nil for none.
func (c *composer) screws(a *plan.Assembly, st *plan.Step) *page.Table {
	t := &page.Table{Columns: []page.Column{
		{Head: c.said("Joint")}, {Head: c.said("Count"), Align: page.Right}, {Head: c.said("Screw")}, {Head: c.said("With"), Wide: true},
		{Head: c.said("Tool"), Wide: true}, {Head: c.said("Torque"), Align: page.Right},
	}}
	var done []string
	for _, list := range [][]plan.Word{st.Fastens, st.Loose, st.Tightens} {
		for _, w := range list {
			j := a.Joint(w.Text)
			if j == nil || !j.Fastener.Given() || slices.Contains(done, w.Text) {
				continue
			}
			done = append(done, w.Text)
			t.Rows = append(t.Rows, c.screwRow(a, st, j))
		}
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return t
}

func (c *composer) screwRow(a *plan.Assembly, st *plan.Step, j *plan.Joint) page.Row {
	c = c.among(j.Only.Fits)
	return page.Row{Only: onlyOf(j.Only), Cells: cells(
		page.Words(strings.ReplaceAll(j.ID.Text, "_", " ")),
		c.vary(func(s *check.Situation) []page.Inline { return number(s.Reckoning.JointPlaces(a, j)) }),
		c.vary(func(s *check.Situation) []page.Inline { return c.screwWords(s, j) }),
		c.vary(func(s *check.Situation) []page.Inline { return c.withWords(s, j) }),
		c.vary(func(s *check.Situation) []page.Inline {
			if tool, ok := joint.ToolOf(joint.Screw(s.Reckoning, j)); ok {
				return page.Words(c.say(wording.Phrase(tool.Kind)) + " " + tool.Size)
			}
			return nil
		}),
		c.vary(func(s *check.Situation) []page.Inline { return c.torqueWords(s, a, st, j) }),
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

func (c *composer) torqueWords(s *check.Situation, a *plan.Assembly, st *plan.Step, j *plan.Joint) []page.Inline {
	loose := slices.ContainsFunc(st.Loose, func(w plan.Word) bool { return w.Text == j.ID.Text })
	tightens := slices.ContainsFunc(st.Tightens, func(w plan.Word) bool { return w.Text == j.ID.Text })
	if loose && !tightens {
		return c.said("leave loose")
	}
	return c.tightness(joint.Tighten(s.Reckoning, a, j))
}

// tightness says how tight a joint is made; where nobody knows what it bears, no
// number is made up.
func (c *composer) tightness(t joint.Tightening) []page.Inline {
	switch {
	case t.Hand:
		return c.said("hand tight")
	case t.Known:
		return c.measured(t.Torque)
	}
	return c.said("firm")
}

// stepFacts are what else a step needs: consumables, tools, time, steps before it.
func (c *composer) stepFacts(a *plan.Assembly, st *plan.Step) []page.Fact {
	var facts []page.Fact
	add := func(label string, words []page.Inline) {
		if len(words) > 0 {
			facts = append(facts, page.Fact{Label: label, Words: words})
		}
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
	add(c.say("Put in now, used later"), joined(slides))
	add(c.say("Uses"), joined(uses))
	add(c.say("Tools"), joined(tools))
	add(c.say("After|a step"), joined(needs))
	if st.Time.Given() {
		add(c.say("Time"), c.vary(func(s *check.Situation) []page.Inline {
			if v, ok := s.Reckoning.Quantity(st.Time); ok {
				return page.Words(c.duration(v.SI / 60))
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
