package risk

import (
	"fmt"
	"math"

	"plansheaf/design/formula"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
)

// moving finds what a use's motions call for: what slides or swings closes on
// something, what turns round and round winds things up, what is lifted can fall.
func (c *calling) moving(a *plan.Assembly, u *plan.Use) {
	id, kg := c.moved(u)
	if id == "" {
		return
	}
	places := c.tree.around(id)
	for _, m := range u.Moves {
		span, ok := travel(c.r, m)
		if !ok {
			continue
		}
		name := a.ID.Text + "." + u.ID.Text
		switch {
		case m.Along.Given():
			millimetres := span * 1000
			if millimetres > harmlessGap {
				c.add(id, u.ID.At, places, fmt.Sprintf("%s slides by %s and closes on what stands in its way", name, length(span)), Crushing, DrawingIn, Cutting)
			}
			if m.Along.Text == "z" && kg >= harmlessMass && millimetres > harmlessGap {
				c.add(id, u.ID.At, places, fmt.Sprintf("%s weighs %s and hangs over its travel", name, mass(kg)), Falling)
			}
		case span >= 2*math.Pi:
			c.add(id, u.ID.At, places, fmt.Sprintf("%s turns round and round", name), Entanglement, DrawingIn, Cutting)
		case span > harmlessSwing:
			c.add(id, u.ID.At, places, fmt.Sprintf("%s swings and closes on what stands in its way", name), Crushing, DrawingIn, Entanglement, Cutting)
		}
	}
}

// moved is what a use places and its mass in kilograms.
func (c *calling) moved(u *plan.Use) (id string, kg float64) {
	if part, ok := u.Part.Pick(c.r.Case.Options); ok {
		if p := c.r.Part(part.Text); p != nil {
			return part.Text, p.Mass
		}
		return "", 0
	}
	if sub, ok := u.Assembly.Pick(c.r.Case.Options); ok {
		if a := c.r.Plan.Assembly(sub.Text); a != nil {
			kg, _ := c.r.AssemblyMass(a)
			return sub.Text, kg
		}
	}
	return "", 0
}

func length(metres float64) string {
	return quantity.Text(quantity.MM(metres*1000), quantity.Metric)
}

func mass(kg float64) string {
	return quantity.Text(quantity.Value{SI: kg, Dim: quantity.Mass}, quantity.Metric)
}

// travel is how far a move goes from one end of the plan's motions to the other, in
// metres or radians. A move that no motion drives does not go at all.
func travel(r *reckon.Reckoning, m plan.Move) (span float64, ok bool) {
	f, picked := m.By.Pick(r.Case.Options)
	if !picked || !f.Given() {
		return 0, false
	}
	from, failed := f.Expr.Value(at{Scope: r.Scope(), r: r})
	if failed != nil {
		return 0, false
	}
	to, failed := f.Expr.Value(at{Scope: r.Scope(), r: r, end: true})
	if failed != nil {
		return 0, false
	}
	return math.Abs(to.SI - from.SI), true
}

// at answers a plan's names with every motion at one end of its range.
type at struct {
	formula.Scope
	r   *reckon.Reckoning
	end bool
}

// Lookup is the value of a name.
func (s at) Lookup(name string) (quantity.Value, error) {
	m := s.r.Plan.Motion(name)
	if m == nil {
		return s.Scope.Lookup(name)
	}
	q := m.From
	if s.end {
		q = m.To
	}
	v, ok := s.r.Quantity(q)
	if !ok {
		return v, fmt.Errorf("the motion %q has no value", name)
	}
	return v.Nominal(), nil
}
