package reckon

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/solid"
	"plansheaf/design/standards"
)

// A Part is a plan's part worked out under a case.
type Part struct {
	Part     *plan.Part
	Base     *Part               // of an altered part: what it is made from
	Stock    *plan.Stock         // what it is cut from; nil for none
	Fastener *standards.Fastener // of a standard part, and of a bought wood screw or rivet
	Material standards.Material  // zero when the plan names none
	Bar      *solid.Bar          // the length of bar that it is, before holes; nil for none
	Solid    *solid.Solid        // nil when the plan gives no shape, or one that cannot be
	Measures solid.Measures      // of Solid
	Whole    float64             // mm³, the volume before holes
	Mass     float64             // kilograms for one
	Weighed  bool                // whether Mass is known
	Filament *Filament           // of a printed part that says how it is printed and has a shape or a mass
	Faulty   bool                // it has a shape that cannot be worked out, and the findings say why

	bare *built // before its holes; nil where the plan gives no shape, or one that cannot be
	box  solid.Box
}

// Part works out the part with the id, once; nil when there is none.
func (r *Reckoning) Part(id string) *Part {
	if p, known := r.parts[id]; known {
		return p
	}
	if r.base != nil {
		return r.base.Part(id)
	}
	if r.still != nil && !r.shapes.mover(r.Plan).all {
		if p := r.still.parts[id]; p != nil {
			return p
		}
	}
	source := r.Plan.Part(id)
	if source == nil {
		return nil
	}
	r.parts[id] = nil // an altered part of itself ends here; reading reports the circle
	r.stack = append(r.stack, shapeOf(id))
	defer func() { r.stack = r.stack[:len(r.stack)-1] }()
	p := &Part{Part: source}
	if source.Of.Given() {
		p.Base = r.Part(source.Of.Text)
	}
	r.standard(p)
	if source.Stock.Given() {
		p.Stock = r.Plan.StockOf(source.Stock.Text)
	}
	p.Material = r.materialOf(p)
	r.parts[id] = p
	r.shape(p)
	r.weigh(p)
	return p
}

// shapeOf names what a part's size, volume and mass hang on, for circles.
func shapeOf(id string) string { return "the shape of " + id }

// standard reads the part's designation.
func (r *Reckoning) standard(p *Part) {
	w := p.Part.Standard
	if !w.Given() {
		p.Fastener = r.bought(p.Part)
		return
	}
	f, err := standards.Parse(w.Text)
	if err == nil {
		p.Fastener = &f
		return
	}
	found := finding.Finding{At: w.At, Message: err.Error(), Subject: p.Part.ID.Text}
	var helpful interface{ Remedy() string }
	if errors.As(err, &helpful) {
		found.Remedy = helpful.Remedy()
	}
	r.note(UnknownDesignation, found)
}

// materialOf is the part's own material, or that of its stock, of the part it is
// made from, or of its standard.
func (r *Reckoning) materialOf(p *Part) standards.Material {
	switch {
	case p.Part.Material.Given():
		return r.Material(p.Part.Material.Text)
	case p.Stock != nil:
		return r.Material(p.Stock.Material.Text)
	case p.Base != nil:
		return p.Base.Material
	case p.Fastener != nil && p.Fastener.Material != "":
		return r.Material(p.Fastener.Material)
	}
	return standards.Material{}
}

// Material is the plan's own material with the id, or the built-in one; zero when
// there is neither. What the plan gives beats the table.
func (r *Reckoning) Material(id string) standards.Material {
	m, _ := standards.MaterialByID(id)
	own := r.Plan.Material(id)
	if own == nil {
		return m
	}
	m.ID = id
	if own.Title.Given() {
		m.Title = own.Title.Value
	}
	for _, h := range own.Has {
		v, ok := r.Quantity(h.Is)
		if !ok {
			continue
		}
		switch h.Name.Text {
		case "density":
			m.Density = v.SI
		case "modulus":
			m.Modulus = v.SI / megapascal
		case "yield":
			m.Yield = v.SI / megapascal
		case "softens":
			m.Softening = v.SI - kelvinAtZeroCelsius
		}
	}
	return m
}

