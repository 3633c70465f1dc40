package chain

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
	"plansheaf/design/standards"
)

// An edge is a size of a part that is dimensioned: from one coordinate of its own axis
// to another, with its tolerance.
type edge struct {
	k            int     // the axis: 0 for x
	from, to     float64 // mm
	start, end   string  // the features
	lower, upper float64
	basis        Basis
	says         string
	at           finding.Span
}

// turned is the edge the other way round.
func (e edge) turned() edge {
	e.from, e.to, e.start, e.end = e.to, e.from, e.end, e.start
	return e
}

// shortestPath are the fewest edges along axis k that lead from one coordinate to
// another; none where no way leads. Equally short ways: the one whose edges stand first.
func shortestPath(edges []edge, k int, from, to float64) []edge {
	type step struct {
		at   float64
		came *edge
		back int // the step before; -1 for the first
	}
	near := func(a, b float64) bool { return math.Abs(a-b) < solid.Tolerance }
	steps := []step{{at: from, back: -1}}
	seen := map[float64]bool{math.Round(from / solid.Tolerance): true}
	for i := 0; i < len(steps); i++ {
		for _, e := range edges {
			if e.k != k {
				continue
			}
			if near(e.to, steps[i].at) {
				e = e.turned()
			}
			if !near(e.from, steps[i].at) {
				continue
			}
			key := math.Round(e.to / solid.Tolerance)
			if seen[key] || seen[key-1] || seen[key+1] {
				continue
			}
			seen[key] = true
			steps = append(steps, step{e.to, &e, i})
			if !near(e.to, to) {
				continue
			}
			var path []edge
			for at := len(steps) - 1; steps[at].came != nil; at = steps[at].back {
				path = append([]edge{*steps[at].came}, path...)
			}
			return path
		}
	}
	return nil
}

// edges are the sizes of a part that its drawing in the plan dimensions, and those that
// stand in the plan with a spread of their own.
func (b *builder) edges(p *reckon.Part) []edge {
	id := p.Part.ID.Text
	if known, asked := b.sizes[id]; asked {
		return known
	}
	list := b.drawn(p)
	for base, depth := p, 0; base != nil && depth < altered; base, depth = base.Base, depth+1 {
		list = append(list, b.stated(base)...)
	}
	list = list[:min(len(list), mostEdges)]
	b.sizes[id] = list
	return list
}

// mostEdges bounds how many dimensioned sizes of one part are searched for ways.
const mostEdges = 1000

// drawn are the dimensions of the part's drawing.
func (b *builder) drawn(p *reckon.Part) []edge {
	var out []edge
	for _, d := range b.drawings(p) {
		for _, dim := range d.Dimensions {
			switch {
			case dim.Reference:
			case dim.From.Given():
				out = append(out, b.linear(p, dim)...)
			case dim.Depth.Given():
				if f, ok := layout.FeatureOf(p.Solid, dim.Depth.Text); ok && f.Kind == solid.HoleFeature && !f.Through {
					if k := ownAxis(f.Dir); k >= 0 {
						e := edge{k: k, from: coordinate(f.At, k), start: dim.Depth.Text, end: fmt.Sprintf(FloorOf, dim.Depth.Text), at: dim.At}
						e.to = e.from + f.Depth*coordinate(f.Dir, k)
						out = append(out, b.toleranced(e, dim))
					}
				}
			}
		}
	}
	return out
}

// drawings are those of the part that hold for the case.
func (b *builder) drawings(p *reckon.Part) []*plan.Drawing {
	var out []*plan.Drawing
	for _, d := range b.r.Plan.Drawings {
		if d.Of.Text == p.Part.ID.Text && d.Only.Fits(b.r.Case.Options) {
			out = append(out, d)
		}
	}
	return out
}

// linear is a dimension between two features, along the axis that it names or along
// the only one along which they lie apart.
func (b *builder) linear(p *reckon.Part, dim plan.Dimension) []edge {
	f, known := layout.FeatureOf(p.Solid, dim.From.Text)
	t, too := layout.FeatureOf(p.Solid, dim.To.Text)
	if !known || !too {
		return nil
	}
	k := strings.Index("xyz", dim.Along.Text)
	if dim.Along.Text == "" {
		k = onlyAxis(f, t)
	}
	if k < 0 || !dimensioned(f, k) || !dimensioned(t, k) {
		return nil
	}
	e := edge{k: k, from: coordinate(f.At, k), to: coordinate(t.At, k), start: dim.From.Text, end: dim.To.Text, at: dim.At}
	return []edge{b.toleranced(e, dim)}
}

// dimensioned reports whether a feature has a place along axis k that a dimension can
// be taken to.
func dimensioned(f solid.Feature, k int) bool {
	along := math.Abs(coordinate(f.Dir, k))
	switch f.Kind {
	case solid.FlatFace:
		return along > 1-flat
	case solid.HoleFeature:
		return along < flat || along > 1-flat
	}
	return f.D > 0 && along < flat
}

