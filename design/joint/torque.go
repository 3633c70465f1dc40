package joint

import (
	"math"

	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
	"plansheaf/design/standards"
)

// A Tightening says how tight a joint is to be made.
type Tightening struct {
	Hand   bool           // hand tight, no torque
	Torque quantity.Value // N·m; zero when Hand or not Known
	Known  bool
	Limit  string // what limits it: "the screw, class 8.8", "the thread in Aluminium 6063-T5"
}

const (
	// engagement is the engaged length, in diameters, that a thread in a soft part
	// is taken to have; joints with less are found by their own check.
	engagement = 1.0
	// threadShare is the share of the cylinder π d L that an internal thread's
	// roots shear along: common practice, no source.
	threadShare = 0.75
	// shearOfYield is the shear yield stress over the tensile one, by the
	// distortion-energy theory (Shigley, section 5-5).
	shearOfYield = 0.577
	// keepFromStripping is the share of the stripping load that the preload may
	// reach: common practice, no source.
	keepFromStripping = 0.5
	// slotNutSpan is the length over which a slot nut bears on the two lips, in
	// screw diameters: common practice, no source.
	slotNutSpan = 2.0
)

// Tighten works out how tight joint j of assembly a is to be made: as the plan
// gives it, or from the weaker of screw and thread.
func Tighten(r *reckon.Reckoning, a *plan.Assembly, j *plan.Joint) Tightening {
	switch {
	case j.Torque.Word.Text == "hand":
		return Tightening{Hand: true}
	case j.Torque.Is.Given():
		v, ok := r.QuantityIn(j.Torque.Is, quantity.Torque)
		return Tightening{Torque: v, Known: ok, Limit: "the plan"}
	}
	screw := Screw(r, j)
	if screw == nil || screw.Fastener == nil {
		return Tightening{}
	}
	f := screw.Fastener
	if f.Kind == standards.SetScrew {
		nm, ok := standards.SetScrewTorque(f.Thread)
		return Tightening{Torque: torque(nm), Known: ok, Limit: "the set screw's key"}
	}
	class := f.Class
	if class == "" {
		class = "8.8"
	}
	nm, ok := standards.TighteningTorque(f.Thread, class, standards.NutFactor)
	if !ok {
		return Tightening{}
	}
	t := Tightening{Torque: torque(nm), Known: true, Limit: "the screw, class " + class}
	for _, p := range partners(r, a, j, f.Thread) {
		if !p.known {
			return Tightening{Limit: p.what}
		}
		if soft := standards.NutFactor * p.preload * f.Thread.Major / 1000; soft < nm {
			nm = soft
			t.Torque, t.Limit = torque(soft), p.what
		}
	}
	return t
}

// torque is newton metres, rounded to two figures as a wrench is set.
func torque(nm float64) quantity.Value {
	if nm <= 0 || math.IsInf(nm, 0) || math.IsNaN(nm) {
		return quantity.Value{Dim: quantity.Torque, Unit: "N*m"}
	}
	step := math.Pow(10, math.Floor(math.Log10(nm))-1)
	return quantity.Value{SI: math.Floor(nm/step+1e-9) * step, Dim: quantity.Torque, Unit: "N*m"}
}

// A partner is what a screw's thread pulls on where that is no steel nut.
type partner struct {
	what    string
	preload float64 // newtons that it bears
	known   bool    // false: the plan does not say how strong it is
}

// partners are what the thread of a joint's screw pulls on in each part of the last
// layer: the thread in it, the lips of its slot, an insert. A nut that is no slot
// nut is taken to be as strong as its screw.
func partners(r *reckon.Reckoning, a *plan.Assembly, j *plan.Joint, t standards.Thread) []partner {
	bears := thread
	if nut := NutOf(r, j); nut != nil {
		f := nut.Part.Fastener
		switch {
		case f != nil && f.Kind.Text == "insert":
			bears = insert
		case f != nil && f.Kind.Text == "nut" && f.Slot.Given():
			bears = lips
		default:
			return nil
		}
	}
	var list []partner
	seen := map[string]bool{}
	for _, spot := range Last(r, a, j) {
		id := spot.Part.ID.Text
		if p := r.Part(id); p != nil && !seen[id] {
			seen[id] = true
			list = append(list, bears(r, p, t))
		}
	}
	return list
}

// thread is the internal thread in a part.
func thread(_ *reckon.Reckoning, p *reckon.Part, t standards.Thread) partner {
	area := math.Pi * t.Major * t.Major * engagement * threadShare
	return sheared("the thread in "+materialOf(p), area, p)
}

// lips are a slotted bar's two lips under a slot nut.
func lips(r *reckon.Reckoning, p *reckon.Part, t standards.Thread) partner {
	const what = "the lips of the slot"
	if p.Stock == nil || p.Stock.Section == nil {
		return partner{what: what}
	}
	lip, ok := r.Length(p.Stock.Section.Lip)
	if !ok {
		return partner{what: what}
	}
	return sheared(what, 2*lip*slotNutSpan*t.Major, p)
}

// insert is a threaded insert: what pulls it out no table says.
func insert(_ *reckon.Reckoning, p *reckon.Part, _ standards.Thread) partner {
	return partner{what: "the insert in " + materialOf(p)}
}

// sheared is a partner that fails by shearing an area, mm², of its part's material.
func sheared(what string, area float64, p *reckon.Part) partner {
	yield := p.Material.Yield
	return partner{what: what, preload: area * yield * shearOfYield * keepFromStripping, known: yield > 0}
}

// materialOf is what a part is made of, in words.
func materialOf(p *reckon.Part) string {
	if p.Material.Title != "" {
		return p.Material.Title
	}
	return "a part whose material the plan does not say"
}
