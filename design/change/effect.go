package change

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"plansheaf/design/bill"
	"plansheaf/design/finding"
	"plansheaf/design/quantity"
)

const minus = "−"

func cutSign(text, sign string) (rest string, found bool) { return strings.CutPrefix(text, sign) }

// effects works out what follows from the changes.
func (m *matching) effects() Effects {
	var e Effects
	for _, both := range m.shared() {
		e.Figures = append(e.Figures, m.figures(both)...)
		e.Counts = append(e.Counts, m.counts(both)...)
	}
	e.Counts = slices.DeleteFunc(e.Counts, func(n Count) bool {
		// What holds for the plan's own choices need not be said again for others.
		return n.Choices != "" && slices.ContainsFunc(e.Counts, func(own Count) bool {
			return own.Choices == "" && own.ID == n.ID && own.Was == n.Was && own.New-own.Old == n.New-n.Old
		})
	})
	e.Figures = slices.DeleteFunc(e.Figures, func(f Figure) bool {
		return f.Choices != "" && f.More != "" && slices.ContainsFunc(e.Figures, func(own Figure) bool {
			return own.Choices == "" && own.What == f.What && own.More == f.More
		})
	})
	e.Purchases = m.purchases()
	e.Cuts = m.cuts()
	e.Margins = m.margins()
	was, is := tools(m.old), tools(m.new)
	for _, tool := range is {
		if !slices.Contains(was, tool) {
			e.Gained = append(e.Gained, tool)
		}
	}
	for _, tool := range was {
		if !slices.Contains(is, tool) {
			e.Lost = append(e.Lost, tool)
		}
	}
	return e
}

func (e *Effects) settle() {
	slices.SortStableFunc(e.Figures, func(a, b Figure) int {
		return cmp.Or(strings.Compare(a.Choices, b.Choices), strings.Compare(a.What, b.What))
	})
	slices.SortStableFunc(e.Counts, func(a, b Count) int {
		return cmp.Or(strings.Compare(a.Choices, b.Choices), strings.Compare(a.ID, b.ID), strings.Compare(a.Was, b.Was))
	})
	slices.SortStableFunc(e.Purchases, func(a, b Purchase) int {
		return cmp.Or(strings.Compare(a.ID, b.ID), strings.Compare(a.Was, b.Was), strings.Compare(a.Size, b.Size))
	})
	slices.SortStableFunc(e.Cuts, func(a, b Cut) int { return strings.Compare(a.Stock, b.Stock) })
	slices.SortStableFunc(e.Margins, func(a, b Margin) int {
		return cmp.Or(strings.Compare(a.Of, b.Of), strings.Compare(a.That, b.That), strings.Compare(a.Had, b.Had))
	})
}

// A pairing is one way of building the machine that both revisions know.
type pairing struct {
	choices  string // in the old names and the new ones; "" for the plan's own
	old, new *situation
}

// shared are the ways of building that both revisions know: the plans' own, and those
// that depart from it by one option that both have.
func (m *matching) shared() []pairing {
	list := []pairing{{"", m.old.own, m.new.own}}
	for _, d := range m.old.departures {
		if d.end != "" {
			continue
		}
		choice, option := m.names.id(OfChoice, d.of), m.names.option(d.of, d.option)
		for _, other := range m.new.departures {
			if other.of == choice && other.option == option {
				says := min(d.of+": "+d.option, choice+": "+option) // the same both ways
				list = append(list, pairing{says, d.s, other.s})
			}
		}
	}
	return list
}

// figures are the whole machine's cost, mass and time where they differ.
func (m *matching) figures(both pairing) []Figure {
	was, is := both.old.Bill, both.new.Bill
	var out []Figure
	if was.Cost != is.Cost {
		before, after := m.old.plan.Currency.Text, m.new.plan.Currency.Text
		f := Figure{What: "cost", Choices: both.choices, Old: was.Cost.Text(before), New: is.Cost.Text(after)}
		if before == after {
			f.More = signed((is.Cost - was.Cost).Text(after), is.Cost < was.Cost)
		}
		out = append(out, f)
	}
	number := func(what string, old, new float64, dim quantity.Dimension, unit string) {
		if math.Abs(new-old) <= 1e-9*max(math.Abs(old), math.Abs(new)) {
			return
		}
		value := func(x float64) quantity.Value { return quantity.Value{SI: x, Dim: dim, Unit: unit} }
		out = append(out, Figure{
			What: what, Choices: both.choices, Old: m.old.text(value(old)), New: m.new.text(value(new)),
			More: signed(m.new.text(value(math.Abs(new-old))), new < old),
		})
	}
	number("mass", was.Mass, is.Mass, quantity.Mass, "")
	number("time", was.WorkMinute*60, is.WorkMinute*60, quantity.Time, "min")
	return out
}

