package chain

import (
	"fmt"
	"math"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
	"plansheaf/design/standards"
)

// within adds the sizes of a part between two of its features.
func (b *builder) within(s, t station, link int) {
	if s.wall != 0 && t.wall != 0 && s.spot.Feature == t.spot.Feature {
		b.diameter(s, t.wall, 1, link)
		return
	}
	if s.wall != 0 {
		b.diameter(s, -s.wall, 0.5, link)
	}
	for _, c := range b.between(s, t) {
		c.Link = link
		b.list = append(b.list, c)
	}
	if t.wall != 0 {
		b.diameter(t, t.wall, 0.5, link)
	}
}

// diameter adds the diameter of a feature whose wall the chain passes.
func (b *builder) diameter(s station, sense, share float64, link int) {
	l := b.limits(s)
	c := Contributor{
		Kind: Diameter, Path: s.in.Path, Title: s.part.Part.Title.Value, From: s.spot.Feature, Size: s.across, Sense: sense * share,
		Lower: l.low - l.nominal, Upper: l.high - l.nominal, Basis: l.basis, Says: l.says, At: s.said(b.chain), Link: link,
	}
	b.list = append(b.list, c)
}

// between are the sizes along the chain between the places of two features, walls
// counting as their axes.
func (b *builder) between(s, t station) []Contributor {
	p, q := s.place(), t.place()
	if k := ownAxis(s.way); k >= 0 {
		return b.sized(s, t, k, coordinate(p, k), coordinate(q, k), coordinate(s.way, k))
	}
	if s.level() && s.wall == 0 || t.level() && t.wall == 0 {
		// A slanted face: its drawing gives the distance square to it.
		size := q.Sub(p).Dot(s.way)
		if math.Abs(size) < solid.Tolerance {
			return nil
		}
		return []Contributor{b.direct(s, t, math.Abs(size), sign(size))}
	}
	var out []Contributor
	for k := range 3 {
		if way := coordinate(s.way, k); math.Abs(way) > flat {
			out = append(out, b.sized(s, t, k, coordinate(p, k), coordinate(q, k), way)...)
		}
	}
	return out
}

// place is the point of the part that the station's sizes are taken to, in the part's
// own axes.
func (s station) place() solid.Vec {
	if s.wall != 0 {
		return s.f.At
	}
	p := s.at.Inverse().Point(s.at.Direction(s.way).Mul(s.pos))
	// Along the chain this is the station's place; across it the feature's own counts.
	return s.f.At.Add(s.way.Mul(p.Sub(s.f.At).Dot(s.way)))
}

// sized are the sizes of a part from one coordinate of its axis k to another; way is
// what a step along that axis moves along the chain.
func (b *builder) sized(s, t station, k int, from, to, way float64) []Contributor {
	if math.Abs(to-from) < solid.Tolerance {
		return nil
	}
	if path := shortestPath(b.edges(s.part), k, from, to); len(path) > 0 {
		var out []Contributor
		for _, e := range path {
			out = append(out, Contributor{
				Kind: Length, Path: s.in.Path, Title: s.part.Part.Title.Value, From: e.start, To: e.end, Size: math.Abs(e.to - e.from),
				Sense: way * sign(e.to-e.from), Lower: e.lower, Upper: e.upper, Basis: e.basis, Says: e.says, At: e.at,
			})
		}
		return out
	}
	return []Contributor{b.direct(s, t, math.Abs(to-from), way*sign(to-from))}
}

// direct is a size as a dimension of its own between two features.
func (b *builder) direct(s, t station, size, sense float64) Contributor {
	c := Contributor{
		Kind: Length, Path: s.in.Path, Title: s.part.Part.Title.Value, From: s.sizedTo(), To: t.sizedTo(), Size: size, Sense: sense, At: t.said(b.chain),
	}
	if !t.named.Known() {
		c.At = s.said(b.chain)
	}
	if e, ok := b.ownWord(s.part, size); ok {
		c.Lower, c.Upper, c.Basis, c.Says, c.At = e.lower, e.upper, Own, e.says, e.at
		return c
	}
	tol, says, basis := b.general(s, size, c.From+" to "+c.To, c.At)
	c.Lower, c.Upper, c.Says, c.Basis = -tol, tol, says, basis
	return c
}

