package compose

import (
	"plansheaf/design/check"
	"plansheaf/design/plan"
	"plansheaf/publish/page"
	"plansheaf/publish/wording"
)

// front is the first page: the machine, what it promises, what it takes, what can
// hurt.
func (c *composer) front() *page.Page {
	pg := &page.Page{ID: "index", Title: c.plan.Title.Value, Kind: page.Front, Summary: c.plain(c.plan.Summary)}
	if pic := c.Pictures.Whole[c.plan.Machine.Text]; pic != nil {
		pg.Blocks = append(pg.Blocks, page.Figure{Picture: pic, Caption: c.said("The machine put together")})
	}
	pg.Blocks = append(pg.Blocks, c.dangers())
	if len(c.plan.Claims) > 0 {
		pg.Blocks = append(pg.Blocks, page.Heading{Level: 2, ID: "promises", Words: c.said("What it promises")}, c.claims())
	}
	pg.Blocks = append(pg.Blocks, page.Heading{Level: 2, ID: "takes", Words: c.said("What it takes")}, c.effort())
	pg.Blocks = append(pg.Blocks, page.Heading{Level: 2, ID: "begin", Words: c.said("Where to begin")}, c.begin())
	return pg
}

// dangers names the gravest hazards and leads to the safety page.
func (c *composer) dangers() page.CautionBox {
	signal := c.gravest()
	var items []page.Item
	for _, h := range c.plan.Hazards {
		if h.Before.Severity.Text != "slight" {
			items = append(items, page.Item{Only: onlyOf(h.Only), Blocks: []page.Block{page.Paragraph{Words: []page.Inline{
				page.Link{To: hazardTarget(h), Words: page.Words(capital(h.Harm.Value))},
			}}}})
		}
	}
	box := page.CautionBox{
		Signal: signal, Sign: "W001", Title: c.said("Before anything else: what can hurt"),
		Blocks: []page.Block{page.Paragraph{Words: c.told("Read %s first. Local codes and licensed practice come before anything in this plan.", c.to("safety", "Safety"))}},
	}
	if len(items) > 0 {
		box.Blocks = append(box.Blocks, page.List{Items: items})
	}
	return box
}

// gravest is the signal word for the worst hazard before its measures: ANSI Z535.6
// and ISO 3864-2 keep DANGER for death or serious injury that will happen if it is
// not avoided, WARNING for what could, CAUTION for minor injury.
func (c *composer) gravest() page.Signal {
	signal := page.Notice
	for _, h := range c.plan.Hazards {
		if s := signalOf(h.Before); rank[s] > rank[signal] {
			signal = s
		}
	}
	return signal
}

var rank = map[page.Signal]int{page.Notice: 0, page.Caution: 1, page.Warning: 2, page.Danger: 3}

func signalOf(r plan.Risk) page.Signal {
	switch {
	case r.Severity.Text == "severe" && r.Chance.Text == "likely":
		return page.Danger
	case r.Severity.Text == "severe" || r.Severity.Text == "serious":
		return page.Warning
	}
	return page.Caution
}

// claims are the promises, computed, with a link to the calculation behind each.
func (c *composer) claims() page.Facts {
	var facts page.Facts
	for _, claim := range c.plan.Claims {
		only, exists := c.only(func(s *check.Situation) bool { return !s.Reckoning.Absent(claim.Is) })
		if !exists {
			continue
		}
		words := c.vary(func(s *check.Situation) []page.Inline { return c.claimWords(s, claim) })
		facts.Facts = append(facts.Facts, page.Fact{Label: claim.Say.Value, Words: words, Only: only})
	}
	return facts
}

func (c *composer) claimWords(s *check.Situation, claim *plan.Claim) []page.Inline {
	if s.Reckoning.Absent(claim.Is) {
		return nil
	}
	v, ok := s.Reckoning.Quantity(claim.Is)
	if !ok {
		return c.said("not known")
	}
	words := c.measured(v.Nominal())
	f, _ := claim.Is.Pick(s.Case.Options)
	if f.Given() {
		for _, use := range f.Expr.Names() {
			if k := c.plan.Calc(plan.Word{Text: use.Text}.Path()[0]); k != nil {
				words = c.told("%s (%s)|a value and a link", words, []page.Inline{page.Link{To: calcTarget(k), Words: c.said("how it is worked out")}})
				break
			}
		}
	}
	return words
}

// effort is what the machine costs, weighs, measures and takes.
func (c *composer) effort() page.Facts {
	each := func(label string, words func(s *check.Situation) []page.Inline) page.Fact {
		return page.Fact{Label: label, Words: c.vary(words)}
	}
	return page.Facts{Facts: []page.Fact{
		each(c.say("Cost"), func(s *check.Situation) []page.Inline {
			return c.told("%s (%s)|a value and a link", c.costWords(s), c.to("shopping", "shopping list"))
		}),
		each(c.say("Mass"), func(s *check.Situation) []page.Inline {
			words := []page.Inline{c.mass(s.Bill.Mass)}
			if n := len(s.Bill.Unweighed); n > 0 {
				words = append(words, page.Text(c.tongue.Count(n, ", without 1 part of unknown mass", ", without %d parts of unknown mass")))
			}
			return words
		}),
		each(c.say("Work"), func(s *check.Situation) []page.Inline { return page.Words(c.duration(s.Bill.WorkMinute)) }),
		each(c.say("Parts"), func(s *check.Situation) []page.Inline { return c.partCounts(s) }),
		each(c.say("Steps"), func(s *check.Situation) []page.Inline { return number(c.stepCount(s)) }),
	}}
}

