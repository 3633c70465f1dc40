package compose

import (
	"math"

	"plansheaf/design/calc"
	"plansheaf/design/check"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/publish/page"
)

// calculations are the overview and a page for each calculation.
func (c *composer) calculations() []*page.Page {
	if len(c.plan.Calcs) == 0 {
		return nil
	}
	t := page.Table{ID: "calculations", Columns: []page.Column{
		{Head: c.said("Calculation")}, {Head: c.said("Results"), Wide: true}, {Head: c.said("Requirements")},
	}}
	overview := &page.Page{ID: "calculations", Title: c.say("Calculations"), Kind: page.Calculations, Summary: c.say("Why the machine is as it is: worked out anew from the plan at every publication.")}
	pages := []*page.Page{overview}
	for _, k := range c.plan.Calcs {
		s := c.running(k)
		if s == nil {
			continue
		}
		report := s.Calc(k.ID.Text)
		var results [][]page.Inline
		for _, rec := range report.Records {
			results = append(results, append(page.Words(rec.Name+" = "), c.measured(rec.Is.Nominal())...))
		}
		t.Rows = append(t.Rows, page.Row{Only: onlyOf(k.Only), Cells: cells(
			[]page.Inline{page.Link{To: calcTarget(k), Words: page.Words(k.Title.Value)}}, joined(results), page.Words(c.holding(report)),
		)})
		pages = append(pages, c.calculation(k, s, report))
	}
	overview.Blocks = []page.Block{c.paragraph("Values come from the parts and choices of this revision. A spread says how far a value may lie off; results carry the worst case of all their inputs."), t}
	return pages
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

func (c *composer) calculation(k *plan.Calc, s *check.Situation, report *calc.Report) *page.Page {
	c = c.among(k.Only.Fits)
	pg := &page.Page{ID: "calculations/" + k.ID.Text, Title: k.Title.Value, Kind: page.Calculation, Parent: "calculations", Only: onlyOf(k.Only)}
	if k.About.Given() {
		pg.Blocks = append(pg.Blocks, c.text(k.About)...)
	}
	if len(report.Givens) > 0 {
		pg.Blocks = append(pg.Blocks, page.Heading{Level: 2, ID: "given", Words: c.said("Given")}, c.givens(k, report))
	}
	pg.Blocks = append(pg.Blocks, page.Heading{Level: 2, ID: "worked", Words: c.said("Worked out")})
	for i, f := range report.Finds {
		pg.Blocks = append(pg.Blocks, c.equation(k, f, i))
	}
	if len(report.Requires) > 0 {
		pg.Blocks = append(pg.Blocks, page.Heading{Level: 2, ID: "must-hold", Words: c.said("Must hold")}, c.requirements(k, report))
	}
	if drivers := c.drivers(report); len(drivers.Rows) > 0 {
		pg.Blocks = append(pg.Blocks, page.Heading{Level: 2, ID: "drivers", Words: c.said("What drives the spread")}, drivers)
	}
	var facts []page.Fact
	if k.Source.Given() {
		facts = append(facts, page.Fact{Label: c.say("Source"), Words: c.inline(k.Source)})
	}
	for _, t := range k.Tables {
		facts = append(facts, page.Fact{Label: c.say("Table %s", t.Name.Text), Words: []page.Inline{page.Link{To: page.Target{File: t.File.Text}, Words: page.Words(c.fileTitle(t.File.Text))}}})
	}
	if relied := c.reliedOn(k); len(relied) > 0 {
		facts = append(facts, page.Fact{Label: c.say("Relied on by"), Words: relied})
	}
	if len(facts) > 0 {
		pg.Blocks = append(pg.Blocks, page.Facts{Facts: facts})
	}
	if len(s.Says) > 0 {
		pg.Summary = c.say("Worked out with %s.", s.Says[0])
	}
	return pg
}

// each prints what a calculation says under every combination that it belongs to.
func (c *composer) each(k *plan.Calc, words func(report *calc.Report) []page.Inline) []page.Inline {
	return c.vary(func(s *check.Situation) []page.Inline {
		if report := s.Calc(k.ID.Text); report != nil {
			return words(report)
		}
		return page.Words("–")
	})
}

func (c *composer) givens(k *plan.Calc, report *calc.Report) page.Table {
	t := page.Table{ID: "givens", Columns: []page.Column{
		{Head: c.said("Symbol")}, {Head: c.said("Value"), Align: page.Right}, {Head: c.said("From|origin of a value"), Wide: true},
	}}
	for i, g := range report.Givens {
		why := page.Words(g.About)
		if g.Because != "" {
			if len(why) > 0 {
				why = append(why, page.Text("; "))
			}
			why = append(why, page.Text(g.Because))
		}
		if f, ok := k.Givens[i].Is.Pick(c.all[0].Case.Options); ok && f.Given() {
			if _, literal := f.Expr.Literal(); !literal {
				if len(why) > 0 {
					why = append(why, page.Text(": "))
				}
				why = append(why, page.Verbatim(f.Expr.Source()))
			}
		}
		value := c.each(k, func(report *calc.Report) []page.Inline { return c.result(report.Givens[i]) })
		t.Rows = append(t.Rows, page.Row{Cells: cells([]page.Inline{page.Verbatim(g.Name)}, value, why)})
	}
	return t
}

func (c *composer) result(r calc.Result) []page.Inline {
	if !r.Known {
		return c.said("not known")
	}
	return c.measured(r.Value)
}

func (c *composer) equation(k *plan.Calc, f calc.Result, i int) page.Equation {
	return page.Equation{
		Name: f.Name, About: page.Words(f.About), Source: f.Source, Worked: f.Worked,
		Result: c.each(k, func(report *calc.Report) []page.Inline { return c.result(report.Finds[i]) }),
	}
}

func (c *composer) requirements(k *plan.Calc, report *calc.Report) page.Table {
	t := page.Table{ID: "requirements", Columns: []page.Column{
		{Head: c.said("Must hold")}, {Head: c.said("Values")}, {Head: c.said("Holds")}, {Head: c.said("To spare"), Align: page.Right}, {Head: c.said("Because"), Wide: true},
	}}
	for i, o := range report.Requires {
		of := func(words func(o calc.Outcome) []page.Inline) []page.Inline {
			return c.each(k, func(report *calc.Report) []page.Inline { return words(report.Requires[i]) })
		}
		t.Rows = append(t.Rows, page.Row{Cells: cells(
			[]page.Inline{page.Verbatim(o.Source)},
			of(func(o calc.Outcome) []page.Inline {
				if !o.Sides {
					return page.Words(o.Worked)
				}
				return []page.Inline{c.measure(o.Left.Nominal()), page.Text(" " + sign(o.Op) + " "), c.measure(o.Right.Nominal())}
			}),
			of(func(o calc.Outcome) []page.Inline { return page.Words(c.yesNo(o)) }),
			of(func(o calc.Outcome) []page.Inline {
				if math.IsNaN(o.Margin) {
					return nil
				}
				return page.Words(c.percent(o.Margin))
			}),
			c.inline(o.Require.Because),
		)})
	}
	return t
}

// percent prints a share with two digits: more say nothing about a margin.
func (c *composer) percent(share float64) string {
	if share != 0 {
		step := math.Pow(10, math.Floor(math.Log10(math.Abs(share)))-1)
		share = math.Round(share/step) * step
	}
	return quantity.Text(quantity.Value{SI: share, Unit: "%"}, c.system)
}

// sign is a comparison as it is printed.
func sign(op string) string {
	switch op {
	case ">=":
		return "≥"
	case "<=":
		return "≤"
	case "!=":
		return "≠"
	case "==":
		return "="
	}
	return op
}

func (c *composer) yesNo(o calc.Outcome) string {
	switch {
	case !o.Known:
		return c.say("not known")
	case o.Holds:
		return c.say("yes")
	}
	return c.say("NO")
}

// drivers lists, for each result with a spread, the input that moves it most.
func (c *composer) drivers(report *calc.Report) page.Table {
	t := page.Table{ID: "driver-list", Columns: []page.Column{
		{Head: c.said("Result")}, {Head: c.said("Input")}, {Head: c.said("Moves it by"), Align: page.Right},
	}}
	for _, f := range report.Finds {
		for _, d := range f.Drivers[:min(3, len(f.Drivers))] {
			v := f.Value.Nominal()
			v.SI = d.Reach()
			if f.Value.SI == 0 || v.SI == 0 {
				continue
			}
			share := c.percent(math.Abs(d.Reach() / f.Value.SI))
			t.Rows = append(t.Rows, page.Row{Cells: cells(
				[]page.Inline{page.Verbatim(f.Name)}, []page.Inline{page.Verbatim(d.Name)},
				[]page.Inline{c.measure(v), page.Text(" (" + share + ")")},
			)})
		}
	}
	return t
}

// reliedOn names the claims and hazards that lean on a calculation.
func (c *composer) reliedOn(k *plan.Calc) []page.Inline {
	var items [][]page.Inline
	for _, claim := range c.plan.Claims {
		for _, f := range claim.Is.All() {
			if f.Given() && namesCalc(f, k.ID.Text) {
				items = append(items, []page.Inline{page.Link{To: page.Target{Page: "index", Anchor: "promises"}, Words: c.said("the promise of %s", claim.Say.Value)}})
				break
			}
		}
	}
	for _, h := range c.plan.Hazards {
		for _, w := range h.Where {
			if w.Text == k.ID.Text {
				items = append(items, []page.Inline{page.Link{To: hazardTarget(h), Words: c.said("the hazard %s", c.kindTitle(h.Kind.Text))}})
			}
		}
	}
	for _, other := range c.plan.Calcs {
		if other != k && leansOn(other, k.ID.Text) {
			items = append(items, []page.Inline{c.linkTo(calcTarget(other), other.Title.Value)})
		}
	}
	return joined(items)
}

func namesCalc(f plan.Formula, id string) bool {
	for _, use := range f.Expr.Names() {
		if (plan.Word{Text: use.Text}).Path()[0] == id {
			return true
		}
	}
	return false
}

func leansOn(k *plan.Calc, id string) bool {
	var all []plan.Formula
	for _, g := range k.Givens {
		all = append(all, g.Is.All()...)
	}
	for _, f := range k.Finds {
		all = append(all, f.Is.All()...)
	}
	for _, q := range k.Requires {
		all = append(all, q.That.All()...)
	}
	for _, f := range all {
		if f.Given() && namesCalc(f, id) {
			return true
		}
	}
	return false
}
