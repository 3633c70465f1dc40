package reckon

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"plansheaf/design/formula"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/solid"
	"plansheaf/design/standards"
)

// builtIn are the properties that the program works out itself; has may not repeat
// those that apply to a part.
var builtIn = map[string]bool{
	"length": true, "width": true, "depth": true, "height": true, "thick": true,
	"mass": true, "count": true, "volume": true, "surface": true, "lead": true,
	"pitch": true, "mean_diameter": true, "minor_diameter": true, "major_diameter": true,
	"stress_area": true, "diameter": true, "head_diameter": true, "head_height": true,
	"teeth": true, "outside": true, "bore": true, "area": true,
}

// BuiltIn reports whether the plan's part has the property of that name without
// has: one that follows from what it is.
func (r *Reckoning) BuiltIn(id, name string) bool {
	if !builtIn[name] {
		return false
	}
	_, err := r.ownProperty(id, name)
	return err == nil
}

// PartProperty is the value of a part's property: what follows from its shape,
// standard or place in the machine, its material's values, what has gives, or a
// hole's sizes ("rods.diameter").
func (r *Reckoning) PartProperty(id, name string) (quantity.Value, error) {
	return r.named(id+"."+name, func() (quantity.Value, error) {
		v, err := r.ownProperty(id, name)
		if err == nil {
			return v, nil
		}
		p := r.Plan.Part(id)
		for depth := 0; p != nil && depth < maxDepth; depth++ {
			if q, found := has(p.Has, name); found {
				return r.evaluate(q, planScope{r})
			}
			if !p.Of.Given() {
				break
			}
			p = r.Plan.Part(p.Of.Text)
		}
		return v, err
	})
}

func has(list []plan.Named, name string) (plan.Quantity, bool) {
	for _, h := range list {
		if h.Name.Text == name {
			return h.Is, true
		}
	}
	return plan.Quantity{}, false
}

func namesOf(list []plan.Named) []string {
	names := make([]string, len(list))
	for i, h := range list {
		names[i] = h.Name.Text
	}
	return names
}

// ownProperty is a property that needs no has. A length is asked of the plan's
// formula first, so that the sizes of a part that cannot be built are still known.
func (r *Reckoning) ownProperty(id, name string) (quantity.Value, error) {
	source := r.Plan.Part(id)
	unknown := func() error {
		return &formula.UnknownNameError{Name: id + "." + name, Nearest: r.nearestProperty(source, name)}
	}
	if head, rest, dotted := strings.Cut(name, "."); dotted {
		if head == "material" {
			p := r.Part(id)
			if p == nil {
				return quantity.Value{}, r.unshaped(id)
			}
			return r.materialProperty(p.Material, id, rest)
		}
		if v, err, found := r.sectionProperty(source, head, rest); found {
			return v, err
		}
		return r.holeProperty(source, head, rest, unknown)
	}
	if name == "length" && source.Length.Given() {
		return r.evaluateAs(source.Length, quantity.Length, planScope{r})
	}
	if name == "count" {
		return r.counted(func(t *Tally) int { return t.Parts[id] })
	}
	for _, of := range []func(*plan.Part, string) (quantity.Value, error, bool){r.loopProperty, r.strandProperty} {
		if v, err, found := of(source, name); found {
			return v, err
		}
	}
	p := r.Part(id)
	if p == nil {
		return quantity.Value{}, r.unshaped(id)
	}
	if v, found := r.measured(p, name); found {
		return v, nil
	}
	if v, found := threadProperty(r, p, name); found {
		return v, nil
	}
	// While its shape is being worked out a part has no sizes yet.
	if err := r.circle(shapeOf(id)); err != nil && builtIn[name] {
		return quantity.Value{}, err
	}
	return quantity.Value{}, unknown()
}

// unshaped says why nothing is known of a part yet: it is being worked out.
func (r *Reckoning) unshaped(id string) error {
	if err := r.circle(shapeOf(id)); err != nil {
		return err
	}
	return errNoted
}

// loopProperty is a belt's size; its length is pitch times teeth.
func (r *Reckoning) loopProperty(p *plan.Part, name string) (quantity.Value, error, bool) {
	if p.Loop == nil {
		return quantity.Value{}, nil, false
	}
	fields := map[string]plan.Quantity{"pitch": p.Loop.Pitch, "width": p.Loop.Width, "teeth": p.Loop.Teeth, "thick": p.Loop.Thick}
	if q, found := fields[name]; found && q.Given() {
		v, err := r.evaluate(q, planScope{r})
		return v, err, true
	}
	if name != "length" {
		return quantity.Value{}, nil, false
	}
	pitch, err := r.evaluateAs(p.Loop.Pitch, quantity.Length, planScope{r})
	if err != nil {
		return pitch, err, true
	}
	teeth, err := r.evaluateAs(p.Loop.Teeth, quantity.Pure, planScope{r})
	if err != nil {
		return teeth, err, true
	}
	v, err := pitch.Mul(teeth)
	return v, err, true
}