func (c *composer) partCounts(s *check.Situation) []page.Inline {
	kinds, pieces, fasteners := 0, 0, 0
	for _, line := range s.Bill.Lines {
		kinds++
		if line.Part.Part.Standard.Given() || line.Part.Part.Fastener != nil {
			fasteners += line.Count
		} else {
			pieces += line.Count
		}
	}
	return c.said("%d kinds: %s and %s", kinds, c.tongue.Count(pieces, "1 piece", "%d pieces"), c.tongue.Count(fasteners, "1 fastener", "%d fasteners"))
}

func (c *composer) stepCount(s *check.Situation) int {
	n := 0
	for _, a := range c.order {
		if s.Reckoning.Tally().Assembled[a.ID.Text] == 0 {
			continue
		}
		for _, st := range a.Steps {
			if st.Only.Fits(s.Case.Options) {
				n++
			}
		}
	}
	return n
}

// begin lists the way through the plan.
func (c *composer) begin() page.List {
	list := page.List{Ordered: true}
	add := func(words []page.Inline) {
		list.Items = append(list.Items, page.Item{Blocks: []page.Block{page.Paragraph{Words: words}}})
	}
	add(c.told("%s: what can hurt and what guards against it.", c.to("safety", "Safety")))
	if len(c.plan.Choices) > 0 {
		add(c.told("%s: decide what you build.", c.to("choices", "Choices")))
	}
	add(c.told("%s: what to buy, in packs as sold.", c.to("shopping", "Shopping")))
	add(c.told("%s and %s: make the parts.", c.to("cutting", "Cutting|to size"), c.to("drawings", "Drawings")))
	add(c.told("%s: put it together, step by step.", c.to("build", "Building")))
	return list
}

// to leads to a page.
func (c *composer) to(id string, p wording.Phrase) []page.Inline {
	return []page.Inline{page.Link{To: page.Target{Page: id}, Words: c.said(p)}}
}

// choices tells what the builder decides and what each option brings.
func (c *composer) choices() *page.Page {
	pg := &page.Page{ID: "choices", Title: c.say("Choices"), Kind: page.Choices, Summary: c.say("What you decide before you buy.")}
	for _, choice := range c.plan.Choices {
		pg.Blocks = append(pg.Blocks, page.Heading{Level: 2, ID: choice.ID.Text, Words: page.Words(choice.Title.Value)})
		t := page.Table{ID: "choice-" + choice.ID.Text, Columns: []page.Column{
			{Head: c.said("Option")}, {Head: c.said("Cost"), Align: page.Right}, {Head: c.said("Mass"), Align: page.Right}, {Head: c.said("Work"), Align: page.Right},
		}}
		for _, o := range choice.Options {
			s := c.departing(choice.ID.Text, o.ID.Text)
			if s == nil {
				continue
			}
			name := o.Title.Value
			if o.ID.Text == choice.Default.Text {
				name = c.say("%s (the plan's own)", name)
			}
			t.Rows = append(t.Rows, page.Row{Cells: cells(page.Words(name), c.costWords(s), []page.Inline{c.mass(s.Bill.Mass)}, page.Words(c.duration(s.Bill.WorkMinute)))})
		}
		pg.Blocks = append(pg.Blocks, t)
		pg.Blocks = append(pg.Blocks, c.differences(choice)...)
	}
	pg.Blocks = append(pg.Blocks, c.whatever()...)
	if ranges := c.ranges(); len(ranges.Rows) > 0 {
		pg.Blocks = append(pg.Blocks, page.Heading{Level: 2, ID: "ranges", Words: c.said("Sizes you may change")}, ranges)
	}
	return pg
}

// departing is the situation that differs from the default in one choice.
func (c *composer) departing(choice, option string) *check.Situation {
	for _, s := range c.all {
		fits := s.Case.Options[choice] == option
		for _, other := range c.plan.Choices {
			if other.ID.Text != choice {
				fits = fits && s.Case.Options[other.ID.Text] == other.Default.Text
			}
		}
		if fits {
			return s
		}
	}
	return nil
}

func (c *composer) ranges() page.Table {
	t := page.Table{ID: "values", Columns: []page.Column{
		{Head: c.said("Size")}, {Head: c.said("In this plan"), Align: page.Right}, {Head: c.said("From|lowest"), Align: page.Right}, {Head: c.said("To|highest"), Align: page.Right},
	}}
	for _, v := range c.plan.Values {
		if !v.From.Given() || !v.To.Given() {
			continue
		}
		about := v.About.Value
		if about == "" {
			about = v.ID.Text
		}
		t.Rows = append(t.Rows, page.Row{Cells: cells(page.Words(capital(about)), c.quantityWords(v.Is), c.quantityWords(v.From), c.quantityWords(v.To))})
	}
	return t
}
