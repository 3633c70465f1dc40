package standards

// WithLength returns the same screw, set screw or pin in another length, in
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
	case Pin:
		out = s.pin(f.Size, millimetres)
	default:
		return f, false
	}
	out.Class, out.Material = f.Class, f.Material
	out.Mass = out.mass()
	return out, true
}
