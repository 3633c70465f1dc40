package bill

import (
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
	"plansheaf/design/sequence"
)

// A Kit is what one step takes each time it is done, and how often that is.
type Kit struct {
	Assembly *plan.Assembly
	Step     *plan.Step
	Times    int // how often the machine's assemblies are built
	Items    []sequence.Item
	Uses     []Use
}

// A Use is an amount of a consumable.
type Use struct {
	Part   *reckon.Part
	Amount quantity.Value
}

// Kits are what each step takes, in the order of the plan's files; steps that take
// nothing are among them, those of assemblies that the machine lacks are not.
func Kits(r *reckon.Reckoning, order *sequence.Record) []Kit {
	var kits []Kit
	for _, a := range r.Plan.Assemblies {
		n := r.Tally().Assembled[a.ID.Text]
		for _, s := range a.Steps {
			if n == 0 || !s.Only.Fits(r.Case.Options) {
				continue
			}
			kit := Kit{Assembly: a, Step: s, Times: n}
			if i, ok := order.Graph.Index(s); ok {
				kit.Items = order.Card(i).Bag
			}
			for _, u := range s.Uses {
				if v, ok := r.Quantity(u.Amount); ok && r.Part(u.Part.Text) != nil {
					kit.Uses = append(kit.Uses, Use{Part: r.Part(u.Part.Text), Amount: v})
				}
			}
			kits = append(kits, kit)
		}
	}
	return kits
}