const (
	megapascal          = 1e6
	kelvinAtZeroCelsius = 273.15
	cubicMetre          = 1e9 // cubic millimetres
)

// shape builds the part's solid. An altered part is its base's body with its own
// holes in place of those of the same name.
func (r *Reckoning) shape(p *Part) {
	if p.Fastener != nil && p.Fastener.Kind == standards.Collar {
		r.collar(p)
		return
	}
	s := &shaper{r: r, ok: true}
	source, holes := p.Part, p.Part.Holes
	for depth := 0; source.Of.Given() && depth < maxDepth; depth++ {
		base := r.Plan.Part(source.Of.Text)
		if base == nil {
			return
		}
		holes = replaced(base.Holes, holes)
		source = base
	}
	stock := p.Stock
	if source != p.Part && source.Stock.Given() {
		stock = r.Plan.StockOf(source.Stock.Text)
	}
	base := s.base(source, stock)
	if base == nil || !s.ok {
		p.Faulty = !s.ok
		return
	}
	bare := r.shapes.of(solid.Shape{Base: base})
	size, err := bare.measure()
	if err != nil {
		p.Faulty = true
		r.shapeFaults(p.Part, source, err)
		return
	}
	p.bare, p.box, p.Measures, p.Whole = bare, size.Box, size.Measures, size.Measures.Volume
	if bar, is := base.(solid.Bar); is {
		p.Bar = &bar
	}
	if made := s.holes(holes); s.ok && len(made) > 0 {
		whole, measures, err := r.shapes.build(solid.Shape{Base: base, Holes: made})
		if err == nil {
			p.Solid, p.box, p.Measures = whole, whole.Box(), measures
			return
		}
		r.shapeFaults(p.Part, source, err)
	}
	p.Solid, _ = bare.body()
}

// body is the part's solid; while its holes are being worked out, that without them.
func (p *Part) body() *solid.Solid {
	if p.Solid == nil && p.bare != nil {
		body, _ := p.bare.body() // it could be measured, so it can be built
		return body
	}
	return p.Solid
}

// replaced are the holes of a base with those of the same name exchanged and new
// ones added.
func replaced(base, own []*plan.Hole) []*plan.Hole {
	var out []*plan.Hole
	byName := map[string]*plan.Hole{}
	for _, h := range own {
		byName[h.ID.Text] = h
	}
	for _, h := range base {
		if mine := byName[h.ID.Text]; mine != nil {
			out = append(out, inherit(mine, h))
			delete(byName, h.ID.Text)
			continue
		}
		out = append(out, h)
	}
	for _, h := range own {
		if byName[h.ID.Text] == h {
			out = append(out, h)
		}
	}
	return out
}

// inherit gives an altered hole the place of the one that it replaces where it
// names none itself.
func inherit(mine, base *plan.Hole) *plan.Hole {
	h := *mine
	if !h.Pattern.Kind.Given() {
		h.Pattern = base.Pattern
	}
	if !h.Face.Given() {
		h.Face = base.Face
	}
	return &h
}

// shapeFaults places what a solid says is wrong with its shape.
func (r *Reckoning) shapeFaults(part, source *plan.Part, err error) {
	var faults solid.Faults
	if !errors.As(err, &faults) {
		r.note(BadShape, finding.Finding{At: part.ID.At, Message: err.Error(), Subject: part.ID.Text})
		return
	}
	for _, f := range faults {
		at := fieldPlace(part, f.Field)
		if !at.Known() {
			at = fieldPlace(source, f.Field)
		}
		if !at.Known() {
			at = part.ID.At
		}
		r.note(BadShape, finding.Finding{
			At: at, Message: strings.TrimSpace(f.Field + ": " + f.Reason), Subject: part.ID.Text,
			Also: []finding.Related{{At: part.ID.At, Say: fmt.Sprintf("in part %q", part.ID.Text)}},
		})
	}
}

