package joint

import (
	"math"

	"plansheaf/design/layout"
	"plansheaf/design/memo"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
	"plansheaf/design/standards"
)

const (
	// A ring is looked at along this many rays in each of its bands.
	ringRays  = 24
	ringBands = 4
	// skin (mm) is how far below and above its plane the material under a head is
	// looked for.
	skin = 0.02
	// spare (mm) is taken off the ring's outer edge: heads and washers are chamfered.
	spare = 0.05
)

// A Ring is what a head, a washer or a nut bears on. All in mm; shares from 0 to 1.
type Ring struct {
	Inside, Outside float64 // diameters: of the hole, and of what bears
	By              *reckon.Part
	Carried         float64 // the share of the ring that has material under it
	Edge            float64 // the share that hangs over the edge of the part
	Fouled          float64 // how high material stands in the ring's way; 0 for none
	Under           float64 // how far in from the ring's rim that material reaches, mm
	Rises           bool    // it is not equally high all along, as the rounding of an inner corner
}

// Area is the area that carries, mm².
func (g Ring) Area() float64 {
	return math.Pi / 4 * (g.Outside*g.Outside - g.Inside*g.Inside) * g.Carried
}

// HeadRing is what the head, or the washer under it, bears on; ok is false for set
// screws, countersunk heads and parts whose sizes are not known.
func (m *Machine) HeadRing(s *Stack) (Ring, bool) { return kept(m.heads, s, m.headRing) }

func (m *Machine) headRing(s *Stack) (g Ring, ok bool) {
	g.By, g.Outside = s.Screw, 0
	if n := len(s.UnderHead); n > 0 {
		g.By = s.UnderHead[n-1]
		g.Outside = m.outsideOf(g.By)
	} else if f := s.Screw.Fastener; f != nil && f.Head.Form != standards.Countersunk {
		g.Outside = bearingDiameter(*f)
	}
	if g.Outside <= 0 {
		return g, false
	}
	high := m.l.Thickness(g.By)
	if f := s.Screw.Fastener; f != nil && len(s.UnderHead) == 0 {
		high = f.Head.Height
	}
	return m.ring(s, &s.Crossings[0], 0, 1, high, g)
}

// NutRing is what the nut, or the washer under it, bears on behind the last layer; ok
// is false for other threads.
func (m *Machine) NutRing(s *Stack) (Ring, bool) { return kept(m.nuts, s, m.nutRing) }

func (m *Machine) nutRing(s *Stack) (g Ring, ok bool) {
	if s.Catch != InNut {
		return g, false
	}
	g.By = s.Nut
	at, high := s.NutFrom, m.l.Thickness(s.Nut)
	if len(s.UnderNut) > 0 {
		g.By = s.UnderNut[0]
		g.Outside, high = m.outsideOf(g.By), m.l.Thickness(g.By)
		for _, w := range s.UnderNut {
			at -= m.l.Thickness(w)
		}
	} else if f := s.Nut.Fastener; f != nil {
		g.Outside = bearingDiameter(*f)
	}
	if g.Outside <= 0 {
		return g, false
	}
	return m.ring(s, s.Last(), at, -1, high, g)
}

// flatsBear is the diameter of the face that a hexagon bears with over its width
// across flats: 11.63 of 13 mm, 14.63 of 16 mm (ISO 4014, least dw of M8 and M10).
const flatsBear = 0.9

// bearingDiameter is the diameter of the face that a head or a nut bears with.
func bearingDiameter(f standards.Fastener) float64 {
	if f.Flats > 0 {
		return f.Flats * flatsBear
	}
	return f.Head.Diameter
}

// outsideOf is a washer's outer diameter.
func (m *Machine) outsideOf(p *reckon.Part) float64 {
	if p.Fastener != nil {
		return p.Fastener.WasherOutside
	}
	if p.Part.Fastener == nil {
		return 0
	}
	mm, _ := m.r.Length(p.Part.Fastener.Outside)
	return mm
}

// ring looks at the material of a layer under a ring at a distance along the screw.
// into is 1 where the layer lies beyond that plane, -1 where it lies before it.
func (m *Machine) ring(s *Stack, c *layout.Crossing, at, into, high float64, g Ring) (Ring, bool) {
	if c.Part.Solid == nil {
		return g, false
	}
	g.Inside = s.Thread.Major
	if c.Feature.Kind == solid.HoleFeature {
		g.Inside = c.Feature.D
	}
	outer, inner := g.Outside/2-spare, g.Inside/2+spare
	if outer <= inner {
		return g, true // nothing carries: the head falls through
	}
	body, place, seat, dir := c.Part.Solid, c.At, s.Seat, s.Dir
	is := memo.Sure(m.Kept, "what a ring bears on", func() bearing {
		return measured(body, place, seat, dir, inner, outer, at, into, high)
	}, body, place, seat, dir, inner, outer, at, into, high)
	g.Carried, g.Edge, g.Fouled, g.Under, g.Rises = is.Carried, is.Edge, is.Fouled, is.Under, is.Rises
	return g, true
}

