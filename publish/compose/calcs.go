package compose

import (
	"math"
	"slices"

	"plansheaf/design/calc"
	"plansheaf/design/check"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/publish/page"
)

// calculations are the overview, a page for each calculation and one for each ready
// calculation that any is made from.
func (c *composer) calculations() []*page.Page {
	if len(c.plan.Calcs) == 0 {
		return nil
	}
	t := page.Table{ID: "calculations", Columns: []page.Column{c.head("Calculation"), {Head: c.said("Results"), Wide: true}, c.head("Requirements")}}
	overview := &page.Page{ID: "calculations", Title: c.say("Calculations"), Kind: page.Calculations, Summary: c.say("Why the machine is as it is: worked out anew from the plan at every publication.")}
	pages := []*page.Page{overview}
	for _, k := range c.plan.Calcs {
		s := c.running(k)
		if s == nil {
			continue
		}
		report := s.Calc(k.ID.Text)
		t.Rows = append(t.Rows, page.Row{Only: onlyOf(k.Only), Cells: cells(
			[]page.Inline{page.Link{To: calcTarget(k), Words: page.Words(k.Title.Value)}}, c.headline(k, report), page.Words(c.holding(report)),
		)})
		pages = append(pages, c.calculation(k, s, report))
	}
	overview.Blocks = []page.Block{c.paragraph("Values come from the parts and choices of this revision. A spread says how far a value may lie off; results carry the worst case of all their inputs."), t}
	return append(pages, c.readyPages()...)
}

// headline are the results that a calculation is there for: those on record, else the
// last one.
func (c *composer) headline(k *plan.Calc, report *calc.Report) []page.Inline {
	var results [][]page.Inline
	result := func(name string, v quantity.Value) {
		results = append(results, []page.Inline{page.Formula{Is: c.setting(k).Name(name)}, page.Text(" = "), c.measure(v.Nominal())})
	}
	for _, rec := range report.Records {
		if rec.Known {
			result(rec.Name, rec.Is)
		}
	}
	if n := len(report.Finds); len(results) == 0 && n > 0 && report.Finds[n-1].Known {
		result(report.Finds[n-1].Name, report.Finds[n-1].Value)
	}
	return joined(results)
}

// running is the first situation that a calculation belongs to.
func (c *composer) running(k *plan.Calc) *check.Situation {
	for _, s := range c.all {
		if s.Calc(k.ID.Text) != nil {
			return s
		}
	}
	return nil
}

func (c *composer) holding(report *calc.Report) string {
	holds := 0
	for _, o := range report.Requires {
		if o.Known && o.Holds {
			holds++
		}
	}
	if n := len(report.Requires); n > 0 {
		return c.say("%d of %d hold", holds, n)
	}
	return c.say("none|requirements")
}

// calculation is a calculation's page, in the order in which one would check it by hand.
func (c *composer) calculation(k *plan.Calc, s *check.Situation, report *calc.Report) *page.Page {
	c = c.among(k.Only.Fits)
	pg := &page.Page{ID: "calculations/" + k.ID.Text, Title: k.Title.Value, Kind: page.Calculation, Parent: "calculations", Only: onlyOf(k.Only)}
	if len(s.Says) > 0 {
		pg.Summary = c.say("Worked out with %s.", s.Says[0])
	}
	section := func(id string, head []page.Inline, blocks ...page.Block) {
		if len(blocks) > 0 {
			pg.Blocks = append(append(pg.Blocks, page.Heading{Level: 2, ID: id, Words: head}), blocks...)
		}
	}
	if k.About.Given() {
		pg.Blocks = append(pg.Blocks, c.text(k.About)...)
	}
	if method := c.method(k); len(method) > 0 {
		pg.Blocks = append(pg.Blocks, page.Paragraph{Words: method})
	}
	section("chain", c.said("Tolerance chain"), c.chains(k)...)
	section("assumed", c.said("Assumed"), c.assumptions(k)...)
	section("given", c.said("Given"), c.givens(k, report)...)
	section("worked", c.said("Worked out"), c.workedOut(k, report)...)
	section("valid", c.said("Valid while"), c.conditions("validity", k, report.Limits, limitsOf)...)
	section("must-hold", c.said("Must hold"), c.conditions("requirements", k, report.Requires, requiresOf)...)
	section("drivers", c.said("What drives the spread"), c.drivers(k, report)...)
	section("graphs", c.said("Graphs"), c.graphs(k, s, report)...)
	section("tables", c.said("Tables"), c.lookups(k, s, report)...)
	if k.Source.Given() {
		section("source", c.said("Source"), page.Paragraph{Words: c.inline(k.Source)})
	}
	section("relied-on", c.said("Relied on by"), c.reliedOn(k)...)
	return pg
}

