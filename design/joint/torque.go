package joint

import (
	"fmt"
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
	// nutFactor is K in T = K F d for zinc-plated steel as delivered. Source:
	// Shigley, Mechanical Engineering Design, 9th ed., Table 8-15.
	nutFactor = 0.20
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
	nm, ok := standards.TighteningTorque(f.Thread, class, nutFactor)
	if !ok {
		return Tightening{}
	}
	t := Tightening{Torque: torque(nm), Known: true, Limit: "the screw, class " + class}
	if preload, what, limited := weaker(r, a, j, f.Thread); limited {
		if soft := nutFactor * preload * f.Thread.Major / 1000; soft < nm {
			t.Torque, t.Limit = torque(soft), what
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

// weaker is the preload in newtons that the thread's partner bears when that is
// softer than a steel nut, and what it is.
func weaker(r *reckon.Reckoning, a *plan.Assembly, j *plan.Joint, t standards.Thread) (preload float64, what string, limited bool) {
	if nut := NutOf(r, j); nut != nil {
		if nut.Part.Fastener != nil && nut.Part.Fastener.Kind.Text == "nut" && nut.Part.Fastener.Slot.Given() {
			return lips(r, a, j, t)
		}
		return 0, "", false
	}
	last := Last(r, a, j)
	if len(last) == 0 {
		return 0, "", false
	}
	p := r.Part(last[0].Part.ID.Text)
	if p == nil || p.Material.Yield <= 0 {
		return 0, "", false
	}
	area := math.Pi * t.Major * t.Major * engagement * threadShare
	return area * p.Material.Yield * shearOfYield * keepFromStripping, fmt.Sprintf("the thread in %s", p.Material.Title), true
}

// lips is the preload that a slotted bar's two lips bear under a slot nut.
func lips(r *reckon.Reckoning, a *plan.Assembly, j *plan.Joint, t standards.Thread) (preload float64, what string, limited bool) {
	last := Last(r, a, j)
	if len(last) == 0 {
		return 0, "", false
	}
	p := r.Part(last[0].Part.ID.Text)
	if p == nil || p.Stock == nil || p.Stock.Section == nil || !p.Stock.Section.Lip.Given() || p.Material.Yield <= 0 {
		return 0, "", false
	}
	lip, ok := r.Length(p.Stock.Section.Lip)
	if !ok {
		return 0, "", false
	}
	area := 2 * lip * slotNutSpan * t.Major
	return area * p.Material.Yield * shearOfYield * keepFromStripping, "the lips of the slot", true
}