// ownWord is a property of a bought part that has a spread and is as long as the size:
// has: {width: 9 mm ± 0.1 mm}.
func (b *builder) ownWord(p *reckon.Part, size float64) (edge, bool) {
	for depth := 0; p != nil && depth < altered; p, depth = p.Base, depth+1 {
		for _, h := range p.Part.Has {
			v, ok := b.spread(h.Is)
			if ok && math.Abs(v.SI*1000-size) < solid.Tolerance {
				return edge{lower: -v.Minus * 1000, upper: v.Plus * 1000, says: h.Name.Text + " " + quantity.Text(v, quantity.Metric), at: h.Is.At}, true
			}
		}
	}
	return edge{}, false
}

// spread is a length that has a spread of its own; false for others.
func (b *builder) spread(q plan.Quantity) (quantity.Value, bool) {
	f, ok := q.Pick(b.r.Case.Options)
	if !ok || !f.Given() || !f.Expr.HasSpread() {
		return quantity.Value{}, false
	}
	v, ok := b.r.Quantity(q)
	return v, ok && v.Is(lengths) && v.HasSpread()
}

// general is the plan's general tolerance of a size of a part, and how it is written; at
// is where a lack of one is told.
func (b *builder) general(s station, size float64, what string, at finding.Span) (mm float64, says string, basis Basis) {
	tol := b.r.Plan.Tolerances
	known := false
	switch {
	case tol.Standard.Given():
		says = tol.Standard.Text
		mm, known = standards.GeneralTolerance(classOf(says), size)
	case tol.Linear.Given():
		if v, ok := b.r.QuantityIn(tol.Linear, lengths); ok {
			mm, known = math.Max(v.Minus, v.Plus)*1000, true
			if !v.HasSpread() {
				mm = math.Abs(v.SI) * 1000
			}
			says = "± " + quantity.Text(quantity.MM(mm), quantity.Metric)
		}
	}
	what = fmt.Sprintf("%s of %s, %s", what, s.part.Part.Title.Value, quantity.Text(quantity.MM(size), quantity.Metric))
	key := s.part.Part.ID.Text + "|" + what
	switch {
	case !known:
		b.unsaid(NoTolerance, key, s, at, fmt.Sprintf("nobody says how far this size may lie off: %s", what), "give the size a tolerance where it stands, or the plan a general one: tolerances: ISO 2768-m")
		return 0, says, Unknown
	case boughtPart(s.part.Part):
		b.unsaid(Taken, key, s, at, fmt.Sprintf("a bought part does not keep to the plan's general tolerance, which stands in for its own: %s", what), "give the size its spread, as its maker does: has: {width: 9 mm ± 0.1 mm}")
		return mm, says, Assumed
	}
	return mm, says, General
}

// unsaid notes a tolerance that nobody gives, once for each size.
func (b *builder) unsaid(kind FaultKind, key string, s station, at finding.Span, message, remedy string) {
	if b.noted[key] {
		return
	}
	b.noted[key] = true
	b.fault(kind, at, message, remedy, finding.Related{At: s.part.Part.ID.At, Say: "the part"})
}

func boughtPart(p *plan.Part) bool {
	return p.Made.Text == plan.Bought || p.Standard.Given()
}

// classOf is the letter of a class of ISO 2768: "m" of "ISO 2768-mK".
func classOf(standard string) string {
	const before = "ISO 2768-"
	if len(standard) <= len(before) || standard[:len(before)] != before {
		return ""
	}
	return standard[len(before) : len(before)+1]
}

// mm is a length for a message.
func mm(x float64) string { return quantity.Text(quantity.MM(x), quantity.Metric) }
