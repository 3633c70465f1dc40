package standards

import "strings"

// WithLength returns the same screw, set screw, pin or rivet in another length, in
// millimetres, false for what has no length. Ask [Stocked] whether it is sold.
func (f Fastener) WithLength(millimetres float64) (Fastener, bool) {
	s, known := catalogue().byName[f.Standard]
	if !known || f.Length == 0 {
		return f, false
	}
	text := s.formatLength(millimetres)
	var out Fastener
	switch f.Kind {
	case Screw:
		out = s.screw(f.Thread, millimetres, text)
	case SetScrew:
		out = s.setScrew(f.Thread, millimetres, text)
	case Pin, SpringPin, Rivet, WoodScrew:
		out = s.sized(f.Size, millimetres)
		out.PinTolerance = f.PinTolerance
	default:
		return f, false
	}
	out.Class, out.Material = f.Class, f.Material
	out.Mass = out.mass()
	return out, true
}

// ParseFamily reads a designation without its length, such as "ISO 4762 M8 - 8.8", and
// returns its shortest stocked screw. The error is a [*DesignationError].
func ParseFamily(designation string) (Fastener, error) {
	p := parser{designation: designation}
	if len(designation) > longestDesignation {
		return Fastener{}, p.fail(designation, "", "a designation has at most %d bytes", longestDesignation)
	}
	s, rest, err := p.standard(normaliseDesignation(designation))
	if err != nil {
		return Fastener{}, err
	}
	if s.kind != Screw && s.kind != SetScrew {
		return Fastener{}, p.fail(s.name, "", "%s is no standard of screws", s.name)
	}
	size, class := s.splitClass(rest)
	thread, err := p.thread(s, strings.TrimSpace(size), "")
	if err != nil {
		return Fastener{}, err
	}
	lengths := s.stocked(thread.Size)
	if len(lengths) == 0 {
		return Fastener{}, p.fail(size, "", "no lengths of %s %s are listed", s.name, thread.Name)
	}
	return p.fastener(s, thread.Name+s.cross()+s.formatLength(lengths[0]), class)
}