// A bearing is what is measured of a [Ring].
type bearing struct {
	Carried, Edge, Fouled, Under float64
	Rises                        bool
}

// measured looks at a body at a place under a ring about an axis, given by its radii and
// its height.
func measured(body *solid.Solid, place solid.Placement, seat, dir solid.Vec, inner, outer, at, into, high float64) (g bearing) {
	frame, inverse := solid.FrameAlong(seat, dir), place.Inverse()
	way := inverse.Direction(dir)
	box := body.Box().Grow(skin)
	f := fouling{body: body, way: way, into: into, high: high, low: math.Inf(1)}
	f.from = func(r, sin, cos float64) solid.Vec { return inverse.Point(frame.Point(r*cos, r*sin, at)) }
	var carried, edge, all float64
	for band := 0; band < ringBands; band++ {
		r := inner + (outer-inner)*(float64(band)+0.5)/ringBands
		for i := 0; i < ringRays; i++ {
			sin, cos := math.Sincos(skew + float64(i)*2*math.Pi/ringRays)
			from := f.from(r, sin, cos)
			under, above, sure := probe(body, from, way, into, high)
			if !sure {
				continue
			}
			all += r
			f.note(above)
			if band == ringBands-1 {
				f.atRim(inner, outer, sin, cos)
			}
			switch {
			case under:
				carried += r
			case !box.Holds(from):
				edge += r
			}
		}
	}
	if all > 0 {
		g.Carried, g.Edge = carried/all, edge/all
	}
	g.Fouled, g.Under, g.Rises = f.most, f.under, f.most-f.low > skin
	return g
}

const (
	// standsUp (mm) is how high material must rise to be in a ring's way: less is a burr,
	// or what the rounding under a head's own edge clears.
	standsUp = 0.05
	// halvings is how often the place where material begins to rise is closed in on.
	halvings = 12
)

// A fouling is what stands in the way of a ring, found along rays.
type fouling struct {
	body       *solid.Solid
	way        solid.Vec
	into, high float64
	from       func(r, sin, cos float64) solid.Vec // a point of the ring's plane, in the body's axes
	most, low  float64                             // heights, mm
	under      float64                             // how far in from the rim, mm
}

// note takes a height that was found on a ray.
func (f *fouling) note(above float64) {
	f.most = math.Max(f.most, above)
	if above > standsUp {
		f.low = math.Min(f.low, above)
	}
}

// atRim looks at the ring's rim, where the rounding of an inner corner is met first, and
// how far in from there it reaches.
func (f *fouling) atRim(inner, outer, sin, cos float64) {
	_, above, sure := probe(f.body, f.from(outer, sin, cos), f.way, f.into, f.high)
	if !sure {
		return
	}
	f.note(above)
	if above <= standsUp || f.under >= outer-inner {
		return
	}
	free, fouled := inner, outer
	if _, above, _ := probe(f.body, f.from(inner, sin, cos), f.way, f.into, f.high); above > standsUp {
		f.under = outer - inner
		return
	}
	for range halvings {
		mid := (free + fouled) / 2
		if _, above, sure := probe(f.body, f.from(mid, sin, cos), f.way, f.into, f.high); sure && above <= standsUp {
			free = mid
		} else {
			fouled = mid
		}
	}
	f.under = math.Max(f.under, outer-fouled)
}

// probe looks along a line at the material around a plane: whether some lies just
// under it, and how high it stands above it within what bears there.
func probe(body *solid.Solid, at, way solid.Vec, into, high float64) (under bool, above float64, sure bool) {
	hits := body.Line(at, way)
	inside, start := false, 0.0
	for _, h := range hits {
		if h.Unsure {
			return false, 0, false
		}
		if h.Enters {
			inside, start = true, h.T
			continue
		}
		if !inside {
			continue
		}
		inside = false
		from, to := start*into, h.T*into
		if from > to {
			from, to = to, from
		}
		if from < skin && to > skin {
			under = true
		}
		if to > -high && from < -skin && to > -high+skin {
			above = math.Max(above, math.Min(high, -from))
		}
	}
	return under, above, true
}
