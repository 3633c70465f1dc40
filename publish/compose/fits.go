package compose

import (
	"fmt"
	"math"
	"strings"

	"plansheaf/design/check"
	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/publish/page"
	"plansheaf/publish/wording"
)

// kindsOfJoint are joints without screws, in words.
var kindsOfJoint = map[string]wording.Phrase{
	plan.Press: "pressed in", plan.Push: "pushed in, without play that is felt", plan.Slide: "slides", plan.Run: "thread that turns in use", plan.Grip: "gripped", plan.Glue: "glued",
	"pin": "pinned", "rivet": "riveted", "ring": "held by a retaining ring",
}

// fitRows are a joint without a screw: a row for each fit of a shaft in a hole, or one
// where it has none.
func (c *composer) fitRows(a *plan.Assembly, j *plan.Joint) []page.Row {
	most := 1
	for _, s := range c.all {
		_, fits := s.Fits(a, j)
		most = max(most, len(fits))
	}
	var rows []page.Row
	for n := range most {
		only, _ := c.only(func(s *check.Situation) bool { _, fits := s.Fits(a, j); return n == 0 || n < len(fits) })
		of := func(words func(at layout.Mating, fit joint.Fit) []page.Inline) []page.Inline {
			return c.under(only).vary(func(s *check.Situation) []page.Inline {
				if at, fits := s.Fits(a, j); n < len(fits) {
					return words(at[n], fits[n])
				}
				return nil
			})
		}
		row := page.Row{Only: append(onlyOf(j.Only), only...), Cells: cells(
			c.vary(func(s *check.Situation) []page.Inline {
				name := strings.ReplaceAll(j.ID.Text, "_", " ")
				if places := s.Reckoning.JointPlaces(a, j); places > 1 {
					name = fmt.Sprintf("%s, %d ×", name, places)
				}
				return page.Words(name)
			}),
			c.said(kindsOfJoint[j.Kind.Text]),
			of(func(at layout.Mating, fit joint.Fit) []page.Inline {
				return c.told("%s in %s|a shaft in a hole", c.sized(at.Mine, fit.Shaft), c.sized(at.Theirs, fit.Hole))
			}),
			of(func(_ layout.Mating, fit joint.Fit) []page.Inline { return c.playWords(fit) }),
		)}
		if n == 0 {
			row.ID = j.ID.Text
		}
		rows = append(rows, row)
	}
	return rows
}

// sized is one side of a fit: the part and its diameter as the plan writes it.
func (c *composer) sized(of layout.Mate, size joint.Size) []page.Inline {
	return []page.Inline{c.partLink(of.Part.Part), page.Text(" " + size.Text)}
}

// playWords say what play a fit has, or how much it is pressed.
func (c *composer) playWords(fit joint.Fit) []page.Inline {
	micron := func(mm float64) []page.Inline { return c.measured(quantity.MM(math.Round(math.Abs(mm)*1000) / 1000)) }
	switch {
	case fit.Most == fit.Least && fit.Most == 0:
		return c.said("no play as drawn")
	case fit.Most == fit.Least && fit.Least > 0:
		return c.told("play %s", micron(fit.Least))
	case fit.Least >= 0:
		return c.told("play %s to %s", micron(fit.Least), micron(fit.Most))
	case fit.Most <= 0:
		return c.told("pressed by %s to %s", micron(fit.Most), micron(fit.Least))
	}
	return c.told("from %s too narrow to %s too wide|a hole for its shaft", micron(fit.Least), micron(fit.Most))
}
