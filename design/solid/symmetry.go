package solid

// Symmetry says in which ways a bar's section looks the same when it is turned over.
type Symmetry struct {
	First, Second bool // mirrored along the first axis across, along the second
	Half, Quarter bool // turned by half a turn, by a quarter turn
}

// SectionSymmetry finds a section's symmetries. Arcs must correspond whole: an outline
// whose arcs are cut up differently on both sides counts as not symmetric. The error is
// [Faults].
func SectionSymmetry(s Section) (Symmetry, error) {
	reg, err := s.region()
	if err != nil {
		return Symmetry{}, err
	}
	lo, hi := reg.loops[0].bounds()
	size := hi.sub(lo)
	var out Symmetry
	out.First = reg.same(func(p Vec2) Vec2 { return Vec2{size.X - p.X, p.Y} }, true)
	out.Second = reg.same(func(p Vec2) Vec2 { return Vec2{p.X, size.Y - p.Y} }, true)
	out.Half = reg.same(func(p Vec2) Vec2 { return Vec2{size.X - p.X, size.Y - p.Y} }, false)
	out.Quarter = reg.same(func(p Vec2) Vec2 { return Vec2{size.Y - p.Y, p.X} }, false)
	return out, nil
}

// same tells whether a motion takes every span of the region to a span of it; mirrors
// says that it runs spans the other way.
func (r region) same(motion func(Vec2) Vec2, mirrors bool) bool {
	for _, loop := range r.loops {
		for _, span := range loop {
			moved := span
			moved.From, moved.To, moved.Centre = motion(span.From), motion(span.To), motion(span.Centre)
			if mirrors {
				moved.From, moved.To = moved.To, moved.From
			}
			if !r.has(moved) {
				return false
			}
		}
	}
	return true
}

// has tells whether a span is one of the region's.
func (r region) has(span Span) bool {
	near := func(p, q Vec2) bool { return p.dist(q) < Tolerance }
	for _, loop := range r.loops {
		for _, s := range loop {
			switch {
			case s.Arc != span.Arc:
			case s.Arc && (!near(s.Centre, span.Centre) || s.Clockwise != span.Clockwise):
			case s.Arc && near(s.From, s.To) && near(span.From, span.To):
				if d := s.radius() - span.radius(); d < Tolerance && d > -Tolerance {
					return true
				}
			case near(s.From, span.From) && near(s.To, span.To):
				return true
			}
		}
	}
	return false
}
