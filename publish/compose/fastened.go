package compose

import (
	"math"
	"slices"

	"plansheaf/design/check"
	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/standards"
	"plansheaf/publish/page"
)

// holding reports whether a joint holds by a pin, a rivet or a retaining ring.
func holding(j *plan.Joint) bool {
	return slices.Contains([]string{plan.Pin, plan.Rivet, plan.Ring}, j.Kind.Text)
}

// holdColumns are those of the table of pins, rivets and retaining rings.
func (c *composer) holdColumns() []page.Column {
	return []page.Column{
		{Head: c.said("Places|of joints")}, {Head: c.said("From the head on"), Wide: true},
		{Head: c.said("What it needs|a fastener"), Wide: true}, {Head: c.said("What it finds|a fastener"), Wide: true},
	}
}

// holdCells are the cells of the places of a joint with a pin, a rivet or a ring, those
// alike in one row.
func (c *composer) holdCells(s *check.Situation, a *plan.Assembly, j *plan.Joint) [][]page.Cell {
	holds := s.Holds(a, j)
	return c.alike(len(holds), func(i int) (*layout.Crossing, []page.Cell) {
		h := &holds[i]
		return &h.Crossings[0], cells(nil, c.heldWords(s, h), c.needWords(h), c.findWords(h))
	})
}

// heldWords list what a pin or rivet goes through, with how thick it is; of a ring the
// part that it lies on.
func (c *composer) heldWords(s *check.Situation, h *joint.Hold) []page.Inline {
	var items [][]page.Inline
	add := func(p *reckon.Part, mm float64) {
		words := []page.Inline{c.partLink(p.Part)}
		if mm > 0.005 && h.Joint.Kind.Text != plan.Ring {
			words = append(append(words, page.Text(" ")), c.length(mm)...)
		}
		items = append(items, words)
	}
	for _, w := range h.UnderHead {
		add(w, s.Layout.Thickness(w))
	}
	for i := range h.Crossings {
		add(h.Crossings[i].Part, h.Crossings[i].Leave-max(h.Crossings[i].Enter, 0))
	}
	return joined(items)
}

// needWords say what a pin, a rivet or a ring is for.
func (c *composer) needWords(h *joint.Hold) []page.Inline {
	f := h.Screw.Fastener
	switch {
	case f.Kind == standards.Rivet && f.Grip.Most > 0:
		return c.told("layers of %s to %s, holes of %s to %s|a rivet", c.length(f.Grip.Least), c.length(f.Grip.Most), c.length(f.Hole.Least), c.length(f.Hole.Most))
	case f.Kind == standards.Ring:
		g := f.Groove
		return c.told("a groove of ⌀ %s, %s wide, %s from the end at least|a ring", c.length(g.Diameter), c.length(g.Width), c.length(g.Edge))
	case f.Kind == standards.SpringPin:
		return c.told("holes of ⌀ %s, class H12|a spring pin", c.length(f.PinDiameter))
	case f.Kind == standards.Pin:
		return c.told("holes for ⌀ %s|a pin", page.Words(joint.PinSize(*f).Text))
	}
	return page.Words("–")
}

// findWords say what it has.
func (c *composer) findWords(h *joint.Hold) []page.Inline {
	f := h.Screw.Fastener
	switch f.Kind {
	case standards.Rivet:
		var holes [][]page.Inline
		for _, b := range h.Bores {
			if b.Hole {
				holes = append(holes, c.length(b.Low))
			}
		}
		return c.told("layers of %s, holes of %s|a rivet", c.length(h.Thick), joined(holes))
	case standards.Ring:
		switch {
		case !h.Grooved:
			return page.Words("–")
		case math.IsInf(h.Groove.Edge, 1):
			return c.told("a groove of ⌀ %s, %s wide|a ring", c.length(h.Groove.Floor), c.length(h.Groove.Width))
		}
		return c.told("a groove of ⌀ %s, %s wide, %s from the end|a ring", c.length(h.Groove.Floor), c.length(h.Groove.Width), c.length(h.Groove.Edge))
	}
	var items [][]page.Inline
	for i, b := range h.Bores {
		if !b.Hole {
			continue
		}
		of := layout.Mate{Part: h.Crossings[i].Part}
		items = append(items, c.told("%s: %s|a hole and its play", c.sized(of, b), c.playWords(joint.FitIn(joint.PinSize(*f), b))))
	}
	return joined(items)
}
