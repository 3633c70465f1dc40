package joint

import (
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/solid"
	"plansheaf/design/standards"
)

// A Hold is one place of a joint with a pin, a rivet or a retaining ring, measured.
type Hold struct {
	layout.Fastening
	Thick   float64 // mm of its layers together, gaps between them and washers under its head counted
	Bores   []Size  // the width of each layer's hole; zero for a layer without one
	Groove  Groove  // of a ring
	Grooved bool    // the groove could be measured
}

// Holds measures every place of a joint of assembly a that has a pin, a rivet or a
// retaining ring whose sizes are known; none for others.
func (m *Machine) Holds(a *plan.Assembly, j *plan.Joint) []Hold {
	switch j.Kind.Text {
	case plan.Pin, plan.Rivet, plan.Ring:
	default:
		return nil
	}
	var out []Hold
	for _, f := range m.l.Fastenings(a, j) {
		if f.Screw.Fastener == nil || len(f.Crossings) == 0 {
			continue
		}
		h := Hold{Fastening: f, Thick: m.Thick(&f)}
		for i := range f.Crossings {
			size, _ := m.BoreOf(&f.Crossings[i])
			h.Bores = append(h.Bores, size)
		}
		h.Groove, h.Grooved = GrooveAt(&f)
		out = append(out, h)
	}
	return out
}

// Thick is how thick the layers of a place are together with the washers under its head,
// mm.
func (m *Machine) Thick(f *layout.Fastening) float64 {
	thick := f.Crossings[len(f.Crossings)-1].Leave
	for _, w := range f.UnderHead {
		thick += m.l.Thickness(w)
	}
	return thick
}

// BoreOf is how wide a layer's hole comes out; ok is false for a layer that has none.
func (m *Machine) BoreOf(c *layout.Crossing) (bore Size, ok bool) {
	if c.Feature.Kind != solid.HoleFeature {
		return bore, false
	}
	if c.Spot.Hole != nil {
		if bore, ok = m.SizeOf(layout.Mate{Word: c.Word, Spot: c.Spot, Part: c.Part, Feature: c.Feature}); ok {
			return bore, true
		}
	}
	d := c.Feature.D - m.Allowance(c.Part) // a clearance hole, a long one, a cut cylinder
	return Size{Nominal: c.Feature.D, Low: d, High: d, Hole: true, Printed: m.Allowance(c.Part), Text: mm(c.Feature.D)}, true
}

// PinSize is the diameter of a pin with its limits: of a spring pin once it is driven in.
func PinSize(f standards.Fastener) Size {
	s := Size{Nominal: f.PinDiameter, Low: f.PinDiameter, High: f.PinDiameter, Text: mm(f.PinDiameter)}
	if f.Kind == standards.SpringPin {
		return s
	}
	if low, high, err := standards.Limits(f.PinDiameter, f.PinTolerance); err == nil {
		s.Low, s.High, s.Stated, s.Text = f.PinDiameter+low, f.PinDiameter+high, true, s.Text+" "+f.PinTolerance
	}
	return s
}

// FitIn is how a shaft sits in a bore.
func FitIn(shaft, bore Size) Fit {
	return Fit{Shaft: shaft, Hole: bore, Most: bore.High - shaft.Low, Least: bore.Low - shaft.High}
}
