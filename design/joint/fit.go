package joint

import (
	"math"

	"plansheaf/design/finding"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/standards"
)

// A Size is a diameter with its limits, mm.
type Size struct {
	Nominal, Low, High float64
	Stated             bool         // the plan or a fit gives the limits; else both are Nominal
	Hole               bool         // inside, as opposed to a shaft
	Printed            float64      // by how much the part's printing makes a hole smaller; counted in
	At                 finding.Span // where the diameter stands
	Text               string       // as written: "12 mm H7"
	Fit                string       // its tolerance class of ISO 286: "H7"; "" for none
}

// SizeOf finds the diameter of a round feature; ok is false for faces, slots and what
// has none that the plan gives.
func (m *Machine) SizeOf(of layout.Mate) (s Size, ok bool) {
	if f := of.Part.Fastener; f != nil && f.Kind == standards.Collar && of.Spot.Feature == "bore" {
		s = collarBore(*f)
		s.At = of.Part.Part.ID.At
		return s, true
	}
	q, hole := m.diameter(of)
	v, ok := m.r.QuantityIn(q, quantity.Length)
	if !ok {
		return s, false
	}
	nominal := math.Round(v.SI*1e9) / 1e6 // metres there and back must not pass a range of ISO 286
	s = Size{Nominal: nominal, Hole: hole, At: q.At, Text: quantity.Text(v, quantity.Metric), Fit: v.Fit}
	s.Low, s.High = v.Low()*1000, v.High()*1000
	s.Stated = v.HasSpread()
	if v.Fit != "" {
		if low, high, err := standards.Limits(s.Nominal, v.Fit); err == nil {
			s.Low, s.High, s.Stated = s.Nominal+low, s.Nominal+high, true
		}
	}
	if hole {
		s.Printed = m.Allowance(of.Part)
		s.Low, s.High = s.Low-s.Printed, s.High-s.Printed
	}
	return s, true
}

// diameter is what the plan gives as a feature's diameter.
func (m *Machine) diameter(of layout.Mate) (q plan.Quantity, hole bool) {
	if of.Spot.Hole != nil {
		return of.Spot.Hole.Diameter, true
	}
	for p, depth := of.Part, 0; p != nil && depth < mostAltered; p, depth = p.Base, depth+1 {
		for _, shape := range p.Part.Shape {
			if shape.Name.Text == of.Spot.Feature && shape.Name.Given() {
				return shape.D, shape.Cut
			}
		}
		if p.Stock != nil && p.Stock.Section != nil && len(p.Part.Shape) == 0 {
			return p.Stock.Section.D, false
		}
	}
	return plan.Quantity{}, false
}

// A Fit is how a shaft sits in a hole: by how much the hole is wider, mm, at most and
// at least; negative where it is narrower.
type Fit struct {
	Shaft, Hole Size
	Most, Least float64
}

// FitOf is the fit of a mating, false where it is not a shaft in a hole of known
// diameters.
func (m *Machine) FitOf(at layout.Mating) (Fit, bool) {
	mine, known := m.SizeOf(at.Mine)
	theirs, too := m.SizeOf(at.Theirs)
	if !known || !too || mine.Hole == theirs.Hole {
		return Fit{}, false
	}
	if mine.Hole {
		mine, theirs = theirs, mine
	}
	return FitIn(mine, theirs), true
}

// fitWithin (mm) is what limits may miss by: a rounding of tables, far below what is
// measured.
const fitWithin = 5e-4

// Matings are the places of a joint without a screw, or of what a set screw grips.
func (m *Machine) Matings(a *plan.Assembly, j *plan.Joint) []layout.Mating { return m.l.Matings(a, j) }

const (
	// pushLoosest and pushTightest bound a locating fit in mm, beside a share of the
	// diameter: from m6 in H7, which a mallet drives, to H8 on h8. Common practice, no
	// source.
	pushLoosest, pushTightest, pushShare = 0.08, 0.012, 0.0005
	// slideLoosest bounds a running fit: what is looser rattles. Common practice, no
	// source.
	slideLoosest, slideShare = 0.5, 0.03
	// gripLoosest bounds what a ring nut or set screw bridges. Common practice, no
	// source.
	gripLoosest, gripShare = 0.6, 0.03
)

// Bounds are the least and the most by which a hole may be wider than its shaft in a
// kind of joint, mm.
func Bounds(kind string, diameter float64) (least, most float64, known bool) {
	switch kind {
	case plan.Press:
		return -diameter, 0, true
	case plan.Push:
		return -pushTightest - pushShare*diameter, pushLoosest + pushShare*diameter, true
	case plan.Slide:
		return 0, max(slideLoosest, slideShare*diameter), true
	case plan.Grip:
		return 0, max(gripLoosest, gripShare*diameter), true
	}
	return 0, 0, false
}

// Suits reports whether a fit does for a kind of joint.
func (f Fit) Suits(kind string) bool {
	least, most, known := Bounds(kind, f.Shaft.Nominal)
	if kind == plan.Press {
		return f.Most < fitWithin
	}
	return !known || f.Least >= least-fitWithin && f.Most <= most+fitWithin
}

// holeClasses are the tolerance classes tried for a hole, by kind of joint.
var holeClasses = map[string][]string{
	plan.Press: {"P7", "R7", "S7", "U7"}, plan.Push: {"H7", "J7", "K7"}, plan.Slide: {"H7", "G7", "F7", "E8", "D9"}, plan.Grip: {"H7", "G7", "F7"},
}

// Class is a tolerance class that a hole of the shaft's diameter may have for a kind
// of joint: "H7"; "" where none of the usual ones does.
func (f Fit) Class(kind string) string {
	for _, class := range holeClasses[kind] {
		low, high, err := standards.Limits(f.Shaft.Nominal, class)
		if err != nil {
			continue
		}
		other := Fit{Shaft: f.Shaft, Most: f.Shaft.Nominal + high - f.Shaft.Low, Least: f.Shaft.Nominal + low - f.Shaft.High}
		if other.Suits(kind) {
			return class
		}
	}
	return ""
}

// LeadOf is the lead of a running thread, mm: of a tapped hole or threaded bar its
// pitch, otherwise the part's own lead as the plan states it; 0 where nobody says.
func (m *Machine) LeadOf(of layout.Mate) float64 {
	lead, _ := m.leadOf(of)
	return lead
}

// Hand is of which hand a running thread is: -1 for a left-hand one, 1 for a right-hand
// one, 0 where the plan states a lead and names no thread.
func (m *Machine) Hand(of layout.Mate) int {
	_, hand := m.leadOf(of)
	return hand
}

func (m *Machine) leadOf(of layout.Mate) (lead float64, hand int) {
	if t := of.Feature.Thread; t != nil {
		return t.Pitch, handed(t.LeftHand)
	}
	for p, depth := of.Part, 0; p != nil && depth < mostAltered; p, depth = p.Base, depth+1 {
		for _, h := range p.Part.Has {
			if h.Name.Text == "lead" {
				v, _ := m.r.Length(h.Is)
				return v, 0
			}
		}
		if stock := p.Stock; stock != nil && stock.Section != nil && stock.Section.Thread.Given() {
			if t, known := standards.ThreadByName(stock.Section.Thread.Text); known {
				return t.Pitch, handed(t.LeftHand) // threaded bar
			}
		}
	}
	return 0, 0
}

func handed(left bool) int {
	if left {
		return -1
	}
	return 1
}
