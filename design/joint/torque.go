package joint

import (
	"math"

	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
	"plansheaf/design/standards"
)

// A Tightening says how tight a joint is to be made, and what follows.
type Tightening struct {
	Hand   bool           // hand tight, no torque
	Never  bool           // nothing turns: a pin, a rivet, a retaining ring
	Torque quantity.Value // N·m; zero when Hand or not Known
	Known  bool
	Limit  string // what limits it: "the screw, class 8.8", "the thread in Aluminium 6063-T5"

	// Most and Least are the forces in newtons with which the joint is clamped when
	// the friction is LeastFriction and MostFriction; 0 where they are not known.
	Most, Least float64
	Assumes     string // behind the numbers, for the reader
}

const (
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
	// usualClass is the class of a screw that the plan gives none.
	usualClass = "8.8"
)

// Tighten works out how tight joint j of assembly a is to be made: as the plan gives
// it, or so that neither screw, thread nor what lies under head and nut gives way. An
// internal thread counts with the least length that its material asks for, or all that
// its hole has; screws that fill less are found by their own check.
func Tighten(r *reckon.Reckoning, a *plan.Assembly, j *plan.Joint) Tightening {
	screw := Screw(r, j)
	if j.Torque.Word.Text == "hand" || screw != nil && screw.Fastener != nil && screw.Fastener.Kind == standards.WoodScrew && !j.Torque.Is.Given() {
		return Tightening{Hand: true} // a wood screw: until its head seats
	}
	var t Tightening
	if screw != nil && screw.Fastener != nil {
		switch f := screw.Fastener; f.Kind {
		case standards.Pin, standards.SpringPin, standards.Rivet, standards.Ring:
			return Tightening{Never: true}
		case standards.SetScrew:
			nm, ok := standards.SetScrewTorque(f.Thread)
			t = Tightening{Torque: torque(nm), Known: ok, Limit: "the set screw's key"}
		case standards.Screw:
			t = tightenScrew(r, a, j, *f)
		}
	}
	if clamp := ClampOf(r, a, j); clamp != nil && clamp.Fastener != nil {
		nm, ok := standards.SetScrewTorque(clamp.Fastener.Thread)
		t = Tightening{Torque: torque(nm), Known: ok, Limit: "the set screw's key"}
	}
	if j.Torque.Is.Given() {
		v, ok := r.QuantityIn(j.Torque.Is, quantity.Torque)
		t.Torque, t.Known, t.Limit = v, ok, "the plan"
		if screw != nil && screw.Fastener != nil && screw.Fastener.Kind == standards.Screw {
			t.clamps(*screw.Fastener)
		}
	}
	return t
}

// tightenScrew is how tight a screw with a head may be made.
func tightenScrew(r *reckon.Reckoning, a *plan.Assembly, j *plan.Joint, f standards.Fastener) Tightening {
	class := f.Class
	if class == "" {
		class = usualClass
	}
	strength, ok := standards.ScrewClass(class, f.Thread.Major)
	if !ok || strength.Yield <= 0 {
		return Tightening{}
	}
	t := Tightening{Known: true, Limit: "the screw, class " + class}
	force := AssemblyPreload(f.Thread, strength.Yield, LeastFriction)
	for _, p := range append(partners(r, a, j, f.Thread), faces(r, a, j, f)...) {
		if !p.known {
			return Tightening{Limit: p.what}
		}
		if p.preload < force {
			force, t.Limit = p.preload, p.what
		}
	}
	t.Torque = torque(force * TorquePerForce(f.Thread, LeastFriction, holeOf(f), bears(f)))
	t.clamps(f)
	return t
}

// holeOf is the clearance hole that a screw's head is taken to bear around.
func holeOf(f standards.Fastener) float64 {
	if d, ok := standards.Clearance(f.Thread, ""); ok {
		return d
	}
	return f.Thread.Major
}

