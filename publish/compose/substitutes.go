package compose

import (
	"strings"

	"plansheaf/design/bill"
	"plansheaf/design/check"
	"plansheaf/design/plan"
	"plansheaf/publish/page"
)

// substitutesAnchor is where the shopping list says what serves instead.
const substitutesAnchor = "instead"

// substitutes lists what serves instead of a bought part, and what it must be.
func (c *composer) substitutes() page.Table {
	t := page.Table{
		ID: "instead-list",
		Columns: []page.Column{
			{Head: c.said("Instead of")}, {Head: c.said("Serves too")}, {Head: c.said("If")}, {Head: c.said("From|seller"), Wide: true}, {Head: c.said("Price"), Align: page.Right, Wide: true},
		},
	}
	for _, p := range c.plan.Parts {
		only, bought := c.only(func(s *check.Situation) bool { return buys(s, p.ID.Text) })
		if !bought {
			continue
		}
		for _, o := range p.Or {
			t.Rows = append(t.Rows, c.substituteRow(p, o, only))
		}
	}
	return t
}

func buys(s *check.Situation, id string) bool {
	for _, p := range s.Bill.Purchases {
		if p.ID == id {
			return true
		}
	}
	return false
}

func (c *composer) substituteRow(p *plan.Part, o plan.Substitute, only page.Only) page.Row {
	asked := []plan.Quantity{o.When}
	if o.Part.Given() {
		asked = bill.Conditions(p, o)
	}
	var conditions []string
	for _, when := range asked {
		if f, ok := when.Pick(c.all[0].Case.Options); ok && f.Given() {
			conditions = append(conditions, c.conditionText(f.Expr.Source()))
		}
	}
	name, from, price := c.inline(o.Say), []page.Inline(nil), []page.Inline(nil)
	if other := c.plan.Part(o.Part.Text); other != nil {
		name, from = []page.Inline{c.partLink(other)}, c.fromWords(other)
		if sale := bill.SaleOf(c.plan, other.ID.Text, other.Buy); sale != nil {
			price = c.quantityWords(sale.Price)
			if sale.Pack.Given() {
				price = c.told("%s for %s", price, c.quantityWords(sale.Pack))
			}
		}
	}
	return page.Row{Only: only, Cells: cells([]page.Inline{c.partLink(p)}, name, page.Words(strings.Join(conditions, "; ")), from, price)}
}

// conditionText is a condition as people write it.
func (c *composer) conditionText(source string) string {
	return strings.NewReplacer(">=", "≥", "<=", "≤", "_", " ", " and ", " "+c.say("and")+" ", " or ", " "+c.say("or")+" ").Replace(source)
}
