package reckon

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/solid"
)

// Telescope is how a part stretches, its own or that of what it is made from, with
// the part whose shapes it names; nil for a part that does not.
func (r *Reckoning) Telescope(p *plan.Part) (t *plan.Telescope, of *plan.Part) {
	for depth := 0; p != nil && depth < maxDepth; depth++ {
		if p.Telescope != nil {
			t = p.Telescope
		}
		if t != nil && len(p.Shape) > 0 || !p.Of.Given() {
			return t, p
		}
		p = r.Plan.Part(p.Of.Text)
	}
	return nil, nil
}

// Telescoped cuts a part that stretches in two: what stays and what comes out, both
// in the part's own axes as its shapes are given. Where a moving shape stands inside
// of another, the other gets the bore that it leaves. Both are nil for a part that
// does not stretch, or whose shapes cannot be told apart, which is then among the
// findings.
func (r *Reckoning) Telescoped(id string) (stays, comes *solid.Solid) {
	p := r.Part(id)
	if p == nil || p.Solid == nil {
		return nil, nil
	}
	t, source := r.Telescope(p.Part)
	if t == nil {
		return nil, nil
	}
	key := halvesKey{p.Solid, t}
	if known, ok := r.shapes.divided(key); ok {
		return known[0], known[1]
	}
	var out []*solid.Solid
	for _, m := range source.Shape {
		if m.Cut || !named(t.Shapes, m.Name.Text) {
			continue
		}
		f, ok := p.Solid.Feature(m.Name.Text)
		s := &shaper{r: r, ok: true}
		m.Place = plan.Point{}
		group := s.group([]plan.Solid{m})
		if !ok || !s.ok {
			return nil, nil
		}
		body, _, err := r.shapes.build(solid.Shape{Base: group})
		if err != nil {
			return nil, nil // the part's own shape has said so
		}
		out = append(out, body.Placed(solid.Moved(f.Box.Min)))
	}
	stays, comes, err := divided(p.Solid, out)
	if err != nil {
		r.note(BadShape, finding.Finding{
			At: t.At, Subject: id, Message: fmt.Sprintf("what comes out cannot be told from what stays: %v", err),
		})
		return nil, nil
	}
	r.shapes.divide(key, [2]*solid.Solid{stays, comes})
	return stays, comes
}

// A halvesKey is a part's solid and how it stretches, which together tell its halves.
type halvesKey struct {
	whole *solid.Solid
	says  *plan.Telescope
}

// divided are the halves of a solid that was cut already, in this case or in another one,
// or with the motions elsewhere.
func (s *Shapes) divided(key halvesKey) (halves [2]*solid.Solid, known bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	halves, known = s.halves[key]
	return halves, known
}

// divide keeps the halves of a solid.
func (s *Shapes) divide(key halvesKey, halves [2]*solid.Solid) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.halves[key] = halves
}

func named(list []plan.Word, name string) bool {
	for _, w := range list {
		if w.Text == name {
			return true
		}
	}
	return false
}

// divided cuts a body along the shapes that come out of it. Taking them from the
// body itself keeps the holes that are cut in them.
func divided(body *solid.Solid, out []*solid.Solid) (stays, comes *solid.Solid, err error) {
	if len(out) == 0 {
		return nil, nil, fmt.Errorf("no shape of the part bears one of the names")
	}
	all := out[0]
	for _, s := range out[1:] {
		if all, err = solid.Union(all, s); err != nil {
			return nil, nil, err
		}
	}
	if comes, err = solid.Intersect(body, all); err != nil {
		return nil, nil, err
	}
	if stays, err = solid.Subtract(body, all); err != nil {
		return nil, nil, err
	}
	if len(stays.Faces) == 0 || len(comes.Faces) == 0 {
		return nil, nil, fmt.Errorf("nothing stays, or nothing comes out")
	}
	return stays, comes, nil
}