// signed puts a difference's sign before its size.
func signed(text string, less bool) string {
	text = strings.TrimLeft(text, "-"+minus)
	if less {
		return minus + text
	}
	return "+" + text
}

// counts are the parts of which another number is taken.
func (m *matching) counts(both pairing) []Count {
	count := func(b *bill.Bill, id string) int {
		if l := b.Line(id); l != nil {
			return l.Count
		}
		return 0
	}
	var out []Count
	met := map[string]bool{}
	for _, p := range m.old.plan.Parts {
		id := m.names.id(OfPart, p.ID.Text)
		other := m.new.plan.Part(id)
		n := Count{ID: id, Title: titleOf(m.old, p), Choices: both.choices, Old: count(both.old.Bill, p.ID.Text)}
		if other == nil {
			n.ID = p.ID.Text
		} else {
			met[id] = true
			n.New = count(both.new.Bill, id)
			n.Title, n.Had = titled(titleOf(m.new, other), n.Title)
			if id != p.ID.Text {
				n.Was = p.ID.Text
			}
		}
		if n.Old != n.New {
			out = append(out, n)
		}
	}
	for _, p := range m.new.plan.Parts {
		if n := count(both.new.Bill, p.ID.Text); n > 0 && !met[p.ID.Text] {
			out = append(out, Count{ID: p.ID.Text, Title: titleOf(m.new, p), Choices: both.choices, New: n})
		}
	}
	return out
}

// titled are a title and the one before it, where that is another one.
func titled(title, was string) (now, had string) {
	if title == was {
		return title, ""
	}
	return title, was
}

// purchases are what is bought in another number of packs.
func (m *matching) purchases() []Purchase {
	type key struct{ id, size string }
	name := func(id string) string {
		if m.old.plan.Part(id) != nil {
			return m.names.id(OfPart, id)
		}
		return m.names.id(OfStock, id)
	}
	met := map[key]*Purchase{}
	var order []key
	for _, p := range m.old.own.Bill.Purchases {
		k := key{name(p.ID), p.Size}
		if met[k] == nil {
			met[k] = &Purchase{ID: k.id, Title: p.Title, Size: p.Size}
			if p.ID != k.id {
				met[k].Was = p.ID
			}
			order = append(order, k)
		}
		met[k].Old += p.Packs
	}
	for _, p := range m.new.own.Bill.Purchases {
		k := key{p.ID, p.Size}
		if met[k] == nil {
			met[k] = &Purchase{ID: p.ID, Title: p.Title, Size: p.Size}
			order = append(order, k)
		} else if met[k].New == 0 {
			met[k].Title, met[k].Had = titled(p.Title, met[k].Title)
		}
		met[k].New += p.Packs
	}
	var out []Purchase
	for _, k := range order {
		p := *met[k]
		if p.New == 0 && p.Was != "" {
			p.ID, p.Was = p.Was, "" // nothing is bought of it under its new name
		}
		if p.Old != p.New {
			out = append(out, p)
		}
	}
	return out
}

