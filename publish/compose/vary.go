package compose

import (
	"fmt"
	"slices"
	"strconv"

	"plansheaf/design/check"
	"plansheaf/design/plan"
	"plansheaf/publish/page"
)

// among is the composer for what exists only under some options, so that its words
// do not tell of others; of all combinations where it exists under none. What fits
// must be told choice by choice, as an only is.
func (c *composer) among(fits func(plan.Selection) bool) *composer {
	some := *c
	some.all = nil
	for _, s := range c.all {
		if fits(s.Case.Options) {
			some.all = append(some.all, s)
		}
	}
	if len(some.all) == 0 {
		return c
	}
	return &some
}

// under is among for a page's only.
func (c *composer) under(only page.Only) *composer {
	return c.among(func(options plan.Selection) bool { return only.Fits(page.Combination(options)) })
}

// vary is text that may differ from one combination of choices to the next: plain
// where it does not, page.Varies where it does.
func (c *composer) vary(words func(s *check.Situation) []page.Inline) []page.Inline {
	if len(c.all) == 1 {
		return words(c.all[0])
	}
	texts := make([][]page.Inline, len(c.all))
	keys := make([]string, len(c.all)) // the number of the first combination with the same text
	for i, s := range c.all {
		texts[i] = words(s)
		same := slices.IndexFunc(texts[:i], func(first []page.Inline) bool { return page.Same(first, texts[i]) })
		if same < 0 {
			same = i
		}
		keys[i] = strconv.Itoa(same)
	}
	on := c.dependsOn(keys)
	if len(on) == 0 {
		return texts[0]
	}
	var v page.Varies
	seen := map[string]bool{}
	for i, s := range c.all {
		when := conditions(on, s)
		if k := fmt.Sprint(when); !seen[k] {
			seen[k] = true
			v.Variants = append(v.Variants, page.Variant{When: when, Words: texts[i]})
		}
	}
	return []page.Inline{v}
}

// only is when something exists, told by a question to each combination; exists
// is false when it never does. Options are told apart choice by choice: what exists
// under one option of this or another of that counts as always there.
func (c *composer) only(there func(s *check.Situation) bool) (only page.Only, exists bool) {
	return c.onlyAt(func(i int) bool { return there(c.all[i]) })
}

// onlyAt is only, each combination told by its place among the composer's.
func (c *composer) onlyAt(there func(i int) bool) (only page.Only, exists bool) {
	keys := make([]string, len(c.all))
	for i := range c.all {
		is := there(i)
		keys[i] = strconv.FormatBool(is)
		exists = exists || is
	}
	for _, choice := range c.dependsOn(keys) {
		cond := page.Condition{Choice: choice.ID.Text}
		for _, o := range choice.Options {
			for i, s := range c.all {
				if s.Case.Options[choice.ID.Text] == o.ID.Text && keys[i] == "true" {
					cond.Options = append(cond.Options, o.ID.Text)
					break
				}
			}
		}
		if len(cond.Options) < len(choice.Options) {
			only = append(only, cond)
		}
	}
	return only, exists
}

// Only is when something exists, told by a question to each combination of choices;
// exists is false when it never does.
func Only(w *check.Work, there func(s *check.Situation) bool) (only page.Only, exists bool) {
	return newComposer(Input{Work: w}).only(there)
}

// dependsOn lists the choices that make a difference to what the keys, one for
// each combination, tell apart.
func (c *composer) dependsOn(keys []string) []*plan.Choice {
	if !slices.ContainsFunc(keys, func(k string) bool { return k != keys[0] }) {
		return nil
	}
	var on []*plan.Choice
	for _, choice := range c.plan.Choices {
		if c.matters(choice, keys) {
			on = append(on, choice)
		}
	}
	return on
}

// matters reports whether two combinations that differ in this choice alone have
// different keys.
func (c *composer) matters(choice *plan.Choice, keys []string) bool {
	rest := map[string]string{}
	for i, s := range c.all {
		others := ""
		for _, o := range c.plan.Choices {
			if o != choice {
				others += o.ID.Text + "=" + s.Case.Options[o.ID.Text] + ";"
			}
		}
		if first, seen := rest[others]; seen && first != keys[i] {
			return true
		}
		rest[others] = keys[i]
	}
	return false
}

func conditions(on []*plan.Choice, s *check.Situation) page.Only {
	var only page.Only
	for _, choice := range on {
		only = append(only, page.Condition{Choice: choice.ID.Text, Options: []string{s.Case.Options[choice.ID.Text]}})
	}
	return only
}

// onlyOf is the page's form of a plan's only.
func onlyOf(o plan.Only) page.Only {
	var only page.Only
	for _, cond := range o.Conditions {
		one := page.Condition{Choice: cond.Choice.Text}
		for _, w := range cond.Options {
			one.Options = append(one.Options, w.Text)
		}
		only = append(only, one)
	}
	return only
}