// fieldPlace is where the field of a fault stands in the plan's text, as near as
// the path leads.
func fieldPlace(p *plan.Part, field string) finding.Span {
	words := strings.Split(field, ".")
	switch words[0] {
	case "length":
		return p.Length.At
	case "mitre":
		return mitrePlace(p.Mitre, field)
	case "outline":
		if p.Outline != nil {
			return p.Outline.At
		}
	case "holes":
		if len(words) > 1 {
			if h := p.Hole(words[1]); h != nil {
				if len(words) > 2 && words[2] == "at" {
					for _, at := range []finding.Span{h.Pattern.Point.At, h.Pattern.At} {
						if at.Known() {
							return at
						}
					}
				}
				return h.ID.At
			}
		}
	case "section":
		return p.Stock.At
	case "shape":
		var n int
		if len(words) > 1 {
			fmt.Sscanf(words[1], "%d", &n)
		}
		if n >= 1 && n <= len(p.Shape) {
			return p.Shape[n-1].At
		}
	}
	return finding.Span{}
}

// weigh finds the part's mass: as given, as its standard has it, by its stock's
// mass per length or area, by the plastic that it is printed from, or from volume and
// density.
func (r *Reckoning) weigh(p *Part) {
	p.Filament = r.filament(p)
	switch {
	case p.Part.Mass.Given():
		v, ok := r.QuantityIn(p.Part.Mass, quantity.Mass)
		p.Mass, p.Weighed = v.SI, ok
	case p.Filament != nil && p.Filament.Given:
		v, ok := r.QuantityIn(p.Part.Print.Mass, quantity.Mass)
		p.Mass, p.Weighed = v.SI, ok
	case p.Filament != nil && p.Material.Density > 0:
		p.Mass, p.Weighed = p.Filament.Volume()/cubicMetre*p.Material.Density, true
	case p.Fastener != nil:
		p.Mass, p.Weighed = p.Fastener.Mass, p.Fastener.Mass > 0
	case p.Stock != nil && p.Stock.Mass.Given():
		r.weighStock(p)
	case p.Base != nil && p.Base.Weighed:
		// What is drilled away from a bought part lightens it by its share.
		p.Mass, p.Weighed = p.Base.Mass, true
		if p.Base.Measures.Volume > 0 && p.Measures.Volume > 0 {
			p.Mass *= p.Measures.Volume / p.Base.Measures.Volume
		}
	case p.Solid != nil && p.Material.Density > 0:
		p.Mass, p.Weighed = p.Measures.Volume/cubicMetre*p.Material.Density, true
	}
	if math.IsNaN(p.Mass) || math.IsInf(p.Mass, 0) {
		p.Mass, p.Weighed = 0, false
	}
}

// weighStock takes the stock's mass per length of bar or per area of sheet, less
// the share of the volume that the part's holes take away.
func (r *Reckoning) weighStock(p *Part) {
	share := 1.0
	if p.Whole > 0 {
		share = p.Measures.Volume / p.Whole
	}
	if p.Stock.Section != nil {
		per, ok := r.QuantityIn(p.Stock.Mass, quantity.LineDensity)
		length, given := r.Length(p.Part.Length)
		if mean, mitred := p.meanLength(); mitred {
			length = mean
		}
		if ok && given {
			p.Mass, p.Weighed = per.SI*length/1000*share, true
		}
		return
	}
	perArea, err := quantity.Mass.Div(quantity.Area)
	per, ok := r.QuantityIn(p.Stock.Mass, perArea)
	thick, given := r.Length(p.Stock.Thick)
	if err == nil && ok && given && thick > 0 && p.Whole > 0 {
		p.Mass, p.Weighed = per.SI*p.Whole/thick/1e6*share, true
	}
}