// cuts are the cut plans that differ in their pieces or in what is taken.
func (m *matching) cuts() []Cut {
	met := map[string]*Cut{}
	var order []string
	for _, c := range m.old.own.Bill.Cuts {
		id := m.names.id(OfStock, c.Stock.ID.Text)
		met[id] = &Cut{Stock: id, Title: plainly(c.Stock.Title.Value), Old: m.old.cutting(c)}
		if id != c.Stock.ID.Text {
			met[id].Was = c.Stock.ID.Text
		}
		order = append(order, id)
	}
	for _, c := range m.new.own.Bill.Cuts {
		id := c.Stock.ID.Text
		if met[id] == nil {
			met[id] = &Cut{Stock: id, Title: plainly(c.Stock.Title.Value)}
			order = append(order, id)
		} else {
			met[id].Title, met[id].Had = titled(plainly(c.Stock.Title.Value), met[id].Title)
		}
		met[id].New = m.new.cutting(c)
	}
	var out []Cut
	for _, id := range order {
		if c := *met[id]; c.Old != c.New {
			if c.New == "" && c.Was != "" {
				c.Stock, c.Was = c.Was, ""
			}
			out = append(out, c)
		}
	}
	return out
}

// cutting says how a stock is cut: "5 pieces, 4.32 m in all, from 2 of 3 m".
func (s *side) cutting(c bill.CutPlan) string {
	n, all := 0, 0.0
	for _, p := range c.Pieces {
		n += p.Count
		size := p.Length
		if p.Width > 0 {
			size *= p.Width
		}
		all += float64(p.Count) * size
	}
	total := quantity.Value{SI: all / 1000, Dim: quantity.Length, Unit: "m"}
	if !c.Bars() {
		total = quantity.Value{SI: all / 1e6, Dim: quantity.Area, Unit: "m^2"}
	}
	var taken []string
	for i, count := range c.Taken() {
		if count == 0 {
			continue
		}
		way := c.Ways[i]
		size := s.text(quantity.MM(way.Size[0]))
		if way.Size[1] > 0 {
			size += " × " + s.text(quantity.MM(way.Size[1]))
		}
		if way.Sold == nil {
			size += " on hand"
		}
		taken = append(taken, fmt.Sprintf("%d of %s", count, size))
	}
	text := fmt.Sprintf("%s, %s in all", plural(n, "piece"), s.text(total))
	switch {
	case c.ToLength != nil:
		text += ", bought cut to length"
	case len(taken) > 0:
		text += ", from " + strings.Join(taken, " and ")
	}
	if len(c.TooBig) > 0 {
		text += ", some too large for what is sold"
	}
	return text
}

func plural(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %ss", n, one)
}

// tools are what the work calls for, whatever is chosen, each once.
func tools(s *side) []string {
	var list []string
	for _, one := range s.Work.Combinations() {
		for _, tool := range one.Sequence().Tools() {
			name := strings.TrimSpace(tool.Kind + " " + tool.Size)
			if !slices.Contains(list, name) {
				list = append(list, name)
			}
		}
	}
	slices.Sort(list)
	return list
}

// findings are those that one side alone has, waived ones left out. A finding is the
// same where its rule and what it is about are: its numbers and its place may differ.
func (m *matching) findings() (found, gone []Finding) {
	type key struct{ rule, subject string }
	keyed := func(s *side, n *names) (map[key][]finding.Finding, []key) {
		by, order := map[key][]finding.Finding{}, []key{}
		for _, f := range s.Findings {
			if f.Waived != nil {
				continue
			}
			k := key{f.Rule, n.path(nil, nil, f.Subject)}
			if f.Subject == "" {
				k.subject = f.At.File + ": " + f.Message
			}
			if by[k] == nil {
				order = append(order, k)
			}
			by[k] = append(by[k], f)
		}
		return by, order
	}
	was, before := keyed(m.old, m.names)
	is, after := keyed(m.new, m.same)
	for _, k := range after {
		found = append(found, beyond(is[k], was[k])...)
	}
	for _, k := range before {
		gone = append(gone, beyond(was[k], is[k])...)
	}
	return found, gone
}

// beyond are the findings of a list that another of the same key does not have: those
// with other words first are the ones that are left over.
func beyond(list, other []finding.Finding) []Finding {
	n := len(list) - len(other)
	if n <= 0 {
		return nil
	}
	said := map[string]int{}
	for _, f := range other {
		said[f.Message]++
	}
	var out []Finding
	for _, f := range list {
		if said[f.Message] > 0 {
			said[f.Message]--
			continue
		}
		if len(out) < n {
			out = append(out, Finding{f.Rule, f.Severity, f.Subject, f.Message, f.Choices, f.At})
		}
	}
	return out
}
