package compose

import (
	"strconv"
	"strings"

	"plansheaf/design/bill"
	"plansheaf/design/check"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
	"plansheaf/publish/page"
	"plansheaf/publish/wording"
)

// measure is a value in both systems.
func (c *composer) measure(v quantity.Value) page.Inline {
	first, second := quantity.Both(v, c.system)
	return page.Measure{First: first, Second: second}
}

func (c *composer) measured(v quantity.Value) []page.Inline { return []page.Inline{c.measure(v)} }

// quantityWords prints a quantity field, by choice where it depends on one; empty
// where it is not given.
func (c *composer) quantityWords(q plan.Quantity) []page.Inline {
	if !q.Given() {
		return nil
	}
	return c.vary(func(s *check.Situation) []page.Inline {
		if v, ok := s.Reckoning.Quantity(q); ok {
			return c.measured(v)
		}
		return nil
	})
}

// mass is kilograms in words.
func (c *composer) mass(kg float64) page.Inline {
	return c.measure(quantity.Value{SI: kg, Dim: quantity.Mass})
}

// money is an amount in words, which stay on one line.
func (c *composer) money(m bill.Money) page.Inline { return page.Text(c.amount(m)) }

func (c *composer) amount(m bill.Money) string {
	return strings.ReplaceAll(m.Text(c.plan.Currency.Text), " ", "\u00a0")
}

func number(n int) []page.Inline { return page.Words(strconv.Itoa(n)) }

// duration is minutes in words: "45 min", "3 h 20 min".
func (c *composer) duration(minutes float64) string {
	n := int(minutes + 0.5)
	switch {
	case n < 60:
		return c.say("%d min", n)
	case n%60 == 0:
		return c.say("%d h", n/60)
	}
	return c.say("%d h %d min", n/60, n%60)
}

// Targets of things that have a place in the document.

func partTarget(p *plan.Part) page.Target {
	if p.Standard.Given() {
		return page.Target{Page: "parts", Anchor: p.ID.Text}
	}
	return page.Target{Page: "parts/" + p.ID.Text}
}

func assemblyTarget(a *plan.Assembly) page.Target { return page.Target{Page: "build/" + a.ID.Text} }

func stepTarget(a *plan.Assembly, step string) page.Target {
	return page.Target{Page: "build/" + a.ID.Text, Anchor: "step-" + step}
}

func jointTarget(a *plan.Assembly, j *plan.Joint) page.Target {
	return page.Target{Page: "joints/" + a.ID.Text, Anchor: j.ID.Text}
}

func calcTarget(k *plan.Calc) page.Target { return page.Target{Page: "calculations/" + k.ID.Text} }

func hazardTarget(h *plan.Hazard) page.Target {
	return page.Target{Page: "hazards", Anchor: h.ID.Text}
}

func (c *composer) partTitle(p *plan.Part) string {
	if worked := c.all[0].Reckoning.Part(p.ID.Text); worked != nil {
		return bill.Title(worked)
	}
	return p.ID.Text
}

func (c *composer) partLink(p *plan.Part) page.Inline {
	return c.linkTo(partTarget(p), c.partTitle(p))
}

// joined puts links or words into one run, separated by commas.
func joined(items [][]page.Inline) []page.Inline {
	var out []page.Inline
	for i, item := range items {
		if i > 0 {
			out = append(out, page.Text(", "))
		}
		out = append(out, item...)
	}
	return out
}

// made is the way in which a part comes to be, in words.
func made(p *reckon.Part) wording.Phrase {
	switch p.Part.Made.Text {
	case plan.Cut:
		return "cut from bar"
	case plan.Sheet:
		return "cut from sheet"
	case plan.Machined:
		return "machined"
	case plan.Turned:
		return "turned"
	case plan.Printed:
		return "printed"
	case plan.Bought:
		return "bought"
	case plan.Altered:
		return "bought and altered"
	case plan.Consumable:
		return "used up"
	}
	return "standard part"
}

// capital begins a text with a capital letter.
func capital(s string) string {
	if s == "" {
		return s
	}
	r := []rune(s)
	return strings.ToUpper(string(r[0])) + string(r[1:])
}