// clamps works out the forces that a torque gives.
func (t *Tightening) clamps(f standards.Fastener) {
	if !t.Known {
		return
	}
	t.Most = t.Torque.SI / TorquePerForce(f.Thread, LeastFriction, holeOf(f), bears(f))
	t.Least = t.Torque.SI / TorquePerForce(f.Thread, MostFriction, holeOf(f), bears(f))
	t.Assumes = "VDI 2230, simple form: friction 0.10 to 0.16 in thread and under head, at most 90 % of the screw's yield strength, at most half of what strips an internal thread"
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
	holds := thread
	if nut := NutOf(r, j); nut != nil {
		f := nut.Part.Fastener
		switch {
		case f != nil && f.Kind.Text == "insert":
			holds = insert
		case f != nil && f.Kind.Text == "nut" && f.Slot.Given():
			holds = lips
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
			list = append(list, holds(r, p, spot, t))
		}
	}
	return list
}

// thread is the internal thread in a part.
func thread(r *reckon.Reckoning, p *reckon.Part, spot reckon.Spot, t standards.Thread) partner {
	diameters := unknownMaterial
	if e, known := standards.LeastEngagement(p.Material); known {
		diameters = e.Diameters
	}
	long := diameters * t.Major
	if spot.Hole != nil {
		if depth, ok := r.Length(spot.Hole.Depth); ok {
			long = math.Min(long, depth)
		} else if p.Stock != nil && p.Stock.Thick.Given() {
			if thick, ok := r.Length(p.Stock.Thick); ok {
				long = math.Min(long, thick)
			}
		}
	}
	area := math.Pi * t.Major * long * threadShare
	return sheared("the thread in "+materialOf(p), area, p)
}

// lips are a slotted bar's two lips under a slot nut.
func lips(r *reckon.Reckoning, p *reckon.Part, _ reckon.Spot, t standards.Thread) partner {
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
func insert(_ *reckon.Reckoning, p *reckon.Part, _ reckon.Spot, _ standards.Thread) partner {
	return partner{what: "the insert in " + materialOf(p)}
}

// sheared is a partner that fails by shearing an area, mm², of its part's material.
func sheared(what string, area float64, p *reckon.Part) partner {
	yield := p.Material.Yield
	return partner{what: what, preload: area * yield * shearOfYield * keepFromStripping, known: yield > 0}
}

// faces are what lies under the head and under a nut where the tables say how much
// pressure it bears: the part itself, over the width that a washer spreads the force to.
func faces(r *reckon.Reckoning, a *plan.Assembly, j *plan.Joint, f standards.Fastener) []partner {
	var list []partner
	add := func(what string, layer plan.Layer, outside float64, washers []plan.Reference) {
		for _, ref := range washers {
			if w := pick(r, ref); w != nil && w.Fastener != nil {
				outside = math.Min(w.Fastener.WasherOutside, outside+2*w.Fastener.WasherThick)
			}
		}
		for _, spot := range Layer(r, a, layer) {
			p := r.Part(spot.Part.ID.Text)
			if p == nil || spot.Hole != nil && (spot.Hole.Kind.Text == plan.SlotHole || spot.Hole.Countersink != nil) {
				continue
			}
			if force, known := pressed(p.Material, widthOf(r, spot, f.Thread), outside); known {
				list = append(list, partner{what: "the pressure under the " + what + " on " + materialOf(p), preload: force, known: true})
			}
		}
	}
	if len(j.Through) == 0 {
		return nil
	}
	if len(j.Through) > 1 || j.Into.Given() {
		add("head", j.Through[0], bears(f), j.UnderHead)
	}
	if nut := NutOf(r, j); nut != nil && nut.Fastener != nil && nut.Fastener.Kind == standards.Nut {
		add("nut", j.Through[len(j.Through)-1], bears(*nut.Fastener), j.UnderNut)
	}
	return list
}

// widthOf is how wide the hole of a spot is, mm; the thread's own where it is none.
func widthOf(r *reckon.Reckoning, spot reckon.Spot, t standards.Thread) float64 {
	if spot.Hole == nil {
		return t.Major
	}
	if spot.Hole.Kind.Text == plan.For {
		if d, ok := r.ClearanceOf(spot.Hole); ok {
			return d
		}
	}
	if d, ok := r.Length(spot.Hole.Diameter); ok {
		return d
	}
	return t.Major
}

// materialOf is what a part is made of, in words.
func materialOf(p *reckon.Part) string {
	if p.Material.Title != "" {
		return p.Material.Title
	}
	return "a part whose material the plan does not say"
}