func (r *Reckoning) strandProperty(p *plan.Part, name string) (quantity.Value, error, bool) {
	if p.Strand == nil {
		return quantity.Value{}, nil, false
	}
	fields := map[string]plan.Quantity{"diameter": p.Strand.D, "length": p.Strand.Length, "area": p.Strand.Area}
	q, found := fields[name]
	if !found || !q.Given() {
		return quantity.Value{}, nil, false
	}
	v, err := r.evaluate(q, planScope{r})
	return v, err, true
}

// measured are the properties of a part's solid and mass.
func (r *Reckoning) measured(p *Part, name string) (quantity.Value, bool) {
	if name == "mass" {
		return quantity.Value{SI: p.Mass, Dim: quantity.Mass}, p.Weighed
	}
	if name == "thick" && p.Stock != nil && p.Stock.Thick.Given() {
		return r.QuantityIn(p.Stock.Thick, quantity.Length)
	}
	if p.Solid == nil && p.bare == nil {
		return quantity.Value{}, false
	}
	switch name {
	case "width", "depth", "height":
		// A bought part's shape is what it takes up; its width is a word of the
		// trade (a belt's, a bearing's) for has to give.
		if p.Part.Made.Text == plan.Bought {
			return quantity.Value{}, false
		}
	}
	size := p.box.Max.Sub(p.box.Min)
	switch name {
	case "width":
		return quantity.MM(size.X), true
	case "depth":
		return quantity.MM(size.Y), true
	case "height":
		return quantity.MM(size.Z), true
	case "volume":
		return quantity.Value{SI: p.Measures.Volume / cubicMetre, Dim: quantity.Volume}, true
	case "surface":
		return quantity.Value{SI: p.Measures.Area / 1e6, Dim: quantity.Area}, true
	}
	return quantity.Value{}, false
}

// threadProperty are the sizes of a threaded bar or a standard fastener.
func threadProperty(r *Reckoning, p *Part, name string) (quantity.Value, bool) {
	var t standards.Thread
	if p.Stock != nil && p.Stock.Section != nil && p.Stock.Section.Thread.Given() {
		t, _ = r.Thread(p.Stock.Section.Thread)
	}
	if f := p.Fastener; f != nil {
		t = f.Thread
		sizes := map[string]float64{
			"length": f.Length, "head_diameter": f.Head.Diameter, "head_height": f.Head.Height,
			"height": f.NutHeight, "thick": f.WasherThick, "outside": f.WasherOutside, "bore": f.WasherInside,
		}
		if mm := sizes[name]; mm > 0 {
			return quantity.MM(mm), true
		}
	}
	if t.Major == 0 {
		return quantity.Value{}, false
	}
	switch name {
	case "lead", "pitch": // a lead is a length, the way of one turn; threads have one start
		return quantity.MM(t.Pitch), true
	case "mean_diameter":
		return quantity.MM(t.PitchDiameter), true
	case "minor_diameter":
		return quantity.MM(t.Root), true
	case "major_diameter", "diameter":
		return quantity.MM(t.Major), true
	case "stress_area":
		return quantity.Value{SI: t.StressArea / 1e6, Dim: quantity.Area}, true
	}
	return quantity.Value{}, false
}

// materialProperty is a value of the part's material: the plan's own first, then
// the table's.
func (r *Reckoning) materialProperty(m standards.Material, id, name string) (quantity.Value, error) {
	if own := r.Plan.Material(m.ID); own != nil {
		if q, found := has(own.Has, name); found {
			return r.evaluate(q, planScope{r})
		}
	}
	table := map[string]struct {
		value float64
		unit  string
	}{
		"density": {m.Density, "kg/m^3"}, "modulus": {m.Modulus, "MPa"}, "yield": {m.Yield, "MPa"},
	}
	if row, found := table[name]; found && row.value > 0 {
		return quantity.New(row.value, row.unit)
	}
	if name == "softens" && m.Softening > 0 {
		return quantity.New(m.Softening, "degC")
	}
	near := r.nearestTo(name, []string{"density", "modulus", "yield", "softens"})
	if m.ID == "" {
		return quantity.Value{}, fmt.Errorf("%q has no material, so its %s is unknown", id, name)
	}
	return quantity.Value{}, &formula.UnknownNameError{Name: id + ".material." + name, Nearest: near}
}

