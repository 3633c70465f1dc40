package bill

import (
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
)

// A Bill is everything that one case of a plan takes.
type Bill struct {
	Lines      []Line
	Purchases  []Purchase
	Cuts       []CutPlan
	Mass       float64  // kilograms, of the machine without consumables
	Unweighed  []string // ids of parts whose mass is not known
	Orders     []Order  // by supplier, in the plan's order, any dealer last
	Cost       Money    // of all orders: packs, spares, shipping and what fills them up
	CostBound  Money    // no purchases that the plan knows cost less
	Unpriced   []string // ids of parts and stock without a price, and of suppliers whose terms have none
	WorkMinute float64  // minutes, the sum of the steps' times

	at map[string]int // where a part's line stands
}

// A Line is one part of the parts list.
type Line struct {
	Part  *reckon.Part
	Count int
	// By are the counts by assembly, in the plan's order, each for the whole
	// machine.
	By     []Share
	Amount float64 // consumables: SI units in all, as the steps use it
}

// A Share is how many of a part one assembly holds, over all of its instances.
type Share struct {
	Assembly *plan.Assembly
	Count    int
}

// Of works out the bill for a reckoning.
func Of(r *reckon.Reckoning) *Bill {
	b := &Bill{at: map[string]int{}}
	shares := byAssembly(r)
	used := consumed(r)
	tally := r.Tally()
	for _, p := range r.Plan.Parts {
		id := p.ID.Text
		line := Line{Part: r.Part(id), Count: tally.Parts[id], Amount: used[id]}
		for _, a := range r.Plan.Assemblies {
			if n := shares[a.ID.Text][id]; n > 0 {
				line.By = append(line.By, Share{Assembly: a, Count: n})
			}
		}
		if line.Count > 0 || line.Amount > 0 {
			b.at[id] = len(b.Lines)
			b.Lines = append(b.Lines, line)
		}
	}
	if machine := r.Plan.Assembly(r.Plan.Machine.Text); machine != nil {
		b.Mass, b.Unweighed = r.AssemblyMass(machine)
	}
	b.Cuts = cutPlans(r, b.Lines)
	b.buy(r)
	b.WorkMinute = workTime(r)
	return b
}

// Line is the line of a part, nil when the case does not hold it.
func (b *Bill) Line(id string) *Line {
	if i, held := b.at[id]; held {
		return &b.Lines[i]
	}
	return nil
}

// byAssembly counts parts by the assembly that directly holds them.
func byAssembly(r *reckon.Reckoning) map[string]map[string]int {
	shares := map[string]map[string]int{}
	add := func(a *plan.Assembly, id string, n int) {
		if shares[a.ID.Text] == nil {
			shares[a.ID.Text] = map[string]int{}
		}
		shares[a.ID.Text][id] += n
	}
	tally := r.Tally()
	for _, in := range tally.Instances {
		if in.Part != nil {
			add(in.Parent.Assembly, in.Part.ID.Text, 1)
		}
	}
	for _, held := range tally.Joints {
		for _, id := range r.JointParts(held.Joint) {
			add(held.Assembly, id, held.Places)
		}
	}
	return shares
}

// consumed sums what the steps use of each consumable, in SI units, over all
// instances of the assemblies that the steps belong to.
func consumed(r *reckon.Reckoning) map[string]float64 {
	used := map[string]float64{}
	for _, a := range r.Plan.Assemblies {
		n := float64(r.Tally().Assembled[a.ID.Text])
		for _, s := range a.Steps {
			if !s.Only.Fits(r.Case.Options) {
				continue
			}
			for _, u := range s.Uses {
				if v, ok := r.Quantity(u.Amount); ok {
					used[u.Part.Text] += v.SI * n
				}
			}
		}
	}
	return used
}

// workTime is the sum of the steps' times in minutes, each step as often as the
// machine holds its assembly.
func workTime(r *reckon.Reckoning) float64 {
	var minutes float64
	for _, a := range r.Plan.Assemblies {
		n := float64(r.Tally().Assembled[a.ID.Text])
		for _, s := range a.Steps {
			if !s.Only.Fits(r.Case.Options) || !s.Time.Given() {
				continue
			}
			if v, ok := r.QuantityIn(s.Time, quantity.Time); ok {
				minutes += v.SI / 60 * n
			}
		}
	}
	return minutes
}