// onlyAxis is the one axis along which two features lie apart; -1 for none or several.
func onlyAxis(f, t solid.Feature) int {
	only := -1
	for k := range 3 {
		if dimensioned(f, k) && dimensioned(t, k) && math.Abs(coordinate(f.At, k)-coordinate(t.At, k)) > solid.Tolerance {
			if only >= 0 {
				return -1
			}
			only = k
		}
	}
	return only
}

// toleranced gives an edge the tolerance of its dimension; without one it has the
// plan's general tolerance.
func (b *builder) toleranced(e edge, dim plan.Dimension) edge {
	if lower, upper, ok := b.deviations(dim, 0); ok {
		e.lower, e.upper, e.basis, e.says = lower, upper, Drawn, deviationText(lower, upper)
		return e
	}
	tol := b.r.Plan.Tolerances
	e.basis, e.says = General, tol.Standard.Text
	if mm, known := standards.GeneralTolerance(classOf(e.says), math.Abs(e.to-e.from)); known {
		e.lower, e.upper = -mm, mm
	} else if v, ok := b.r.QuantityIn(tol.Linear, lengths); ok && tol.Linear.Given() {
		e.lower, e.upper, e.says = -v.Minus*1000, v.Plus*1000, deviationText(-v.Minus*1000, v.Plus*1000)
	} else {
		e.basis = Unknown
	}
	return e
}

// deviations are the limits that a dimension gives to either side of its size, mm; a
// fit needs the diameter.
func (b *builder) deviations(dim plan.Dimension, diameter float64) (lower, upper float64, ok bool) {
	if dim.Fit.Given() && diameter > 0 {
		lower, upper, err := standards.Limits(diameter, dim.Fit.Text)
		return lower, upper, err == nil
	}
	if !dim.Tolerance.Given() {
		return 0, 0, false
	}
	v, ok := b.r.QuantityIn(dim.Tolerance, lengths)
	if !ok || !v.HasSpread() {
		return 0, 0, false
	}
	return -v.Minus * 1000, v.Plus * 1000, true
}

// drawnDiameter is the tolerance that the part's drawing gives a round feature.
func (b *builder) drawnDiameter(s station) (edge, bool) {
	for _, d := range b.drawings(s.part) {
		for _, dim := range d.Dimensions {
			if !dim.Diameter.Given() || dim.Reference || dim.Diameter.Text != s.spot.Feature && dim.Diameter.Text != s.f.Pattern {
				continue
			}
			if lower, upper, ok := b.deviations(dim, s.f.D); ok {
				e := edge{lower: lower, upper: upper, basis: Drawn, says: diameterText(s.f.D) + " " + deviationText(lower, upper), at: dim.At}
				if dim.Fit.Given() {
					e.basis, e.says = Fit, diameterText(s.f.D)+" "+dim.Fit.Text
				}
				return e, true
			}
		}
	}
	return edge{}, false
}

// deviationText is a tolerance as it is written: "± 0.05 mm", "+0.1/−0.05 mm".
func deviationText(lower, upper float64) string {
	if math.Abs(lower+upper) < solid.Tolerance {
		return "± " + mm(upper)
	}
	v := quantity.MM(0)
	v.Minus, v.Plus = -lower/1000, upper/1000
	_, text, _ := strings.Cut(quantity.Text(v, quantity.Metric), "mm ")
	return text
}

// stated are the sizes of a part that stand in the plan with a spread of their own.
func (b *builder) stated(p *reckon.Part) []edge {
	g := &stater{b: b, p: p}
	if p.Solid == nil {
		return nil
	}
	box := p.Solid.Box()
	part := p.Part
	switch {
	case len(part.Shape) > 0:
		g.shapes(part.Shape)
	case p.Stock == nil:
	case p.Stock.Section != nil:
		k := max(0, strings.Index("xyz", part.Lies.Text))
		g.size(part.Length, k, coordinate(box.Min, k), "start", "end")
		across := [3][2]int{{1, 2}, {0, 2}, {0, 1}}[k]
		sec := p.Stock.Section
		for i, q := range sec.Size {
			if i < 2 {
				g.size(q, across[i], coordinate(box.Min, across[i]), faceNames[across[i]][0], faceNames[across[i]][1])
			}
		}
		for _, a := range across {
			g.size(sec.Side, a, coordinate(box.Min, a), faceNames[a][0], faceNames[a][1])
		}
	default:
		g.size(p.Stock.Thick, 2, 0, "bottom", "top")
		if o := part.Outline; o != nil && o.Kind.Text == "rectangle" && len(o.Size) == 2 {
			g.size(o.Size[0], 0, 0, "left", "right")
			g.size(o.Size[1], 1, 0, "front", "back")
		}
	}
	for _, h := range part.Holes {
		g.hole(h)
	}
	return g.list
}

var faceNames = [3][2]string{{"left", "right"}, {"front", "back"}, {"bottom", "top"}}

// A stater gathers what a part's own quantities say.
type stater struct {
	b    *builder
	p    *reckon.Part
	list []edge
}

