package bill

import (
	"slices"

	"plansheaf/design/plan"
	"plansheaf/design/reckon"
)

// A Most is the most of a part that any way of building the machine takes: who buys it
// can still decide everything.
type Most struct {
	Part   *reckon.Part
	Count  int
	Amount float64 // consumables: SI units
	In     []int   // which of the bills take that many
}

// Whatever lists, over the bills of all ways of building a plan, the most of each part,
// in the plan's order.
func Whatever(p *plan.Plan, bills []*Bill) []Most {
	var all []Most
	for _, part := range p.Parts {
		var most Most
		for i, b := range bills {
			line := b.Line(part.ID.Text)
			if line == nil {
				continue
			}
			switch {
			case most.Part == nil || line.Count > most.Count || line.Count == most.Count && line.Amount > most.Amount:
				most = Most{Part: line.Part, Count: line.Count, Amount: line.Amount, In: []int{i}}
			case line.Count == most.Count && line.Amount == most.Amount:
				most.In = append(most.In, i)
			}
		}
		if most.Part != nil {
			all = append(all, most)
		}
	}
	return all
}

// A Change is how many more of a part one bill takes than another; below zero fewer.
type Change struct {
	Part     *reckon.Part
	From, To int
	Amount   float64 // consumables: SI units more
}

// A Difference is what one bill adds to another and takes away.
type Difference struct {
	Parts   []Change       // in the plan's order, those alone whose number or amount changes
	Sized   []*reckon.Part // parts that both take and that measure or weigh another amount
	Cost    Money
	Mass    float64 // kilograms
	Minutes float64
	// Unpriced are the ids of purchases without a price whose number changes: Cost
	// lacks them.
	Unpriced []string
}

// Between is what changes from one bill of a plan to another.
func Between(p *plan.Plan, from, to *Bill) Difference {
	d := Difference{Cost: to.Cost - from.Cost, Mass: to.Mass - from.Mass, Minutes: to.WorkMinute - from.WorkMinute}
	for _, part := range p.Parts {
		a, b := from.Line(part.ID.Text), to.Line(part.ID.Text)
		var c Change
		if a != nil {
			c.Part, c.From, c.Amount = a.Part, a.Count, -a.Amount
		}
		if b != nil {
			c.Part, c.To, c.Amount = b.Part, b.Count, c.Amount+b.Amount
		}
		if c.From != c.To || c.Amount != 0 {
			d.Parts = append(d.Parts, c)
		}
		if a != nil && b != nil && (a.Part.Mass != b.Part.Mass || a.Part.Measures.Volume != b.Part.Measures.Volume) {
			d.Sized = append(d.Sized, b.Part)
		}
	}
	for _, id := range append(slices.Clone(from.Unpriced), to.Unpriced...) {
		if from.needs(id) != to.needs(id) && !slices.Contains(d.Unpriced, id) {
			d.Unpriced = append(d.Unpriced, id)
		}
	}
	return d
}

// needs is how many pieces of a purchase a bill takes.
func (b *Bill) needs(id string) (n int) {
	for _, p := range b.Purchases {
		if p.ID == id {
			n += p.Need
		}
	}
	return n
}

// A Sum is what one kind of part, or one supplier, comes to.
type Sum struct {
	Of       string // the kind, or the supplier's id; "" where any supplier will do
	Lines    int    // different parts, or purchases
	Pieces   int
	Mass     float64 // kilograms; of kinds of part
	Cost     Money   // of suppliers
	Unpriced int     // purchases without a price; of suppliers
}

// Standard is the kind of a part that is made as a standard says.
const Standard = "standard"

// ByKind are the pieces and the mass of each kind of part, by how it is made, in the
// order in which a plan names the ways.
func (b *Bill) ByKind() []Sum {
	kinds := []string{plan.Cut, plan.Sheet, plan.Machined, plan.Turned, plan.Printed, plan.Altered, plan.Bought, Standard, plan.Consumable}
	var all []Sum
	for _, kind := range kinds {
		sum := Sum{Of: kind}
		for _, line := range b.Lines {
			if kindOf(line.Part) == kind {
				sum.Lines++
				sum.Pieces += line.Count
				sum.Mass += line.Part.Mass * float64(line.Count)
			}
		}
		if sum.Lines > 0 {
			all = append(all, sum)
		}
	}
	return all
}

func kindOf(p *reckon.Part) string {
	if p.Part.Standard.Given() {
		return Standard
	}
	return p.Part.Made.Text
}

// BySupplier are the purchases from each supplier, in the order of the bill.
func (b *Bill) BySupplier() []Sum {
	var all []Sum
	for _, p := range b.Purchases {
		id := ""
		if p.Supplier != nil {
			id = p.Supplier.ID.Text
		}
		i := slices.IndexFunc(all, func(s Sum) bool { return s.Of == id })
		if i < 0 {
			i = len(all)
			all = append(all, Sum{Of: id})
		}
		all[i].Lines++
		all[i].Pieces += p.Need
		all[i].Cost += p.Price
		if !p.Priced {
			all[i].Unpriced++
		}
	}
	return all
}
