package risk

import (
	"fmt"
	"math"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
)

// The kinds of hazard that the format knows.
const (
	Crushing     = "crushing"
	DrawingIn    = "drawing_in"
	Entanglement = "entanglement"
	Falling      = "falling"
	Cutting      = "cutting"
	Electric     = "electric"
	Burn         = "burn"
	StoredEnergy = "stored_energy"
	Radiation    = "radiation"
	Dust         = "dust"
	Noise        = "noise"
	Fumes        = "fumes"
)

// A Call is something in the machine that can hurt.
type Call struct {
	Kinds   []string // a hazard of any of these kinds answers it
	Subject string   // id of the part or assembly
	At      finding.Span
	Why     string          // "adapter.input is 230 V"
	places  map[string]bool // ids where a hazard answers it; nil: anywhere
}

const (
	// harmlessVoltage is in volts: the limit of 60 V DC that IEC 61140 and IEC 60364
	// set for extra-low voltage in dry places.
	harmlessVoltage = 60
	// hotSurface is in kelvin: 60 °C, below which ISO 13732-1 expects no burn of a hand
	// that lets go of bare metal within a second or so. From memory.
	hotSurface = 273.15 + 60
	// harmlessPressure is in pascals over the air's: 0.5 bar, from which on Directive
	// 2014/68/EU counts a vessel as under pressure.
	harmlessPressure = 0.5e5
	// loudPower is in watts, loudSpeed in radians per second (3000 rpm): smaller and
	// slower drives are seldom heard through a door. Common practice, no source.
	loudPower = 500
	loudSpeed = 3000 * 2 * math.Pi / 60
	// harmlessGap is the travel in millimetres that no fingertip fits into: ISO 13854
	// lets gaps of up to 4 mm be passed over. From memory.
	harmlessGap = 4
	// harmlessMass is the mass in kilograms that may come down on a hand: common
	// practice, no source.
	harmlessMass = 2
	// harmlessSwing is a turn in radians that closes on nothing: common practice, no
	// source.
	harmlessSwing = 10 * math.Pi / 180
)

// Calls lists what in the machine calls for a hazard, in the plan's order.
func Calls(r *reckon.Reckoning) []Call {
	c := &calling{r: r, tree: treeOf(r)}
	for _, p := range r.Plan.Parts {
		if r.Tally().Parts[p.ID.Text] > 0 {
			c.part(p)
		}
	}
	for _, a := range r.Plan.Assemblies {
		if r.Tally().Assembled[a.ID.Text] == 0 {
			continue
		}
		for _, u := range a.Holds {
			if u.Only.Fits(r.Case.Options) {
				c.moving(a, u)
			}
		}
	}
	return c.calls
}

// Lifting is what lifting a part or an assembly calls for that is more than one person
// may lift; at is the step's word for it.
func Lifting(r *reckon.Reckoning, id string, at finding.Span, why string) Call {
	return Call{Kinds: []string{Falling, Crushing}, Subject: id, At: at, Why: why, places: treeOf(r).around(id)}
}

// Open lists the calls that no hazard of the plan answers under the case.
func Open(r *reckon.Reckoning) []Call {
	var open []Call
	for _, call := range Calls(r) {
		if !call.Answered(r) {
			open = append(open, call)
		}
	}
	return open
}

