package bill

import (
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
	"plansheaf/design/standards"
)

// A Print is one printed part: how many, and what one takes.
type Print struct {
	Part   *reckon.Part
	Count  int
	Minute float64 // of printing, for one
	Timed  bool    // the plan gives the time
}

// A Spool is the plastic of one material that all printed parts take.
type Spool struct {
	Material  standards.Material
	Mass      float64  // kilograms
	Estimated bool     // some of it follows from walls, closed layers and infill
	Unweighed []string // ids of parts whose mass is not known
}

// Estimated reports whether the part's mass follows from how it is printed, and is not
// given.
func (p Print) Estimated() bool {
	return p.Part.Weighed && !p.Part.Part.Mass.Given() && p.Part.Filament != nil && !p.Part.Filament.Given
}

// Prints are the printed parts of a bill, in its order, and the plastic that they take,
// in the order in which it is first needed.
func (b *Bill) Prints(r *reckon.Reckoning) (prints []Print, spools []Spool) {
	at := map[string]int{}
	for _, line := range b.Lines {
		p := line.Part
		if p.Part.Made.Text != plan.Printed || line.Count == 0 {
			continue
		}
		one := Print{Part: p, Count: line.Count}
		if how := p.Part.Print; how != nil && how.Time.Given() {
			if v, ok := r.QuantityIn(how.Time, quantity.Time); ok {
				one.Minute, one.Timed = v.SI/60, true
			}
		}
		prints = append(prints, one)
		i, known := at[p.Material.ID]
		if !known {
			i = len(spools)
			at[p.Material.ID] = i
			spools = append(spools, Spool{Material: p.Material})
		}
		if p.Weighed {
			spools[i].Mass += p.Mass * float64(line.Count)
			spools[i].Estimated = spools[i].Estimated || one.Estimated()
		} else {
			spools[i].Unweighed = append(spools[i].Unweighed, p.Part.ID.Text)
		}
	}
	return prints, spools
}
