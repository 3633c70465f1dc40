package compose

import (
	"math"
	"slices"

	"plansheaf/design/calc"
	"plansheaf/design/check"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/publish/notation"
	"plansheaf/publish/page"
)

func limitsOf(r *calc.Report) []calc.Outcome   { return r.Limits }
func requiresOf(r *calc.Report) []calc.Outcome { return r.Requires }

// conditions are requirements, or within what a method is valid: each with its values,
// by how much it holds and how sure that is.
func (c *composer) conditions(id string, k *plan.Calc, list []calc.Outcome, of func(*calc.Report) []calc.Outcome) []page.Block {
	if len(list) == 0 {
		return nil
	}
	head := c.said("Must hold")
	if id == "validity" {
		head = c.said("Condition")
	}
	t := page.Table{ID: id, Columns: []page.Column{
		{Head: head}, c.head("Values"), c.head("Holds"), {Head: c.said("To spare"), Align: page.Right}, {Head: c.said("Certainty"), Align: page.Right}, {Head: c.said("Because"), Wide: true},
	}}
	spared, sure, reasons := false, false, false
	for i, o := range list {
		told := func(words func(s *check.Situation, o calc.Outcome) []page.Inline) []page.Inline {
			return c.each(k, func(s *check.Situation, report *calc.Report) []page.Inline { return words(s, of(report)[i]) })
		}
		row := cells(
			told(func(_ *check.Situation, o calc.Outcome) []page.Inline { return c.condition(k, o) }),
			told(func(s *check.Situation, o calc.Outcome) []page.Inline { return c.sides(k, s, o) }),
			told(func(_ *check.Situation, o calc.Outcome) []page.Inline { return page.Words(c.yesNo(o)) }),
			told(func(_ *check.Situation, o calc.Outcome) []page.Inline { return c.toSpare(o) }),
			told(func(_ *check.Situation, o calc.Outcome) []page.Inline { return page.Words(c.certainty(o)) }),
			c.inline(o.Require.Because),
		)
		spared, sure, reasons = spared || len(row[3].Words) > 0, sure || len(row[4].Words) > 0, reasons || len(row[5].Words) > 0
		t.Rows = append(t.Rows, page.Row{Cells: row})
	}
	// A column without a word says nothing.
	for i, wanted := range []bool{spared, sure, reasons} {
		if !wanted {
			t.Columns[3+i].Head = nil
		}
	}
	return []page.Block{withoutEmpty(t)}
}

// withoutEmpty is a table without the columns that have no head.
func withoutEmpty(t page.Table) page.Table {
	for i := len(t.Columns) - 1; i >= 0; i-- {
		if len(t.Columns[i].Head) > 0 {
			continue
		}
		t.Columns = slices.Delete(t.Columns, i, i+1)
		for n := range t.Rows {
			t.Rows[n].Cells = slices.Delete(t.Rows[n].Cells, i, i+1)
		}
	}
	return t
}

func (c *composer) condition(k *plan.Calc, o calc.Outcome) []page.Inline {
	f, ok := o.Require.That.Pick(c.all[0].Case.Options)
	if !ok || !f.Given() {
		return page.Words(o.Source)
	}
	return []page.Inline{page.Formula{Is: c.setting(k).Of(f.Expr.Root())}}
}

// sides are both sides of a comparison as values, or the whole condition with values
// put in.
func (c *composer) sides(k *plan.Calc, s *check.Situation, o calc.Outcome) []page.Inline {
	if o.Sides {
		return []page.Inline{c.measure(o.Left.Nominal()), page.Text(" " + sign(o.Op) + " "), c.measure(o.Right.Nominal())}
	}
	f, ok := o.Require.That.Pick(s.Case.Options)
	if !ok || !f.Given() {
		return nil
	}
	set := c.setting(k).With(f.Expr.Root(), f.Expr.Leaves(s.Reckoning.CalcScope(k)))
	return []page.Inline{page.Formula{Is: notation.Linear(set)}}
}

func (c *composer) toSpare(o calc.Outcome) []page.Inline {
	if !o.Known || math.IsNaN(o.Margin) {
		return nil
	}
	return page.Words(c.percent(o.Margin))
}

// certainty says how sure it is that a condition holds.
func (c *composer) certainty(o calc.Outcome) string {
	const nearly = 0.999 // more figures would be claimed than known
	share := func(x float64) string { return quantity.Text(quantity.Value{SI: x, Unit: "%"}, c.system) }
	switch {
	case !o.Known || o.By == calc.ByNothing, o.Sides && !o.Left.HasSpread() && !o.Right.HasSpread():
		return ""
	case o.By == calc.ByWorstCase && o.Holds:
		return c.say("in the worst case too")
	case o.By == calc.ByWorstCase:
		return c.say("nowhere within the limits")
	case o.Certainty > nearly:
		return c.say("over %s", share(nearly))
	case o.Certainty < 1-nearly:
		return c.say("under %s", share(1-nearly))
	}
	return share(math.Round(o.Certainty*1000) / 1000)
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
