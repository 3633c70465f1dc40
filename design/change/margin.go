package change

import (
	"math"

	"plansheaf/design/plan"
)

// A condition is one that a revision makes: a requirement of a calculation, or a limit
// of a claim, in its worst case.
type condition struct {
	of, that   string // in the new plan's names
	own, words string // in its own names
	left       string // what is compared, in the new plan's names
	Holding
}

// conditions are all that a revision makes.
func (s *side) conditions(n *names) []condition {
	var list []condition
	at := map[string]int{}
	t := &teller{side: s, names: n}
	note := func(c condition) {
		key := c.of + "\x00" + c.that
		i, known := at[key]
		if !known {
			at[key] = len(list)
			list = append(list, c)
			return
		}
		if worse(c.Holding, list[i].Holding) {
			list[i].Holding = c.Holding
		}
	}
	for _, one := range s.Work.Situations {
		for _, report := range one.Calcs {
			for _, o := range report.Requires {
				if !o.Known {
					continue
				}
				words, that := t.written(o.Require.That)
				c := condition{
					of: n.id(OfCalculation, report.Calc.ID.Text), own: report.Calc.ID.Text, that: that, words: words,
					Holding: holding(o.Holds, o.Margin),
				}
				if e := o.Require.That.Plain.Expr; e != nil {
					if left, _, _, ok := e.Comparison(); ok {
						c.left = n.formula(left)
					}
				}
				note(c)
			}
		}
		s.claims(one, n, note)
	}
	return list
}

// claims are the limits of the front page's promises in one case.
func (s *side) claims(one *situation, n *names, note func(condition)) {
	for _, claim := range s.plan.Claims {
		if one.Reckoning.Absent(claim.Is) {
			continue
		}
		is, ok := one.Reckoning.Quantity(claim.Is)
		if !ok {
			continue
		}
		for _, limit := range []struct {
			words string
			q     plan.Quantity
			sign  float64
		}{{"at least", claim.AtLeast, 1}, {"at most", claim.AtMost, -1}} {
			v, ok := one.Reckoning.Quantity(limit.q)
			if !ok || !v.Is(is.Dim) {
				continue
			}
			name := plainly(claim.Say.Value)
			words := limit.words + " " + s.text(v)
			c := condition{of: n.id(OfClaim, name), own: name, that: words, words: words, left: limit.words}
			spare := limit.sign * (is.SI - v.SI)
			c.Holding = holding(spare >= 0, spare/math.Abs(v.SI))
			note(c)
		}
	}
}

func holding(holds bool, margin float64) Holding {
	h := Holding{There: true, Holds: holds}
	if !math.IsNaN(margin) && !math.IsInf(margin, 0) {
		rounded := math.Round(margin*1e6) / 1e6
		h.Margin = &rounded
	}
	return h
}

// worse reports whether a is the worse case of one condition.
func worse(a, b Holding) bool {
	if a.Holds != b.Holds {
		return b.Holds
	}
	return a.Margin != nil && (b.Margin == nil || *a.Margin < *b.Margin)
}

// margins pairs the conditions of both sides: by their words, then by what they compare.
func (m *matching) margins() []Margin {
	was, is := m.old.conditions(m.names), m.new.conditions(m.same)
	pairs := map[int]int{} // new to old
	taken := map[int]bool{}
	pair := func(same func(a, b condition) bool) {
		for j, b := range is {
			if _, done := pairs[j]; done {
				continue
			}
			for i, a := range was {
				if !taken[i] && a.of == b.of && same(a, b) {
					pairs[j], taken[i] = i, true
					break
				}
			}
		}
	}
	pair(func(a, b condition) bool { return a.that == b.that })
	pair(func(a, b condition) bool { return a.left != "" && a.left == b.left })
	var out []Margin
	for j, b := range is {
		one := Margin{Of: b.own, That: b.words, New: b.Holding}
		if i, paired := pairs[j]; paired {
			a := was[i]
			one.Old = a.Holding
			if a.own != b.own {
				one.Was = a.own
			}
			if a.words != b.words {
				one.Had = a.words
			}
		}
		if !same(one.Old, one.New) {
			out = append(out, one)
		}
	}
	for i, a := range was {
		if !taken[i] {
			out = append(out, Margin{Of: a.own, That: a.words, Old: a.Holding})
		}
	}
	return out
}

func same(a, b Holding) bool {
	if a.There != b.There || a.Holds != b.Holds || (a.Margin == nil) != (b.Margin == nil) {
		return false
	}
	return a.Margin == nil || *a.Margin == *b.Margin
}
