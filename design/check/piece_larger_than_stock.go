package check

import (
	"fmt"
	"strings"

	"plansheaf/design/bill"
	"plansheaf/design/finding"
	"plansheaf/design/quantity"
)

// PieceLargerThanStock finds parts that no bar or sheet can give as it is sold.
var PieceLargerThanStock = Rule{
	Rule: finding.Rule{
		Name: "piece-larger-than-stock", Severity: finding.Error,
		Reason: "The builder buys the stock and cannot cut the part from it, nor is it counted in what to buy.",
		Remedy: "name a longer or wider size under sold, say cut: yes if it is cut to order, or make the part smaller",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		system := System(s.Reckoning.Plan)
		for i := range s.Bill.Cuts {
			c := &s.Bill.Cuts[i]
			for _, p := range c.TooBig {
				sides := []float64{p.Length}
				if !c.Bars() {
					sides = append(sides, p.Width)
				}
				report(finding.Finding{
					At: p.Part.Part.ID.At, Subject: p.Part.Part.ID.Text,
					Also: []finding.Related{{At: c.Stock.ID.At, Say: "its stock"}},
					Message: fmt.Sprintf("the piece for %q is %s, and %q as it is bought gives %s",
						p.Part.Part.ID.Text, inWords(system, sides...), c.Stock.ID.Text, roomOn(c, system)),
				})
			}
		}
	},
}

// roomOn is what a bar or sheet gives within its trim, in words.
func roomOn(c *bill.CutPlan, system quantity.System) string {
	size := c.Largest()
	if c.Bars() {
		return inWords(system, size[0]-2*c.Trim)
	}
	return inWords(system, size[0]-2*c.Trim, size[1]-2*c.Trim)
}

// inWords are lengths in millimetres in words: "1220 mm × 610 mm".
func inWords(system quantity.System, mm ...float64) string {
	var words []string
	for _, one := range mm {
		words = append(words, quantity.Text(quantity.MM(one), system))
	}
	return strings.Join(words, " × ")
}
