package reckon

import (
	"fmt"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// calcValue works out a given or a result of a calculation. An input of what the
// calculation is made from that is of another kind than that one needs is reported, and
// has no value: all that follows from it would be at fault as well.
func (r *Reckoning) calcValue(c *plan.Calc, name string, q plan.Quantity) (quantity.Value, error) {
	v, err := r.evaluate(q, calcScope{r, c})
	if err != nil {
		return v, err
	}
	for _, g := range c.Givens {
		if g.Name.Text != name {
			continue
		}
		if want, known := r.inputKind(g); known && !v.Is(want) {
			return v, r.note(WrongDimension, finding.Finding{
				At: g.Is.At, Subject: c.ID.Text,
				Message: fmt.Sprintf("this is %s, the input %q of %s needs %s", v.Dim.Article(), name, c.From.Text, want.Article()),
			})
		}
	}
	return v, nil
}

// inputKind is the kind of quantity that an input must be of; false where any will do.
func (r *Reckoning) inputKind(g plan.Given) (quantity.Dimension, bool) {
	switch {
	case g.Must && g.Unit == "":
		return quantity.Pure, true
	case g.Must:
		one, err := quantity.New(1, g.Unit)
		return one.Dim, err == nil
	case g.Like == "":
		return quantity.Dimension{}, false
	}
	head, rest, _ := strings.Cut(g.Like, ".")
	c := r.Plan.Calc(head)
	if c == nil {
		return quantity.Dimension{}, false
	}
	// Whatever choice the other calculation belongs to, its inputs have their kind.
	like, err := calcScope{r, c}.Lookup(rest)
	return like.Dim, err == nil
}