// Answered reports whether a hazard of the right kind stands at the place, in what
// holds it, or at something in it.
func (c Call) Answered(r *reckon.Reckoning) bool {
	for _, h := range r.Plan.Hazards {
		if !h.Only.Fits(r.Case.Options) || !contains(c.Kinds, h.Kind.Text) {
			continue
		}
		if c.places == nil {
			return true
		}
		for _, w := range h.Where {
			if c.places[placeID(r, w)] {
				return true
			}
		}
	}
	return false
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// placeID is the part or assembly that a hazard's word names: by id, or by a path of
// uses from an assembly.
func placeID(r *reckon.Reckoning, w plan.Word) string {
	path := w.Path()
	a := r.Plan.Assembly(path[0])
	if len(path) == 1 || a == nil {
		return path[0]
	}
	id := ""
	for _, name := range path[1:] {
		u := a.Use(name)
		if u == nil {
			continue // a number, or a step
		}
		if part, ok := u.Part.Pick(r.Case.Options); ok {
			return part.Text
		}
		sub, ok := u.Assembly.Pick(r.Case.Options)
		if !ok || r.Plan.Assembly(sub.Text) == nil {
			break
		}
		a, id = r.Plan.Assembly(sub.Text), sub.Text
	}
	return id
}

// calling collects calls.
type calling struct {
	r     *reckon.Reckoning
	tree  tree
	calls []Call
}

func (c *calling) add(subject string, at finding.Span, places map[string]bool, why string, kinds ...string) {
	c.calls = append(c.calls, Call{Kinds: kinds, Subject: subject, At: at, Why: why, places: places})
}

// part finds what a part's properties and making call for.
func (c *calling) part(p *plan.Part) {
	id := p.ID.Text
	near := c.tree.around(id)
	fast, strong := false, false
	for _, h := range p.Has {
		v, ok := c.r.Quantity(h.Is)
		if !ok {
			continue
		}
		name := h.Name.Text
		is := fmt.Sprintf("%s.%s is %s", id, name, quantity.Text(v.Nominal(), quantity.Metric))
		switch {
		case v.Is(quantity.Voltage) && math.Abs(v.SI) > harmlessVoltage:
			c.add(id, h.Name.At, near, is+", more than 60 V", Electric)
		case called(name, "speed") && v.Dim == quantity.AngularSpeed && v.SI > 0:
			fast = fast || v.SI >= loudSpeed
			c.add(id, h.Name.At, c.tree.beside(id), is+": what it turns can catch hair and sleeves", Entanglement, DrawingIn, Cutting)
		case called(name, "temperature") && v.Absolute && v.SI > hotSurface:
			c.add(id, h.Name.At, near, is+", hot enough to burn", Burn)
		case called(name, "pressure") && v.Is(quantity.Pressure) && v.SI > harmlessPressure:
			c.add(id, h.Name.At, near, is+": what is under pressure can burst", StoredEnergy)
		case name == "laser_class" && v.SI > 1:
			c.add(id, h.Name.At, near, fmt.Sprintf("%s: a laser above class 1", is), Radiation)
		case called(name, "power"):
			strong = strong || v.SI >= loudPower
		}
	}
	if fast && strong {
		c.add(id, p.ID.At, nil, fmt.Sprintf("%q turns fast with much power, and is loud", id), Noise)
	}
	c.making(p)
	if p.Made.Text == plan.Bought && stores(p) {
		c.add(id, p.ID.At, near, fmt.Sprintf("%q looks by its title like something that stores energy", id), StoredEnergy)
	}
}

// called reports whether a property is the named one, or a kind of it: idle_speed.
func called(name, what string) bool { return name == what || strings.HasSuffix(name, "_"+what) }

// making finds dust: one call for the plan's first part that is cut from wood.
func (c *calling) making(p *plan.Part) {
	switch p.Made.Text {
	case plan.Cut, plan.Sheet, plan.Machined, plan.Turned:
	default:
		return
	}
	part := c.r.Part(p.ID.Text)
	if part == nil || part.Material.Family != "wood" && part.Material.Family != "mineral" {
		return
	}
	for _, call := range c.calls {
		if call.Kinds[0] == Dust {
			return
		}
	}
	c.add(p.ID.Text, p.ID.At, nil, fmt.Sprintf("%q is cut from %s, which gives dust", p.ID.Text, strings.ToLower(part.Material.Title)), Dust)
}

// stores reports whether a part's title names something that holds energy.
func stores(p *plan.Part) bool {
	switch p.Noun() {
	case "spring", "springs", "accumulator", "capacitor", "flywheel":
		return true
	}
	return false
}
