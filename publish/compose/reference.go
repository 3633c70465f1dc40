package compose

import (
	"strconv"
	"strings"

	"plansheaf/design/bill"
	"plansheaf/design/check"
	"plansheaf/design/joint"
	"plansheaf/design/plan"
	"plansheaf/publish/page"
)

// within is the composer for the texts of an assembly, which name its own steps,
// joints and uses without the assembly before them; for nil, of those of none.
func (c *composer) within(a *plan.Assembly) *composer {
	inside := *c
	inside.near = a
	return &inside
}

// reference is what a name of the plan prints: a link with the title of a thing, a
// value with its unit, what a joint holds. A name that nothing answers to prints as
// it stands; reading has reported it.
func (c *composer) reference(w plan.Word) []page.Inline {
	if c.near != nil {
		if words := c.inAssembly(c.near, w.Text); words != nil {
			return words
		}
	}
	if words := c.thing(w.Text); words != nil {
		return words
	}
	head, rest, dotted := strings.Cut(w.Text, ".")
	if dotted {
		if a := c.plan.Assembly(head); a != nil {
			if words := c.inAssembly(a, rest); words != nil {
				return words
			}
		}
	}
	if words := c.valueWords(w.Text); words != nil {
		return words
	}
	return page.Words(w.Text)
}

// thing is a link to something that has a page or an anchor of its own.
func (c *composer) thing(id string) []page.Inline {
	link := func(to page.Target, title string) []page.Inline {
		return []page.Inline{c.linkTo(to, title)}
	}
	p := c.plan
	if x := p.Part(id); x != nil {
		return []page.Inline{c.partLink(x)}
	}
	if x := p.Assembly(id); x != nil {
		return link(assemblyTarget(x), x.Title.Value)
	}
	if x := p.Calc(id); x != nil {
		return link(calcTarget(x), x.Title.Value)
	}
	if x := p.Hazard(id); x != nil {
		title := c.kindTitle(x.Kind.Text)
		if x.Title.Given() {
			title = x.Title.Value
		}
		return link(hazardTarget(x), title)
	}
	if x := p.Drawing(id); x != nil {
		if of := p.Part(x.Of.Text); of != nil {
			return link(partTarget(of), x.Title.Value)
		}
	}
	if x := p.StockOf(id); x != nil {
		return link(stockTarget(x), x.Title.Value)
	}
	if x := p.Page(id); x != nil {
		return link(page.Target{Page: "pages/" + id}, x.Title.Value)
	}
	if x := p.Tool(id); x != nil {
		return page.Words(x.Title.Value)
	}
	if x := p.Choice(id); x != nil {
		return link(page.Target{Page: "choices", Anchor: id}, x.Title.Value)
	}
	return nil
}

// inAssembly is a step, a joint or something that a joint holds.
func (c *composer) inAssembly(a *plan.Assembly, rest string) []page.Inline {
	id, what, more := strings.Cut(rest, ".")
	if s := a.Step(id); s != nil && !more {
		return []page.Inline{c.linkTo(stepTarget(a, id), s.Title.Value)}
	}
	j := a.Joint(id)
	if j == nil {
		if use := a.Use(id); use != nil && !more {
			return c.useWords(use)
		}
		return nil
	}
	if !more {
		return []page.Inline{c.linkTo(assemblyTarget(a), strings.ReplaceAll(id, "_", " "))}
	}
	return c.vary(func(s *check.Situation) []page.Inline { return c.jointWords(s, a, j, what) })
}

// useWords link a use's part or assembly.
func (c *composer) useWords(use *plan.Use) []page.Inline {
	return c.vary(func(s *check.Situation) []page.Inline {
		if id, ok := use.Part.Pick(s.Case.Options); ok {
			return c.thing(id.Text)
		}
		if id, ok := use.Assembly.Pick(s.Case.Options); ok {
			return c.thing(id.Text)
		}
		return nil
	})
}

// jointWords is one thing that a joint holds: screw, washer, nut, count, torque.
func (c *composer) jointWords(s *check.Situation, a *plan.Assembly, j *plan.Joint, what string) []page.Inline {
	if !j.Only.Fits(s.Case.Options) {
		return page.Words("–")
	}
	r := s.Reckoning
	ref := func(of plan.Reference) []page.Inline {
		if id, ok := of.Pick(s.Case.Options); ok {
			if p := r.Part(id.Text); p != nil {
				return []page.Inline{c.linkTo(partTarget(p.Part), bill.Title(p))}
			}
		}
		return page.Words("–")
	}
	switch what {
	case "screw":
		return c.screwWords(s, j)
	case "count":
		return number(r.JointPlaces(a, j))
	case "nut", "into":
		return ref(j.Into)
	case "washer", "under_head":
		if len(j.UnderHead) > 0 {
			return ref(j.UnderHead[0])
		}
	case "with":
		return ref(j.With)
	case "torque":
		return c.tightness(joint.Tighten(r, a, j))
	}
	return page.Words("–")
}

// valueWords prints a named value with its spread; nil when no situation knows it.
func (c *composer) valueWords(name string) []page.Inline {
	known := false
	words := c.vary(func(s *check.Situation) []page.Inline {
		v, err := s.Reckoning.Show(name)
		if err != nil {
			return page.Words("–")
		}
		known = true
		if strings.HasSuffix(name, ".count") {
			return page.Words(strconv.Itoa(int(v.SI + 0.5)))
		}
		return c.measured(v)
	})
	if !known {
		return nil
	}
	return words
}
