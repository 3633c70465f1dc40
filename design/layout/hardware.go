package layout

import (
	"fmt"
	"math"

	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
	"plansheaf/design/standards"
)

// dress puts head, washers and nut of a fastening in their places along its axis.
func (l *Layout) dress(a *plan.Assembly, s *Fastening) {
	s.UnderHead, s.UnderNut = l.pickedAll(s.Joint.UnderHead), l.pickedAll(s.Joint.UnderNut)
	s.Head = 0
	for _, w := range s.UnderHead {
		s.Head -= l.Thickness(w)
	}
	first := s.Crossings[0]
	if f := s.Screw.Fastener; f != nil {
		switch {
		case f.Kind == standards.SetScrew:
			s.Head, s.Touches = l.setScrewTop(a, s, f.Length)
		case f.Kind == standards.Ring:
			s.Head = f.Groove.Thick / 2
		case f.Kind == standards.WoodScrew && first.Part.Material.Family == "wood" && (first.Feature.Hole == nil || first.Feature.Hole.Countersink == nil):
			// It draws its head in flush.
		case f.Head.Form == standards.Countersunk && len(s.UnderHead) == 0:
			s.Head = sunk(f.Head, first)
		}
	}
	s.Nut = l.picked(s.Joint.Into)
	if s.Nut == nil {
		return
	}
	last := s.Crossings[len(s.Crossings)-1]
	switch own := s.Nut.Part.Fastener; {
	case own != nil && own.Kind.Text == "insert":
		s.NutFrom = last.Enter
		if !last.Facing && last.Feature.Kind == solid.HoleFeature {
			s.NutFrom = last.Leave - l.Thickness(s.Nut)
		}
		return
	default:
		s.NutFrom = last.Leave
		if bore := counterbore(last.Feature); bore != nil && !last.Facing {
			s.NutFrom -= bore.Depth
		}
	}
	for _, w := range s.UnderNut {
		s.NutFrom += l.Thickness(w)
	}
}

// sunk is where the top of a countersunk head comes to lie: below Seat where the
// countersink is wider than the head, above where it is narrower or missing.
func sunk(head standards.Head, first Crossing) float64 {
	wide, half := first.Feature.D, head.Angle*math.Pi/360
	if hole := first.Feature.Hole; hole != nil && hole.Countersink != nil && first.Facing {
		wide = hole.Countersink.D
		half = hole.Countersink.Angle / 2
	}
	if half <= 0 || half >= math.Pi/2 {
		return 0
	}
	return (wide - head.Diameter) / 2 / math.Tan(half)
}

// setScrewTop is where the top of a set screw lies when its point touches what the
// joint grips; flush with the mouth of its hole where it grips nothing in reach.
func (l *Layout) setScrewTop(a *plan.Assembly, s *Fastening, long float64) (top float64, touches bool) {
	depth := math.Inf(1)
	for _, m := range l.layer(a, s.Joint.Mine.Features) {
		if m.part.Solid == nil {
			continue
		}
		inverse := m.at.Inverse()
		for _, h := range m.part.Solid.Ray(inverse.Point(s.Seat), inverse.Direction(s.Dir)) {
			if h.Enters {
				depth = math.Min(depth, h.T)
				break
			}
		}
	}
	if math.IsInf(depth, 0) {
		return 0, false
	}
	return depth - long, true
}

// Thickness is how much of a screw's length a washer, a nut or an insert takes, mm; 0
// where neither a standard nor the plan says.
func (l *Layout) Thickness(p *reckon.Part) float64 {
	if f := p.Fastener; f != nil {
		switch f.Kind {
		case standards.Washer:
			return f.WasherThick
		case standards.Nut:
			return f.NutHeight
		}
		return 0
	}
	own := p.Part.Fastener
	if own == nil {
		return 0
	}
	for _, q := range []plan.Quantity{own.Height, own.Length} {
		if v, ok := l.r.Length(q); ok {
			return v
		}
	}
	if t, known := standards.ThreadByName(own.Thread.Text); known && own.Kind.Text == "nut" {
		if nut, listed := hexNut(t); listed {
			return nut.NutHeight
		}
	}
	return 0
}

// Hardware is every body of the fastening: screw, washers and nut, in the axes of the
// joint's assembly. What has no known shape is left out.
func (s *Fastening) Hardware() []Piece {
	l := s.holder
	var out []Piece
	add := func(p *reckon.Part, at float64, up solid.Vec) {
		if body := l.fastener(p); body != nil {
			out = append(out, Piece{Joint: s.Joint.ID.Text, Place: s.Place, Part: p, Solid: body, At: standing(s.On(at), up)})
		}
	}
	add(s.Screw, s.Head, s.Dir.Mul(-1))
	at := s.Head
	for _, w := range s.UnderHead {
		at += l.Thickness(w)
		add(w, at, s.Dir.Mul(-1))
	}
	if s.Nut == nil {
		return out
	}
	at = s.NutFrom
	for i := len(s.UnderNut) - 1; i >= 0; i-- {
		at -= l.Thickness(s.UnderNut[i])
	}
	for _, w := range s.UnderNut {
		add(w, at, s.Dir)
		at += l.Thickness(w)
	}
	add(s.Nut, s.NutFrom, s.Dir)
	if last := s.Crossings[len(s.Crossings)-1].Feature; last.Kind == solid.SlotFeature && out[len(out)-1].Part == s.Nut {
		out[len(out)-1].At = solid.Placement{Turn: [3]solid.Vec{last.Along.Cross(s.Dir), last.Along, s.Dir}, Move: s.On(s.NutFrom)}
	}
	return out
}

