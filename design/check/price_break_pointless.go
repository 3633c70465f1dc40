package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// PriceBreakPointless finds prices for many packs that are no lower than those for
// fewer.
var PriceBreakPointless = Rule{
	Rule: finding.Rule{
		Name: "price-break-pointless", Severity: finding.Warning,
		Reason: "Who buys many pays no less for each: a price or a number was typed wrong, and the total follows it.",
		Remedy: "give the breaks by rising numbers and falling prices",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		for _, supplier := range s.Reckoning.Plan.Suppliers {
			for _, sale := range supplier.Sells {
				s.breaks(sale, report)
			}
		}
	},
}

// breaks looks at the breaks of one sale, each against the one before.
func (s *Situation) breaks(sale plan.Sale, report func(finding.Finding)) {
	before, known := s.Reckoning.QuantityIn(sale.Price, quantity.Money)
	from := 1
	for _, b := range sale.Breaks {
		price, ok := s.Reckoning.QuantityIn(b.Price, quantity.Money)
		n, whole := s.Reckoning.Whole(b.From)
		if !known || !ok || !whole || price.Currency != before.Currency {
			return
		}
		text := func(v quantity.Value) string { return quantity.Text(v, System(s.Reckoning.Plan)) }
		switch {
		case n <= from:
			report(finding.Finding{
				At: b.At, Subject: sale.Part.Text,
				Message: fmt.Sprintf("the price of %q from %d packs stands behind one from %d", sale.Part.Text, n, from),
			})
		case price.SI >= before.SI:
			report(finding.Finding{
				At: b.At, Subject: sale.Part.Text,
				Message: fmt.Sprintf("a pack of %q costs %s from %d packs, and %s where fewer are bought", sale.Part.Text, text(price), n, text(before)),
			})
		}
		from, before = n, price
	}
}
