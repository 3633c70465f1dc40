package chain

import (
	"fmt"
	"math"

	"plansheaf/design/joint"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/solid"
	"plansheaf/design/standards"
)

// touches reports whether two faces of different parts lie on each other.
func touches(s, t station) bool {
	return facing(s, t) && math.Abs(s.pos-t.pos) <= touching
}

// facing reports whether two faces of different parts look at each other, at whatever
// distance.
func facing(s, t station) bool {
	return s.in != t.in && s.level() && t.level() && s.facing*t.facing < 0 && beside(s, t, -touching)
}

// beside reports whether two faces share more than least, mm, in either way across the
// chain.
func beside(s, t station, least float64) bool {
	u := s.at.Direction(s.way)
	a, b := s.box(), t.box()
	for k := range 3 {
		if math.Abs(coordinate(u, k)) > 1-flat {
			continue
		}
		if math.Min(coordinate(a.Max, k), coordinate(b.Max, k))-math.Max(coordinate(a.Min, k), coordinate(b.Min, k)) <= least {
			return false
		}
	}
	return true
}

// meet is the step from a part to the next; it adds what play the two have there.
func (b *builder) meet(s, t station, link *Link) bool {
	if s.level() {
		return true // way has seen that they touch
	}
	h, found := b.holding(s, t)
	if !found {
		b.fault(Apart, t.said(b.chain), fmt.Sprintf("nothing holds %s and %s in line: no joint of the machine goes through both, and neither stands in the other", s.full(), t.full()),
			"name holes that one screw goes through, or a shaft and the hole that it stands in")
		return false
	}
	link.Held = h.path
	if b.chain.Shift.Text == plan.Centred {
		return true
	}
	for _, p := range b.plays(h, s, t) {
		p.Link = len(b.report.Links)
		b.list = append(b.list, p)
	}
	return true
}

// plays are the shifts that a joint leaves between two parts that it holds in line.
func (b *builder) plays(h hold, s, t station) []Contributor {
	var out []Contributor
	if h.fastening != nil {
		shank, says := b.shank(h)
		for _, one := range []station{s, t} {
			if free := b.free(one, h, shank); free > solid.Tolerance {
				c := b.shift(one, free)
				c.Says = "screw of " + says + " in " + c.Says
				out = append(out, c)
			}
		}
		return out
	}
	if h.kind == plan.Press {
		return nil
	}
	hole, shaft := s, t
	if b.inside(t) && !b.inside(s) {
		hole, shaft = t, s
	}
	large, small := b.limits(hole), b.limits(shaft)
	if free := large.high - small.low; free > solid.Tolerance {
		c := b.shift(hole, free)
		c.Says = small.says + " in " + large.says
		return []Contributor{c}
	}
	return nil
}

// shift is the contributor of a hole that is wider than what stands in it.
func (b *builder) shift(s station, free float64) Contributor {
	large := b.limits(s)
	return Contributor{
		Kind: Shift, Path: s.in.Path, Title: s.part.Part.Title.Value, From: s.says(), Sense: 1,
		Lower: -free / 2, Upper: free / 2, Basis: large.basis, Says: large.says, At: s.said(b.chain),
	}
}

// inside reports whether a feature is a hole, as opposed to a shaft.
func (b *builder) inside(s station) bool {
	return s.f.Kind == solid.HoleFeature || s.f.Kind == solid.SlotFeature || s.cutAway()
}

// free is how much wider a hole is than a screw at most, along the chain; 0 where the
// screw cannot move in it: in its thread, or where its head centres itself.
func (b *builder) free(s station, h hold, shank float64) float64 {
	if hole := s.f.Hole; hole != nil {
		switch hole.Kind {
		case solid.Tapped, solid.Forming, solid.InsertFor:
			return 0
		case solid.Obround:
			if math.Abs(s.f.Along.Dot(s.way)) > flat { // what lies askew moves along its long way
				l := b.limits(s)
				return hole.Long - hole.D + l.high - shank
			}
		}
		if f := h.fastening.Screw.Fastener; hole.Countersink != nil && f != nil && f.Head.Form == standards.Countersunk {
			return 0
		}
	}
	return b.limits(s).high - shank
}

// shank is the least diameter of what stands in a joint's holes, and its name.
func (b *builder) shank(h hold) (d float64, says string) {
	f := h.fastening.Screw.Fastener
	if f != nil && f.PinDiameter > 0 {
		if low, _, err := standards.Limits(f.PinDiameter, f.PinTolerance); err == nil {
			return f.PinDiameter + low, f.Size + " mm " + f.PinTolerance
		}
		return f.PinDiameter, f.Size + " mm"
	}
	t, ok := joint.ThreadOf(b.r, h.fastening.Screw)
	if !ok {
		if f != nil && f.Kind == standards.WoodScrew {
			return f.Head.Diameter / 2, f.Size
		}
		return math.Inf(1), ""
	}
	return leastMajor(t), t.Name
}

// leastMajor is the least major diameter of a screw's thread: of a metric one in
// tolerance class 6g, by the formulas behind ISO 965-1 (from memory); of others the
// nominal one.
func leastMajor(t standards.Thread) float64 {
	if t.Inch || t.Series == "trapezoidal" || t.Pitch <= 0 {
		return t.Major
	}
	const micrometre = 1e-3
	deviation := 15 + 11*t.Pitch
	width := 180*math.Cbrt(t.Pitch*t.Pitch) - 3.15/math.Sqrt(t.Pitch)
	return t.Major - (deviation+width)*micrometre
}

// limited is a diameter with its limits, mm.
type limited struct {
	nominal, low, high float64
	basis              Basis
	says               string
}

// clearanceClasses are the tolerance classes of clearance holes by their fit; the
// series of ISO 273 (from memory), whose rows the fits of ASME B18.2.8 follow.
var clearanceClasses = map[string]string{"fine": "H12", "close": "H12", "coarse": "H14", "loose": "H14"}

// limits are the limits of a round feature's diameter: of the drawing's dimension, of
// its own spread or fit, of a clearance hole, or of the general tolerance. Printed
// holes come out smaller by their allowance.
func (b *builder) limits(s station) limited {
	l := limited{nominal: s.f.D, low: s.f.D, high: s.f.D}
	printed := 0.0
	if b.inside(s) {
		printed = b.j.Allowance(s.part)
	}
	if d, ok := b.drawnDiameter(s); ok {
		l.low, l.high, l.basis, l.says = s.f.D+d.lower-printed, s.f.D+d.upper-printed, d.basis, d.says
		return l
	}
	if size, ok := b.j.SizeOf(s.mate()); ok && size.Stated {
		l.low, l.high, l.basis, l.says = size.Low, size.High, Own, size.Text
		if size.Fit != "" {
			l.basis = Fit
		}
		return l
	}
	if h := s.f.Hole; h != nil && h.Kind == solid.Clearance && s.spot.Hole != nil {
		class := clearanceClasses[s.spot.Hole.Fit.Text]
		if class == "" {
			class = "H13"
		}
		if low, high, err := standards.Limits(s.f.D, class); err == nil {
			l.low, l.high, l.basis, l.says = s.f.D+low-printed, s.f.D+high-printed, Fit, diameterText(s.f.D)+" "+class
			return l
		}
	}
	tol, says, basis := b.general(s, s.f.D, "diameter of "+s.spot.Feature, s.said(b.chain))
	l.low, l.high, l.basis, l.says = s.f.D-tol-printed, s.f.D+tol-printed, basis, says
	return l
}

func diameterText(mm float64) string {
	return "⌀" + quantity.Text(quantity.MM(mm), quantity.Metric)
}