// holeProperty is a size of a part's hole: diameter, depth or count.
func (r *Reckoning) holeProperty(p *plan.Part, hole, name string, unknown func() error) (quantity.Value, error) {
	h := r.HoleOf(p, hole)
	if h == nil {
		return quantity.Value{}, unknown()
	}
	switch name {
	case "count":
		n, _ := r.PatternCount(h)
		return quantity.Number(float64(n)), nil
	case "depth":
		if h.Depth.Given() {
			return r.evaluateAs(h.Depth, quantity.Length, planScope{r})
		}
	case "diameter":
		switch {
		case h.Diameter.Given():
			return r.evaluateAs(h.Diameter, quantity.Length, planScope{r})
		case h.Wide.Given():
			return r.evaluateAs(h.Wide, quantity.Length, planScope{r})
		case h.Kind.Text == plan.For:
			if d, ok := r.ClearanceOf(h); ok {
				return quantity.MM(d), nil
			}
			return quantity.Value{}, errNoted
		case h.Kind.Text == plan.Tap:
			if t, ok := r.Thread(h.Thread); ok {
				return quantity.MM(t.TapDrill), nil
			}
			return quantity.Value{}, errNoted
		}
	}
	return quantity.Value{}, unknown()
}

func (r *Reckoning) nearestProperty(p *plan.Part, name string) string {
	var names []string
	for n := range builtIn {
		names = append(names, n)
	}
	names = append(names, namesOf(p.Has)...)
	for _, h := range p.Holes {
		names = append(names, h.ID.Text)
	}
	if near := r.nearestTo(name, names); near != "" {
		return p.ID.Text + "." + near
	}
	return ""
}

// stockProperty is a value of stock: its mass as sold, thickness, kerf, trim, its
// section's sizes, its material's values, what has gives.
func (r *Reckoning) stockProperty(id, name string) (quantity.Value, error) {
	return r.named(id+"."+name, func() (quantity.Value, error) {
		s := r.Plan.StockOf(id)
		fields := map[string]plan.Quantity{"mass": s.Mass, "thick": s.Thick, "kerf": s.Kerf, "trim": s.Trim}
		if sec := s.Section; sec != nil {
			for key, q := range map[string]plan.Quantity{
				"diameter": sec.D, "side": sec.Side, "wall": sec.Wall, "slot": sec.Slot, "lip": sec.Lip,
				"depth": sec.Depth, "pocket": sec.Pocket, "core": sec.Core,
			} {
				fields[key] = q
			}
			if len(sec.Size) == 2 {
				fields["width"], fields["height"] = sec.Size[0], sec.Size[1]
			}
		}
		if q, found := fields[name]; found && q.Given() {
			return r.evaluate(q, planScope{r})
		}
		if q, found := has(s.Has, name); found {
			return r.evaluate(q, planScope{r})
		}
		if rest, found := strings.CutPrefix(name, "material."); found {
			return r.materialProperty(r.Material(s.Material.Text), id, rest)
		}
		if rest, found := strings.CutPrefix(name, "section."); found && s.Section != nil {
			return r.stockSection(s, solid.AxisX, id, rest)
		}
		near := r.nearestTo(name, append(slices.Collect(maps.Keys(fields)), namesOf(s.Has)...))
		if near != "" {
			near = id + "." + near
		}
		return quantity.Value{}, &formula.UnknownNameError{Name: id + "." + name, Nearest: near}
	})
}

// assemblyProperty is an assembly's roll-up: the mass of one, how many the machine
// holds, or what has gives.
func (r *Reckoning) assemblyProperty(id, name string) (quantity.Value, error) {
	a := r.Plan.Assembly(id)
	if name == "mass" {
		m, err := r.massOf(a)
		if err != nil {
			return quantity.Value{}, err
		}
		return quantity.Value{SI: m.kg, Dim: quantity.Mass}, nil
	}
	return r.named(id+"."+name, func() (quantity.Value, error) {
		if name == "count" {
			return r.counted(func(t *Tally) int { return t.Assembled[id] })
		}
		if q, found := has(a.Has, name); found {
			return r.evaluate(q, planScope{r})
		}
		return quantity.Value{}, &formula.UnknownNameError{Name: id + "." + name, Nearest: id + ".mass"}
	})
}
