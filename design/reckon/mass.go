package reckon

import "plansheaf/design/plan"

// An assemblyMass is what one of an assembly weighs, with the parts whose mass is
// not known.
type assemblyMass struct {
	kg      float64
	missing map[string]bool // part ids
}

func (m *assemblyMass) add(other *assemblyMass, n int) {
	if n == 0 {
		return
	}
	m.kg += other.kg * float64(n)
	for id := range other.missing {
		m.missing[id] = true
	}
}

// AssemblyMass is the mass in kilograms of one of an assembly with all that it
// holds and its joints' fasteners; unweighed lists the parts whose mass is not
// known and counts as nothing, in the plan's order.
func (r *Reckoning) AssemblyMass(a *plan.Assembly) (kg float64, unweighed []string) {
	m, err := r.massOf(a)
	if err != nil {
		return 0, nil // a circle, which is reported where it stands
	}
	for _, p := range r.Plan.Parts {
		if m.missing[p.ID.Text] {
			unweighed = append(unweighed, p.ID.Text)
		}
	}
	return m.kg, unweighed
}

// massOf weighs an assembly once; the error is a circle: a part whose size depends
// on the mass of what it is in.
func (r *Reckoning) massOf(a *plan.Assembly) (*assemblyMass, error) {
	if m, known := r.masses[a.ID.Text]; known {
		return m, nil
	}
	if r.base != nil {
		return r.base.massOf(a)
	}
	name := a.ID.Text + ".mass"
	if err := r.circle(name); err != nil {
		return nil, err
	}
	r.stack = append(r.stack, name)
	defer func() { r.stack = r.stack[:len(r.stack)-1] }()
	m := &assemblyMass{missing: map[string]bool{}}
	for _, use := range a.Holds {
		if !use.Only.Fits(r.Case.Options) {
			continue
		}
		first, last := r.Numbers(use)
		one, err := r.useMass(use)
		if err != nil {
			return nil, err
		}
		m.add(one, last-first+1)
	}
	for _, j := range a.Joints {
		if !j.Only.Fits(r.Case.Options) {
			continue
		}
		places := r.JointPlaces(a, j)
		for _, id := range r.JointParts(j) {
			one, err := r.partMass(id)
			if err != nil {
				return nil, err
			}
			m.add(one, places)
		}
	}
	r.masses[a.ID.Text] = m
	return m, nil
}

// useMass is the mass of one instance of a use.
func (r *Reckoning) useMass(use *plan.Use) (*assemblyMass, error) {
	if id, ok := use.Part.Pick(r.Case.Options); ok {
		return r.partMass(id.Text)
	}
	if id, ok := use.Assembly.Pick(r.Case.Options); ok {
		if sub := r.Plan.Assembly(id.Text); sub != nil {
			return r.massOf(sub)
		}
	}
	return &assemblyMass{}, nil
}

func (r *Reckoning) partMass(id string) (*assemblyMass, error) {
	if err := r.circle(shapeOf(id)); err != nil {
		return nil, err
	}
	p := r.Part(id)
	switch {
	case p == nil:
		return &assemblyMass{}, nil
	case !p.Weighed:
		return &assemblyMass{missing: map[string]bool{id: true}}, nil
	}
	return &assemblyMass{kg: p.Mass}, nil
}