// hexNut is the plain hexagon nut of a thread.
func hexNut(t standards.Thread) (f standards.Fastener, listed bool) {
	name := "ISO 4032"
	switch {
	case t.Inch:
		name = "ASME B18.2.2"
	case t.Series == "fine":
		name = "ISO 8673"
	}
	f, err := standards.Parse(name + " " + t.Name)
	return f, err == nil
}

// On is the point of the axis at a distance from Seat.
func (s *Fastening) On(along float64) solid.Vec { return s.Seat.Add(s.Dir.Mul(along)) }

// fastener is the shape of a fastener, built once; nil for one whose sizes are not
// known.
func (l *Layout) fastener(p *reckon.Part) *solid.Solid {
	id := p.Part.ID.Text
	body, built := l.fasteners[id]
	if built {
		return body
	}
	switch own := p.Part.Fastener; {
	case p.Fastener != nil:
		body = l.r.Shared(fmt.Sprintf("fastener %+v", *p.Fastener), func() *solid.Solid { return reckon.FastenerSolid(*p.Fastener) })
	case own != nil:
		key := fmt.Sprintf("bought %q %q %g %t", own.Kind.Text, own.Thread.Text, l.Thickness(p), own.Slot.Given())
		for _, q := range []plan.Quantity{own.Slot, own.Outside, own.Seat} {
			mm, known := l.r.Length(q)
			key += fmt.Sprintf(" %g %t", mm, known)
		}
		body = l.r.Shared(key, func() *solid.Solid { return l.boughtFastener(p) })
	}
	l.fasteners[id] = body
	return body
}

const (
	// lipCover is how much wider than its slot a slot nut is where the plan does not
	// say, as a share of the slot; slotNutLong its length along the slot in screw
	// diameters. Common practice, no source.
	lipCover    = 1.2
	slotNutLong = 2.0
)

// boughtFastener is the shape of a fastener that no standard describes, from what the
// plan says of it: standing on z = 0, its axis along z.
func (l *Layout) boughtFastener(p *reckon.Part) *solid.Solid {
	own := p.Part.Fastener
	t, ok := standards.ThreadByName(own.Thread.Text)
	high := l.Thickness(p)
	if !ok || high <= 0 {
		return nil
	}
	given := func(q plan.Quantity, otherwise float64) float64 {
		if v, ok := l.r.Length(q); ok {
			return v
		}
		return otherwise
	}
	bore := t.Minor
	var outside solid.Primitive
	var wide, deep float64
	switch {
	case own.Kind.Text == "nut" && own.Slot.Given():
		wide, deep = given(own.Outside, given(own.Slot, 0)*lipCover), slotNutLong*t.Major
		outside = solid.Block{Size: solid.Vec{X: wide, Y: deep, Z: high}}
	case own.Kind.Text == "nut":
		nut, listed := hexNut(t)
		if !listed {
			return nil
		}
		nut.NutHeight, nut.NutHexagon = high, high
		return reckon.FastenerSolid(nut)
	case own.Kind.Text == "insert":
		wide = given(own.Seat, 0)
		deep = wide
		outside = solid.Rod{D: wide, L: high}
	case own.Kind.Text == "washer":
		wide = given(own.Outside, 0)
		deep = wide
		if d, known := standards.Clearance(t, ""); known {
			bore = d
		}
		outside = solid.Rod{D: wide, L: high}
	default:
		return nil
	}
	if wide <= bore {
		return nil
	}
	body, err := solid.Build(solid.Shape{Base: solid.Group{
		{Shape: outside, Along: solid.AxisZ},
		{Shape: solid.Rod{D: bore, L: high}, Along: solid.AxisZ, At: solid.Vec{X: (wide - bore) / 2, Y: (deep - bore) / 2}, Cut: true},
	}})
	if err != nil {
		return nil
	}
	return body.Placed(solid.Moved(solid.Vec{X: -wide / 2, Y: -deep / 2}))
}

// standing takes a fastener's own axes, z up from what it stands on, to a point and
// the way that up is.
func standing(at, up solid.Vec) solid.Placement {
	frame := solid.FrameAlong(at, up)
	return solid.Placement{Turn: [3]solid.Vec{frame.X, frame.Y, frame.Z}, Move: frame.O}
}
