package compose

import (
	"plansheaf/design/calc"
	"plansheaf/design/check"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/ready"
	"plansheaf/publish/notation"
	"plansheaf/publish/page"
)

// setting is how the formulas of a calculation are set: with the symbols of handbooks
// where it is made from a ready one.
func (c *composer) setting(k *plan.Calc) notation.Setting {
	s := notation.Setting{System: c.system, Tongue: notation.Tongue{
		And: c.say("and|in a formula"), Or: c.say("or|in a formula"), Not: c.say("not|in a formula"),
		If: c.say("if|in a formula"), Otherwise: c.say("otherwise|in a formula"), With: c.say("with|in a formula"),
	}}
	if k == nil {
		return s
	}
	if r, found := c.readyOf(k); found {
		s.Symbols = symbolsOf(r)
	}
	return s
}

// symbolsOf are the symbols of a ready calculation, by name.
func symbolsOf(r *ready.Calc) map[string]string {
	symbols := map[string]string{}
	for _, in := range r.Inputs {
		symbols[in.Name] = in.Symbol
	}
	for _, f := range r.Finds {
		symbols[f.Name] = f.Symbol
	}
	return symbols
}

// workedOut are the helper functions and the results of a calculation, each with its
// formula.
func (c *composer) workedOut(k *plan.Calc, report *calc.Report) []page.Block {
	var blocks []page.Block
	spread := false
	for _, f := range report.Finds {
		spread = spread || f.Known && f.Value.HasSpread()
	}
	if spread {
		blocks = append(blocks, c.paragraph("The worst case has all inputs at their worst ends at once. Statistically each input counts as normal with its limits at three standard deviations, and so does the result."))
	}
	for _, d := range k.Defines {
		if b, ok := c.definition(k, d); ok {
			blocks = append(blocks, b)
		}
	}
	for i, f := range report.Finds {
		blocks = append(blocks, c.equation(k, report, f, i))
	}
	return blocks
}

// definition is a helper function as a formula.
func (c *composer) definition(k *plan.Calc, d plan.Definition) (page.Equation, bool) {
	f, ok := d.Is.Pick(c.all[0].Case.Options)
	if !ok || !f.Given() {
		return page.Equation{}, false
	}
	s := c.setting(k)
	var names []string
	for _, p := range d.Parameters {
		names = append(names, p.Text)
	}
	return page.Equation{ID: "define-" + d.Name.Text, About: c.said("helper function"), Name: s.Function(d.Name.Text, names), Is: s.Of(f.Expr.Root())}, true
}

// equation is a result: its formula, with values put in, and what comes out.
func (c *composer) equation(k *plan.Calc, report *calc.Report, f calc.Result, i int) page.Equation {
	s := c.setting(k)
	e := page.Equation{ID: "result-" + f.Name, Name: s.Name(f.Name), Worked: c.putIn(k, i), About: page.Words(f.About)}
	if symbol, found := s.Symbols[f.Name]; found && symbol != "" && len(e.About) == 0 {
		e.About = page.Words(spoken(f.Name))
	}
	if f.Formula.Given() {
		e.Is = s.Of(f.Formula.Expr.Root())
	}
	e.Result = c.each(k, func(_ *check.Situation, report *calc.Report) []page.Inline {
		r := report.Finds[i]
		if !r.Known {
			return c.said("not known")
		}
		return c.measured(r.Value.Nominal())
	})
	e.Facts = c.spreads(k, i)
	for n, rec := range report.Records {
		if rec.Name == f.Name {
			e.Facts = append(e.Facts, page.Fact{Label: c.say("On record"), Words: c.each(k, func(_ *check.Situation, report *calc.Report) []page.Inline {
				return c.record(report.Records[n])
			})})
		}
	}
	return e
}

// putIn is the formula of the i-th result with values put in, for each combination of
// choices that makes a difference; nothing where it would say what the formula says.
func (c *composer) putIn(k *plan.Calc, i int) []page.Worked {
	s := c.setting(k)
	words := c.each(k, func(sit *check.Situation, report *calc.Report) []page.Inline {
		f := report.Finds[i].Formula
		if !f.Given() || !report.Finds[i].Known {
			return nil
		}
		root := f.Expr.Root()
		leaves := f.Expr.Leaves(sit.Reckoning.CalcScope(k))
		set, plain := s.With(root, leaves), s.Of(root)
		// A value alone is the result, which stands below.
		if _, alone := leaves[root]; alone || notation.Words(set) == notation.Words(plain) {
			return nil
		}
		return []page.Inline{page.Formula{Is: set}}
	})
	var out []page.Worked
	for _, w := range words {
		switch w := w.(type) {
		case page.Formula:
			out = append(out, page.Worked{Is: w.Is})
		case page.Varies:
			for _, v := range w.Variants {
				if len(v.Words) == 1 {
					if f, ok := v.Words[0].(page.Formula); ok {
						out = append(out, page.Worked{When: v.When, Is: f.Is})
					}
				}
			}
		}
	}
	return out
}

// spreads are how far the i-th result may lie off: at worst, statistically, and as
// drawn at random where that differs.
func (c *composer) spreads(k *plan.Calc, i int) []page.Fact {
	var facts []page.Fact
	fact := func(label string, words func(r calc.Result) []page.Inline) {
		said := c.each(k, func(_ *check.Situation, report *calc.Report) []page.Inline {
			r := report.Finds[i]
			if !r.Known || !r.Value.HasSpread() {
				return nil
			}
			return words(r)
		})
		if len(said) > 0 {
			facts = append(facts, page.Fact{Label: label, Words: said})
		}
	}
	fact(c.say("Worst case"), func(r calc.Result) []page.Inline { return c.spread(r.Value) })
	fact(c.say("Statistically"), func(r calc.Result) []page.Inline { return c.spread(r.Statistical) })
	fact(c.say("Drawn at random"), func(r calc.Result) []page.Inline {
		if r.Sampled == nil {
			return nil
		}
		words := c.measured(r.Sampled.Value)
		if r.Sampled.Lost > 0 {
			words = append(words, page.Text("; "+c.say("%d of %d draws have no result", r.Sampled.Lost, r.Sampled.Draws)))
		}
		return words
	})
	return facts
}

// spread is how far a value may lie off, in both systems.
func (c *composer) spread(v quantity.Value) []page.Inline {
	if !v.HasSpread() {
		return nil
	}
	m := page.Measure{First: quantity.SpreadText(v, c.system)}
	if _, second := quantity.Both(v, c.system); second != "" {
		m.Second = quantity.SpreadText(v, c.system.Other())
	}
	return []page.Inline{m}
}

// record is what a result was recorded as, and whether it still is.
func (c *composer) record(r calc.Record) []page.Inline {
	if !r.Known {
		return c.said("not known")
	}
	words := c.measured(r.Was)
	if r.Holds {
		return append(words, page.Text(": "+c.say("holds|a record")))
	}
	return append(words, page.Text(": "+c.say("no longer holds|a record")))
}
