package change

import "slices"

// Mirror is the comparison the other way round: what comparing new with old gives.
func (c *Comparison) Mirror() *Comparison {
	m := &Comparison{Old: c.New, New: c.Old, Effects: c.Effects.mirror()}
	for _, x := range c.Changes {
		m.Changes = append(m.Changes, x.mirror())
	}
	m.Found, m.Gone = slices.Clone(c.Gone), slices.Clone(c.Found)
	m.settle()
	return m
}

func (c Change) mirror() Change {
	switch c.What {
	case Added:
		c.What = Removed
	case Removed:
		c.What = Added
	}
	if c.Was != "" {
		c.ID, c.Was = c.Was, c.ID
	}
	if c.Had != "" {
		c.Title, c.Had = c.Had, c.Title
	}
	c.OldAt, c.NewAt = c.NewAt, c.OldAt
	lines := slices.Clone(c.Lines)
	for i, f := range lines {
		f.Old, f.New = f.New, f.Old
		if f.Was != "" {
			f.What, f.Was = f.Was, f.What
		}
		lines[i] = f
	}
	c.Lines = lines
	return c
}

// swapped exchanges an old and a new name where both are there.
func swapped(name, was string) (string, string) {
	if was == "" {
		return name, ""
	}
	return was, name
}

func (e *Effects) mirror() Effects {
	out := Effects{Gained: e.Lost, Lost: e.Gained}
	for _, f := range e.Figures {
		f.Old, f.New, f.More = f.New, f.Old, opposite(f.More)
		out.Figures = append(out.Figures, f)
	}
	for _, n := range e.Counts {
		n.ID, n.Was = swapped(n.ID, n.Was)
		n.Title, n.Had = swapped(n.Title, n.Had)
		n.Old, n.New = n.New, n.Old
		out.Counts = append(out.Counts, n)
	}
	for _, p := range e.Purchases {
		p.ID, p.Was = swapped(p.ID, p.Was)
		p.Title, p.Had = swapped(p.Title, p.Had)
		p.Old, p.New = p.New, p.Old
		out.Purchases = append(out.Purchases, p)
	}
	for _, x := range e.Cuts {
		x.Stock, x.Was = swapped(x.Stock, x.Was)
		x.Title, x.Had = swapped(x.Title, x.Had)
		x.Old, x.New = x.New, x.Old
		out.Cuts = append(out.Cuts, x)
	}
	for _, x := range e.Margins {
		x.Of, x.Was = swapped(x.Of, x.Was)
		x.That, x.Had = swapped(x.That, x.Had)
		x.Old, x.New = x.New, x.Old
		out.Margins = append(out.Margins, x)
	}
	return out
}

// opposite turns the sign of a printed difference.
func opposite(more string) string {
	if rest, plus := cutSign(more, "+"); plus {
		return minus + rest
	}
	if rest, less := cutSign(more, minus); less {
		return "+" + rest
	}
	return more
}
