package plan

// index answers lookups by id; the first of two equal ids wins.
type index struct {
	parts      map[string]*Part
	assemblies map[string]*Assembly
	stock      map[string]*Stock
	calcs      map[string]*Calc
	values     map[string]*Value
	motions    map[string]*Motion
	choices    map[string]*Choice
	hazards    map[string]*Hazard
	drawings   map[string]*Drawing
	suppliers  map[string]*Supplier
	tools      map[string]*Tool
	materials  map[string]*Material
	files      map[string]*File
	pages      map[string]*Page
}

func byID[T any](list []T, id func(T) string) map[string]T {
	m := make(map[string]T, len(list))
	for _, item := range list {
		if _, taken := m[id(item)]; !taken {
			m[id(item)] = item
		}
	}
	return m
}

// Index makes the plan's lookups; package source calls it once when all is read.
func (p *Plan) Index() {
	p.index = index{
		parts:      byID(p.Parts, func(x *Part) string { return x.ID.Text }),
		assemblies: byID(p.Assemblies, func(x *Assembly) string { return x.ID.Text }),
		stock:      byID(p.Stock, func(x *Stock) string { return x.ID.Text }),
		calcs:      byID(p.Calcs, func(x *Calc) string { return x.ID.Text }),
		values:     byID(p.Values, func(x *Value) string { return x.ID.Text }),
		motions:    byID(p.Motions, func(x *Motion) string { return x.ID.Text }),
		choices:    byID(p.Choices, func(x *Choice) string { return x.ID.Text }),
		hazards:    byID(p.Hazards, func(x *Hazard) string { return x.ID.Text }),
		drawings:   byID(p.Drawings, func(x *Drawing) string { return x.ID.Text }),
		suppliers:  byID(p.Suppliers, func(x *Supplier) string { return x.ID.Text }),
		tools:      byID(p.Tools, func(x *Tool) string { return x.ID.Text }),
		materials:  byID(p.Materials, func(x *Material) string { return x.ID.Text }),
		files:      byID(p.Files, func(x *File) string { return x.Path }),
		pages:      byID(p.Pages, func(x *Page) string { return x.ID.Text }),
	}
}

// The lookups return nil where nothing has the id.

// Part is the part with the id.
func (p *Plan) Part(id string) *Part { return p.index.parts[id] }

// Assembly is the assembly with the id.
func (p *Plan) Assembly(id string) *Assembly { return p.index.assemblies[id] }

// StockOf is the stock with the id.
func (p *Plan) StockOf(id string) *Stock { return p.index.stock[id] }

// Calc is the calculation with the id.
func (p *Plan) Calc(id string) *Calc { return p.index.calcs[id] }

// Value is the plan value with the id.
func (p *Plan) Value(id string) *Value { return p.index.values[id] }

// Motion is the motion with the id.
func (p *Plan) Motion(id string) *Motion { return p.index.motions[id] }

// Choice is the choice with the id.
func (p *Plan) Choice(id string) *Choice { return p.index.choices[id] }

// Hazard is the hazard with the id.
func (p *Plan) Hazard(id string) *Hazard { return p.index.hazards[id] }

// Drawing is the drawing file with the id.
func (p *Plan) Drawing(id string) *Drawing { return p.index.drawings[id] }

// Supplier is the supplier with the id.
func (p *Plan) Supplier(id string) *Supplier { return p.index.suppliers[id] }

// Tool is the tool with the id.
func (p *Plan) Tool(id string) *Tool { return p.index.tools[id] }

// Material is the plan's own material with the id.
func (p *Plan) Material(id string) *Material { return p.index.materials[id] }

// File is the shipped file with the path.
func (p *Plan) File(path string) *File { return p.index.files[path] }

// Page is the page of prose with the id.
func (p *Plan) Page(id string) *Page { return p.index.pages[id] }

// Use is the assembly's use with the id, nil where there is none.
func (a *Assembly) Use(id string) *Use {
	for _, u := range a.Holds {
		if u.ID.Text == id {
			return u
		}
	}
	return nil
}

// Joint is the assembly's joint with the id, nil where there is none.
func (a *Assembly) Joint(id string) *Joint {
	for _, j := range a.Joints {
		if j.ID.Text == id {
			return j
		}
	}
	return nil
}

// Step is the assembly's step with the id, nil where there is none.
func (a *Assembly) Step(id string) *Step {
	for _, s := range a.Steps {
		if s.ID.Text == id {
			return s
		}
	}
	return nil
}

// Hole is the part's hole with the id, nil where there is none.
func (p *Part) Hole(id string) *Hole {
	for _, h := range p.Holes {
		if h.ID.Text == id {
			return h
		}
	}
	return nil
}
