package change

import (
	"fmt"
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

// fate judges a piece by what changed of its part: holes more or wider are drilled, a
// smaller length is cut off, holes less are left as they are; anything else means another
// piece.
func (w *walk) fate(old, new *reckon.Part) (fate, []string) {
	id := new.Part.ID.Text
	if w.m.names.id(OfPart, old.Part.ID.Text) != id {
		return made, nil
	}
	c, changed := w.changed[OfPart][id]
	if !changed {
		return stays, nil
	}
	if c.What == Replaced {
		return made, nil
	}
	out := stays
	var how []string
	if new.Stock != nil && w.restocked(new.Stock.ID.Text) {
		return made, nil
	}
	for _, f := range c.Lines {
		one, say := fateOf(f, c.Lines)
		if bill.Bought(new) {
			// Saying more or less of a bought part makes it no other one.
			if one, say = stays, ""; about(f.What, shapes) || about(f.What, substances) || !slight(f.What) && f.Old != "" && f.New != "" {
				one = made
			}
		}
		if say != "" && !slices.Contains(how, say) {
			how = append(how, say)
		}
		if out != stays && one != stays && out != one {
			one = made // both shorter and drilled: told by its drawing
		}
		out = max(out, one)
	}
	if out == shortened && worksFarEnd(new.Part) {
		return made, nil
	}
	return out, how
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
func (w *walk) restocked(stock string) bool {
	c, changed := w.changed[OfStock][stock]
	return changed && slices.ContainsFunc(c.Lines, func(f Field) bool { return about(f.What, []string{"section", "thick", "material"}) })
}

// fateOf judges one field of a part.
func fateOf(f Field, all []Field) (fate, string) {
	hole, rest, isHole := strings.Cut(f.What, ", ")
	switch {
	case !about(f.What, shapes) && !about(f.What, substances):
		return stays, ""
	case isHole && strings.HasPrefix(hole, "hole "):
		name := strings.TrimPrefix(hole, "hole ")
		switch {
		case strings.HasPrefix(rest, "note"), whole(hole, all, func(f Field) bool { return f.New == "" }):
			return stays, ""
		case whole(hole, all, func(f Field) bool { return f.Old == "" }):
			return drilled, "the holes " + name
		case (rest == "diameter" || rest == "depth") && larger(f):
			return drilled, fmt.Sprintf("the holes %s to a %s of %s", name, rest, usual(f.New))
		}
		return made, ""
	case f.What == "length" && larger(Field{Old: f.New, New: f.Old}):
		return shortened, "to " + usual(f.New) + ", at its far end"
	}
	return made, ""
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