// each prints what a calculation says under every combination that it belongs to.
func (c *composer) each(k *plan.Calc, words func(s *check.Situation, report *calc.Report) []page.Inline) []page.Inline {
	return c.vary(func(s *check.Situation) []page.Inline {
		if report := s.Calc(k.ID.Text); report != nil {
			return words(s, report)
		}
		return page.Words("–")
	})
}

func (c *composer) assumptions(k *plan.Calc) []page.Block {
	var items [][]page.Inline
	for _, say := range k.Assumes {
		items = append(items, c.inline(say))
	}
	return bullets(items)
}

// bullets are runs of words as a list; nothing for none.
func bullets(items [][]page.Inline) []page.Block {
	var list page.List
	for _, words := range items {
		list.Items = append(list.Items, page.Item{Blocks: []page.Block{page.Paragraph{Words: words}}})
	}
	if len(list.Items) == 0 {
		return nil
	}
	return []page.Block{list}
}

// givens are the inputs with their values and where those come from.
func (c *composer) givens(k *plan.Calc, report *calc.Report) []page.Block {
	if len(report.Givens) == 0 {
		return nil
	}
	about := slices.ContainsFunc(report.Givens, func(g calc.Result) bool { return g.About != "" })
	t := page.Table{ID: "givens", Columns: []page.Column{c.head("Symbol")}}
	if about {
		t.Columns = append(t.Columns, c.head("Meaning"))
	}
	t.Columns = append(t.Columns, page.Column{Head: c.said("Value"), Align: page.Right}, page.Column{Head: c.said("From|origin of a value"), Wide: true})
	for i, g := range report.Givens {
		value := c.each(k, func(_ *check.Situation, report *calc.Report) []page.Inline { return c.result(report.Givens[i]) })
		row := [][]page.Inline{{page.Formula{Is: c.setting(k).Name(g.Name)}}}
		if about {
			row = append(row, page.Words(g.About))
		}
		t.Rows = append(t.Rows, page.Row{ID: "given-" + g.Name, Cells: cells(append(row, value, c.origin(k, i, g))...)})
	}
	return []page.Block{t}
}

// origin says where an input comes from: the formula that gives it, the things that it
// names, and the author's reason.
func (c *composer) origin(k *plan.Calc, i int, g calc.Result) []page.Inline {
	var parts [][]page.Inline
	formulas := c.each(k, func(_ *check.Situation, report *calc.Report) []page.Inline {
		f := report.Givens[i].Formula
		if !f.Given() {
			return nil
		}
		if _, literal := f.Expr.Literal(); literal {
			return nil
		}
		words := []page.Inline{page.Formula{Is: c.setting(k).Of(f.Expr.Root())}}
		if owners := c.owners(k, f); len(owners) > 0 {
			words = append(append(words, page.Text(" (")), append(owners, page.Text(")"))...)
		}
		return words
	})
	if len(formulas) > 0 {
		parts = append(parts, formulas)
	}
	if g.Because != "" {
		parts = append(parts, page.Words(g.Because))
	}
	var words []page.Inline
	for n, part := range parts {
		if n > 0 {
			words = append(words, page.Text("; "))
		}
		words = append(words, part...)
	}
	return words
}

// owners are links to the things whose properties a formula names.
func (c *composer) owners(k *plan.Calc, f plan.Formula) []page.Inline {
	var links [][]page.Inline
	seen := map[string]bool{k.ID.Text: true}
	for _, use := range f.Expr.Names() {
		path := (plan.Word{Text: use.Text}).Path()
		if len(path) < 2 || seen[path[0]] {
			continue
		}
		seen[path[0]] = true
		if words := c.thing(path[0]); len(words) > 0 {
			links = append(links, words)
		}
	}
	return joined(links)
}

func (c *composer) result(r calc.Result) []page.Inline {
	if !r.Known {
		return c.said("not known")
	}
	return c.measured(r.Value)
}

// percent prints a share with two digits: more say nothing about a margin.
func (c *composer) percent(share float64) string {
	if math.Abs(share) < 1e-6 {
		share = 0 // what is left of rounding
	}
	if share != 0 {
		step := math.Pow(10, math.Floor(math.Log10(math.Abs(share)))-1)
		share = math.Round(share/step) * step
	}
	return quantity.Text(quantity.Value{SI: share, Unit: "%"}, c.system)
}
