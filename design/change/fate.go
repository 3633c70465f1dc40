package change

import (
	"slices"
	"strings"

	"plansheaf/design/bill"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
)

// A fate is what becomes of a piece that is there already.
type fate int

const (
	stays fate = iota
	drilled
	shortened
	made // anew, or bought
)

// A rework is what becomes of a piece, and how.
type rework struct {
	fate
	holes  []Boring // to drill
	length string   // to cut off to
}

// rework judges a piece by what changed of its part: holes more or wider are drilled, a
// smaller length is cut off, holes less are left as they are; anything else means another
// piece.
func (c *Course) rework(old, new *reckon.Part) rework {
	id := new.Part.ID.Text
	if c.m.names.id(OfPart, old.Part.ID.Text) != id {
		return rework{fate: made}
	}
	change, changed := c.changed[OfPart][id]
	switch {
	case !changed:
		return rework{}
	case change.What == Replaced, new.Stock != nil && c.restocked(new.Stock.ID.Text):
		return rework{fate: made}
	}
	var out rework
	for _, f := range change.Lines {
		one := fateOf(f, change.Lines)
		if bill.Bought(new) {
			// Saying more or less of a bought part makes it no other one.
			one = rework{}
			if about(f.What, shapes) || about(f.What, substances) || !slight(f.What) && f.Old != "" && f.New != "" {
				one.fate = made
			}
		}
		for _, b := range one.holes {
			if !slices.Contains(out.holes, b) {
				out.holes = append(out.holes, b)
			}
		}
		if out.fate != stays && one.fate != stays && out.fate != one.fate {
			one.fate = made // both shorter and drilled: told by its drawing
		}
		out.fate, out.length = max(out.fate, one.fate), orElse(out.length, one.length)
	}
	if out.fate == shortened && worksFarEnd(new.Part) {
		return rework{fate: made}
	}
	return out
}

// worksFarEnd reports whether something is made into the end of a bar that would be cut
// off.
func worksFarEnd(p *plan.Part) bool {
	far := map[string]string{"": "right", "x": "right", "y": "back", "z": "top"}[p.Lies.Text]
	return len(p.Shape) > 0 || slices.ContainsFunc(p.Holes, func(h *plan.Hole) bool { return h.Face.Text == far })
}

// usual is a value in the plan's own case, without what it is in others.
func usual(value string) string {
	value, _, _ = strings.Cut(value, ", ")
	return value
}

// restocked reports whether a stock is of another section, thickness or material.
func (c *Course) restocked(stock string) bool {
	change, changed := c.changed[OfStock][stock]
	return changed && slices.ContainsFunc(change.Lines, func(f Field) bool { return about(f.What, []string{"section", "thick", "material"}) })
}

// fateOf judges one field of a part.
func fateOf(f Field, all []Field) rework {
	hole, rest, isHole := strings.Cut(f.What, ", ")
	switch {
	case !about(f.What, shapes) && !about(f.What, substances):
		return rework{}
	case isHole && strings.HasPrefix(hole, "hole "):
		name := strings.TrimPrefix(hole, "hole ")
		switch {
		case strings.HasPrefix(rest, "note"), whole(hole, all, func(f Field) bool { return f.New == "" }):
			return rework{}
		case whole(hole, all, func(f Field) bool { return f.Old == "" }):
			return rework{fate: drilled, holes: []Boring{{Holes: name}}}
		case rest == "diameter" && larger(f):
			return rework{fate: drilled, holes: []Boring{{Holes: name, Diameter: usual(f.New)}}}
		case rest == "depth" && larger(f):
			return rework{fate: drilled, holes: []Boring{{Holes: name, Depth: usual(f.New)}}}
		}
		return rework{fate: made}
	case f.What == "length" && larger(Field{Old: f.New, New: f.Old}):
		return rework{fate: shortened, length: usual(f.New)}
	}
	return rework{fate: made}
}

// whole reports whether all fields of a hole are as asked: it is new, or gone.
func whole(hole string, all []Field, as func(Field) bool) bool {
	return !slices.ContainsFunc(all, func(f Field) bool { return strings.HasPrefix(f.What, hole+", ") && !as(f) })
}

// larger reports whether a field's new length is larger than its old one.
func larger(f Field) bool {
	was, err := quantity.Parse(usual(f.Old))
	is, failed := quantity.Parse(usual(f.New))
	return err == nil && failed == nil && is.Dim == was.Dim && is.SI > was.SI
}
