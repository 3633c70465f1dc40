package compose

import (
	"slices"

	"plansheaf/design/formula"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/ready"
	"plansheaf/publish/notation"
	"plansheaf/publish/page"
)

func readyTarget(name string) page.Target { return page.Target{Page: "calculations/ready/" + name} }

// method says what a calculation is made from; nothing for one written out in full.
func (c *composer) method(k *plan.Calc) []page.Inline {
	if !k.From.Given() {
		return nil
	}
	if other := c.plan.Calc(k.From.Text); other != nil && other != k {
		return c.told("Made from the calculation %s.", []page.Inline{c.linkTo(calcTarget(other), other.Title.Value)})
	}
	if r, found := c.readyOf(k); found {
		title := r.In(c.plan.Language.Text).Title
		return c.told("Made from the ready calculation %s.", []page.Inline{page.Link{To: readyTarget(r.Name), Words: page.Words(title)}})
	}
	return nil
}

// readyOf is the ready calculation that one of the plan is made from; another of the
// plan's own with its name goes before it.
func (c *composer) readyOf(k *plan.Calc) (*ready.Calc, bool) {
	if other := c.plan.Calc(k.From.Text); other != nil && other != k {
		return nil, false
	}
	return ready.Named(k.From.Text)
}

// readyPages are the pages of the ready calculations that the plan's are made from, by
// name.
func (c *composer) readyPages() []*page.Page {
	users := map[string][]*plan.Calc{}
	var names []string
	for _, k := range c.plan.Calcs {
		if _, found := c.readyOf(k); !found || c.running(k) == nil {
			continue
		}
		if users[k.From.Text] == nil {
			names = append(names, k.From.Text)
		}
		users[k.From.Text] = append(users[k.From.Text], k)
	}
	slices.Sort(names)
	var pages []*page.Page
	for _, name := range names {
		r, _ := ready.Named(name)
		pages = append(pages, c.readyPage(r.In(c.plan.Language.Text), users[name]))
	}
	return pages
}

// readyPage shows a ready calculation by itself.
func (c *composer) readyPage(r *ready.Calc, users []*plan.Calc) *page.Page {
	pg := &page.Page{ID: readyTarget(r.Name).Page, Title: r.Title, Kind: page.Calculation, Parent: "calculations", Summary: c.say("A ready calculation: the method, before any values of this machine.")}
	section := func(id string, head []page.Inline, blocks ...page.Block) {
		if len(blocks) > 0 {
			pg.Blocks = append(append(pg.Blocks, page.Heading{Level: 2, ID: id, Words: head}), blocks...)
		}
	}
	if r.About != "" {
		pg.Blocks = append(pg.Blocks, page.Paragraph{Words: page.Words(r.About)})
	}
	s := c.setting(nil)
	s.Symbols = symbolsOf(r)
	var assumed, used [][]page.Inline
	for _, say := range r.Assumes {
		assumed = append(assumed, page.Words(say))
	}
	for _, k := range users {
		used = append(used, []page.Inline{c.linkTo(calcTarget(k), k.Title.Value)})
	}
	section("assumed", c.said("Assumed"), bullets(assumed)...)
	section("symbols", c.said("Inputs|of a ready calculation"), c.readyInputs(r, s))
	var equations []page.Block
	for _, f := range r.Finds {
		about := f.About
		if about == "" {
			about = spoken(f.Name)
		}
		equations = append(equations, page.Equation{ID: "result-" + f.Name, Name: s.Name(f.Name), Is: s.Of(f.Is.Root()), About: readyAbout(about, f.Unit)})
	}
	section("formulas", c.said("Formulas"), equations...)
	if len(r.Limits) > 0 {
		section("valid", c.said("Valid while"), c.readyLimits(r, s))
	}
	var tables []page.Block
	for _, t := range r.Tables {
		if t.Data != nil && len(t.Data.Columns) > 0 {
			tables = append(tables, c.lookedUp(nil, t, nil))
		}
	}
	section("tables", c.said("Tables"), tables...)
	section("source", c.said("Source"), page.Paragraph{Words: page.Words(r.Source)})
	section("used", c.said("Used by"), bullets(used)...)
	return pg
}

func readyAbout(about, unit string) []page.Inline {
	if unit == "" {
		return page.Words(capital(about))
	}
	return page.Words(capital(about) + " [" + quantity.UnitText(unit) + "]")
}

func (c *composer) readyInputs(r *ready.Calc, s notation.Setting) page.Table {
	t := page.Table{ID: "inputs", Columns: []page.Column{c.head("Symbol"), c.head("Name|of an input"), c.head("Unit|of a value"), {Head: c.said("Without a value|default of an input"), Align: page.Right}, {Head: c.said("Meaning"), Wide: true}}}
	for _, in := range r.Inputs {
		t.Rows = append(t.Rows, page.Row{ID: "input-" + in.Name, Cells: cells(
			[]page.Inline{page.Formula{Is: s.Name(in.Name)}}, page.Words(in.Name), page.Words(quantity.UnitText(in.Unit)),
			c.readyDefault(in.Default, s), page.Words(in.About),
		)})
	}
	return t
}

func (c *composer) readyDefault(e *formula.Expr, s notation.Setting) []page.Inline {
	if e == nil {
		return nil
	}
	if v, literal := e.Literal(); literal {
		return c.measured(v)
	}
	return []page.Inline{page.Formula{Is: s.Of(e.Root())}}
}

func (c *composer) readyLimits(r *ready.Calc, s notation.Setting) page.Block {
	t := page.Table{ID: "validity", Columns: []page.Column{c.head("Condition"), {Head: c.said("Because"), Wide: true}}}
	reasons := false
	for _, l := range r.Limits {
		reasons = reasons || l.Because != ""
		t.Rows = append(t.Rows, page.Row{Cells: cells([]page.Inline{page.Formula{Is: s.Of(l.That.Root())}}, page.Words(l.Because))})
	}
	if !reasons {
		t.Columns[1].Head = nil
	}
	return withoutEmpty(t)
}
