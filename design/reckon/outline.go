package reckon

import (
	"plansheaf/design/plan"
	"plansheaf/design/solid"
)

// Sides returns the sides of a part's outline as the plan gives them, before its
// corners are rounded or chamfered, mm, in the part's own axes: those of a polygon or
// a path in the order of its points, a rectangle's from the origin on anticlockwise.
// A drawing names them side_1, side_2 ..., and the points that they begin at
// corner_1, corner_2 .... Nil for parts without a solid or an outline.
func (r *Reckoning) Sides(p *Part) solid.Outline {
	for p != nil && p.Part.Outline == nil {
		p = p.Base
	}
	if p == nil || p.Solid == nil {
		return nil
	}
	bare := *p.Part.Outline
	bare.Corners = plan.Corners{}
	s := &shaper{r: r, ok: true}
	sides, whole := s.outline(&bare), s.outline(p.Part.Outline)
	if !s.ok {
		return nil
	}
	low := whole.Lowest()
	moved := make(solid.Outline, len(sides))
	for i, side := range sides {
		for _, at := range []*solid.Vec2{&side.From, &side.To, &side.Centre} {
			*at = solid.Vec2{X: at.X - low.X, Y: at.Y - low.Y}
		}
		moved[i] = side
	}
	return moved
}
