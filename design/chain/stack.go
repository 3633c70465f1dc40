package chain

import (
	"math"
	"sort"

	"plansheaf/design/finding"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
)

// A Kind is what sort of thing a contributor is.
type Kind int

// The kinds of contributor.
const (
	Length   Kind = iota // between two features of a part
	Diameter             // of a hole or shaft whose wall the chain passes
	Shift                // what a hole leaves free round its screw or shaft
	Extra                // added by the plan
)

// A Basis is where a contributor's tolerance comes from.
type Basis int

// The bases of a tolerance.
const (
	Own     Basis = iota // stands with the size in the plan
	Drawn                // stands with a dimension of the part's drawing
	Fit                  // a tolerance class of ISO 286
	General              // the plan's general tolerance
	Assumed              // the general tolerance, for a bought part of which nobody says
	Unknown              // nobody says: it counts as exact
)

// A Contributor is one size that the gap hangs on.
type Contributor struct {
	Kind     Kind
	Path     string  // the part's in the machine; of a shift the part whose hole it is; "" for extras
	Title    string  // the part's
	From, To string  // the features that a length lies between; From alone for others
	Size     float64 // mm, as the plan has it
	Sense    float64 // by how much the gap grows when the size does: +1 or −1, half for radii, less for what lies askew
	Lower    float64 // how far the size may lie off, mm: Lower <= Upper
	Upper    float64
	Basis    Basis
	Says     string       // the tolerance as written: "ISO 2768-m", "H7", "± 0.05 mm"
	At       finding.Span // where it stands; of general tolerances the chain's feature
	Link     int          // the link that it belongs to, from 0; -1 for extras
	Number   int          // its place along the chain, from 1, extras last

	Worst    float64 // its share of the worst case, 0 to 1
	Variance float64 // its share of the statistical variance, 0 to 1
}

// Low is what the contributor does to the gap at most downwards, mm; not positive
// where its tolerance holds its nominal size.
func (c Contributor) Low() float64 { return math.Min(c.Sense*c.Lower, c.Sense*c.Upper) }

// High is what it does to the gap at most upwards, mm.
func (c Contributor) High() float64 { return math.Max(c.Sense*c.Lower, c.Sense*c.Upper) }

// half is half of the contributor's reach at the gap.
func (c Contributor) half() float64 { return (c.High() - c.Low()) / 2 }

// A Gap is what a chain comes to, mm.
type Gap struct {
	Nominal   float64 // with every size as the plan has it
	Low, High float64 // worst case: every size at its worst limit at once
	Mean      float64 // with every size in the middle of its tolerance
	Spread    float64 // statistical: to either side of Mean, three standard deviations
}

// Likely are the statistical limits of the gap, mm.
func (g Gap) Likely() (low, high float64) { return g.Mean - g.Spread, g.Mean + g.Spread }

// Sum is the gap that contributors make of a nominal one, mm. It fills in their shares
// and ranks them: what does most to the worst case first, equal ones in the order in
// which the chain passes them.
func Sum(nominal float64, list []Contributor) Gap {
	g := Gap{Nominal: nominal, Low: nominal, High: nominal, Mean: nominal}
	reach := 0.0
	for _, c := range list {
		g.Low += c.Low()
		g.High += c.High()
		g.Mean += (c.Low() + c.High()) / 2
		g.Spread = math.Hypot(g.Spread, c.half())
		reach += c.half()
	}
	for i := range list {
		if half := list[i].half(); half > 0 {
			list[i].Worst = half / reach
			list[i].Variance = half / g.Spread * (half / g.Spread)
		}
	}
	sort.SliceStable(list, func(i, j int) bool { return list[i].half() > list[j].half() })
	return g
}

// Name says what a contributor is, in a few words: "platen.nut, bottom to end of body".
func (c Contributor) Name() string {
	switch c.Kind {
	case Extra:
		return c.From
	case Length:
		return c.Path + ", " + c.From + " to " + c.To
	case Diameter:
		return c.Path + ", diameter of " + c.From
	}
	return c.Path + ", play in " + c.From
}

// Measurement is what formulas learn of the gap: its mean, with every size in the middle
// of its tolerance, and what each contributor does to it to either side.
func (r *Report) Measurement() reckon.Measured {
	if !r.Known {
		return reckon.Measured{Lost: true}
	}
	const metre = 1000
	m := reckon.Measured{Value: quantity.MM(r.Gap.Mean)}
	m.Value.Minus, m.Value.Plus = (r.Gap.Mean-r.Gap.Low)/metre, (r.Gap.High-r.Gap.Mean)/metre
	for _, c := range r.Contributors {
		m.By = append(m.By, reckon.Driver{Name: c.Name(), Low: -c.half() / metre, High: c.half() / metre})
	}
	return m
}