// size notes a quantity that has a spread as the distance from a coordinate upwards.
func (g *stater) size(q plan.Quantity, k int, from float64, start, end string) {
	v, ok := g.b.spread(q)
	if !ok {
		return
	}
	g.list = append(g.list, edge{
		k: k, from: from, to: from + v.SI*1000, start: start, end: end,
		lower: -v.Minus * 1000, upper: v.Plus * 1000, basis: Own, says: quantity.Text(v, quantity.Metric), at: q.At,
	})
}

// shapes are the sizes and places of the members of a shape. Their common origin is the
// lowest corner of all that is not cut away.
func (g *stater) shapes(shapes []plan.Solid) {
	origin := [3]float64{math.Inf(1), math.Inf(1), math.Inf(1)}
	var at [][3]float64
	for _, s := range shapes {
		var place [3]float64
		for k := range min(3, len(s.Place.Of)) {
			place[k], _ = g.b.r.Length(s.Place.Of[k])
		}
		at = append(at, place)
		for k := range 3 {
			if !s.Cut {
				origin[k] = math.Min(origin[k], place[k])
			}
		}
	}
	for i, s := range shapes {
		name := s.Name.Text
		for k := range 3 {
			low := at[i][k] - origin[k]
			if k < len(s.Place.Of) {
				g.size(s.Place.Of[k], k, -origin[k], faceNames[k][0], named(name, faceNames[k][0]))
			}
			if k < len(s.Size) {
				g.size(s.Size[k], k, low, named(name, faceNames[k][0]), named(name, faceNames[k][1]))
			}
		}
		k := 2
		if s.Axis.Given() {
			k = max(0, strings.Index("xyz", s.Axis.Text))
		}
		low := at[i][k] - origin[k]
		g.size(s.L, k, low, named(name, faceNames[k][0]), named(name, faceNames[k][1]))
		for n, step := range s.Steps {
			g.size(step.L, k, low, named(name, "step"), named(name, "step"))
			if long, ok := g.b.r.Length(step.L); ok && n < len(s.Steps) {
				low += long
			}
		}
	}
}

// named is a side of a named shape: "body.top"; of one without a name the side alone.
func named(shape, side string) string {
	if shape == "" {
		return side
	}
	return shape + "." + side
}

// hole are the places and the depth of a hole's pattern.
func (g *stater) hole(h *plan.Hole) {
	var list []solid.Feature
	for _, f := range g.p.Solid.Features() {
		if f.Kind == solid.HoleFeature && (f.Pattern == h.ID.Text || f.Name == h.ID.Text) {
			list = append(list, f)
		}
	}
	if len(list) == 0 {
		return
	}
	deep := ownAxis(list[0].Dir)
	if deep < 0 {
		return
	}
	across := [3][2]int{{1, 2}, {0, 2}, {0, 1}}[deep]
	for i, f := range list {
		if v, ok := g.b.spread(h.Depth); ok {
			from := coordinate(f.At, deep)
			g.list = append(g.list, edge{k: deep, from: from, to: from + f.Depth*coordinate(f.Dir, deep), start: f.Name, end: fmt.Sprintf(FloorOf, f.Name),
				lower: -v.Minus * 1000, upper: v.Plus * 1000, basis: Own, says: quantity.Text(v, quantity.Metric), at: h.Depth.At})
		}
		at := h.Pattern.Point
		if h.Pattern.Kind.Text == "points" && i < len(h.Pattern.Points) {
			at = h.Pattern.Points[i]
		}
		if (i == 0 && h.Pattern.Kind.Text != "circle") || h.Pattern.Kind.Text == "points" {
			for n, k := range across {
				if n < len(at.Of) {
					g.size(at.Of[n], k, 0, faceNames[k][0], f.Name)
				}
			}
		}
	}
	g.steps(h, list, across)
}

// steps are the distances from hole to hole of a row or grid.
func (g *stater) steps(h *plan.Hole, list []solid.Feature, across [2]int) {
	if kind := h.Pattern.Kind.Text; kind != "line" && kind != "grid" {
		return
	}
	for n, k := range across {
		if n >= len(h.Pattern.Step.Of) {
			continue
		}
		v, ok := g.b.spread(h.Pattern.Step.Of[n])
		if !ok || v.SI <= 0 {
			continue
		}
		places := append([]solid.Feature(nil), list...)
		sort.SliceStable(places, func(i, j int) bool { return coordinate(places[i].At, k) < coordinate(places[j].At, k) })
		for i := 1; i < len(places); i++ {
			from, to := coordinate(places[i-1].At, k), coordinate(places[i].At, k)
			if math.Abs(to-from-v.SI*1000) < solid.Tolerance {
				g.list = append(g.list, edge{k: k, from: from, to: to, start: places[i-1].Name, end: places[i].Name,
					lower: -v.Minus * 1000, upper: v.Plus * 1000, basis: Own, says: quantity.Text(v, quantity.Metric), at: h.Pattern.Step.At})
			}
		}
	}
}
