package chain

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"plansheaf/design/layout"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
)

// A graph is which parts touch or hold each other in line along one direction.
type graph struct {
	from map[*reckon.Instance][]contact
}

// A contact is where two parts meet: a feature of either.
type contact struct {
	s, t *station
	hold hold // of axes; none for faces
}

// A hold is what keeps two axes in line.
type hold struct {
	path      string // of the joint in the machine; "" for a shaft that stands in a hole without one
	kind      string
	fastening *layout.Fastening
}

// graphAlong finds all contacts along the chain's direction, once for all chains.
func (b *builder) graphAlong() *graph {
	if g := b.graphs[b.along]; g != nil {
		return g
	}
	g := &graph{from: map[*reckon.Instance][]contact{}}
	b.graphs[b.along] = g
	b.lying(g)
	b.inLine(g)
	return g
}

func (g *graph) add(c contact) {
	g.from[c.s.in] = append(g.from[c.s.in], c)
	g.from[c.t.in] = append(g.from[c.t.in], contact{s: c.t, t: c.s, hold: c.hold})
}

// lying adds the faces that lie on each other.
func (b *builder) lying(g *graph) {
	var faces []station
	for _, in := range b.r.Tally().Instances {
		if in.Part != nil && len(faces) < mostFaces {
			faces = append(faces, b.faces(in)...)
		}
	}
	order := make([]*station, len(faces)) // stations are large
	for i := range faces {
		order[i] = &faces[i]
	}
	slices.SortStableFunc(order, func(s, t *station) int { return cmp.Compare(s.pos, t.pos) })
	type pair struct {
		a, b *reckon.Instance
		at   float64
	}
	known, left := map[pair]bool{}, mostPairs
	for i, s := range order {
		for k := i + 1; k < len(order) && order[k].pos-s.pos <= touching && left > 0; k++ {
			left--
			t := order[k]
			if s.facing*t.facing > 0 {
				continue
			}
			left -= overlapping
			if !touches(*s, *t) || !beside(*s, *t, touching) {
				continue
			}
			at := math.Round(s.pos/touching) * touching
			if known[pair{s.in, t.in, at}] || known[pair{t.in, s.in, at}] {
				continue // the same faces by another name
			}
			known[pair{s.in, t.in, at}] = true
			mine, theirs := *s, *t // the others go
			g.add(contact{s: &mine, t: &theirs})
		}
	}
}

const (
	// mostFaces bounds how many faces of a machine are looked at.
	mostFaces = 200_000
	// mostPairs bounds the work of comparing them with each other, a look at which way
	// they face counting one: a second or two.
	mostPairs = 30_000_000
	// overlapping is how many such looks it takes to see whether two overlap.
	overlapping = 30
)

// faces are the places of a part's features along the chain: sides first, then floors,
// then ends of named shapes.
func (b *builder) faces(in *reckon.Instance) []station {
	s := station{in: in, spot: reckon.Spot{Part: in.Part}}
	if at, placed := b.l.Placement(in); placed {
		s.at = at
	} else {
		return nil
	}
	s.part = b.r.Part(in.Part.ID.Text)
	if s.part == nil || s.part.Solid == nil {
		return nil
	}
	s.way = s.at.Inverse().Direction(b.along)
	var ranked [3][]station
	for _, f := range s.part.Solid.Features() {
		rank := 0
		switch f.Kind {
		case solid.HoleFeature:
			rank = 1
		case solid.NamedShape:
			rank = 2
		case solid.BodyFeature, solid.AxisFeature, solid.SlotFeature:
			continue
		}
		one := s
		one.f, one.spot.Feature = f, f.Name
		list, _ := one.read(0)
		for _, l := range list {
			if l.level() {
				ranked[rank] = append(ranked[rank], l)
			}
		}
	}
	return append(append(ranked[0], ranked[1]...), ranked[2]...)
}

// inLine adds the axes across the chain that joints hold in line.
func (b *builder) inLine(g *graph) {
	joints := b.r.Tally().Joints
	for i := range joints {
		h := &joints[i]
		path := h.Joint.ID.Text
		if h.In.Path != "" {
			path = h.In.Path + "." + path
		}
		fastenings := b.l.Fastenings(h.Assembly, h.Joint)
		for k := range fastenings {
			f := &fastenings[k]
			for m := range f.Crossings {
				for n := m + 1; n < len(f.Crossings); n++ {
					b.axes(g, h.In, f.Crossings[m].Spot, f.Crossings[n].Spot, hold{path, h.Joint.Kind.Text, f})
				}
			}
		}
		if h.Joint.Fastener.Given() {
			continue
		}
		for _, mate := range b.l.Matings(h.Assembly, h.Joint) {
			b.axes(g, h.In, mate.Mine.Spot, mate.Theirs.Spot, hold{path, h.Joint.Kind.Text, nil})
		}
	}
}

// axes adds one pair of axes, where both lie across the chain.
func (b *builder) axes(g *graph, in *reckon.Instance, mine, theirs reckon.Spot, h hold) {
	var pair [2]station
	for i, spot := range []reckon.Spot{mine, theirs} {
		path := spot.Path
		if in.Path != "" {
			path = in.Path + "." + path
		}
		s := station{spot: spot, in: b.instances[path]}
		if b.place(&s) != "" {
			return
		}
		if s.f.Kind == solid.FlatFace { // a joint may name a shaft by its end
			s.spot.Feature = "body"
			if b.place(&s) != "" {
				return
			}
		}
		list, _ := s.read(0)
		if len(list) != 1 || list[0].level() {
			return
		}
		pair[i] = list[0]
	}
	if pair[0].in != pair[1].in {
		mine, theirs := pair[0], pair[1]
		g.add(contact{s: &mine, t: &theirs, hold: h})
	}
}

// holding is what keeps two axes in line: a joint through both, or that one stands in
// the other.
func (b *builder) holding(s, t station) (hold, bool) {
	for _, c := range b.graphAlong().from[s.in] {
		if c.t.in == t.in && c.s.spot.Feature == s.spot.Feature && c.t.spot.Feature == t.spot.Feature && !c.s.level() {
			return c.hold, true
		}
	}
	if b.inside(s) == b.inside(t) || s.f.D <= 0 || t.f.D <= 0 {
		return hold{}, false
	}
	off := t.at.Point(t.f.At).Sub(s.at.Point(s.f.At))
	dir := s.at.Direction(s.f.Dir)
	if math.Abs(dir.Dot(t.at.Direction(t.f.Dir))) < 1-flat {
		return hold{}, false
	}
	aside := off.Sub(dir.Mul(off.Dot(dir))).Len()
	wider := s.f.D - t.f.D
	if b.inside(t) {
		wider = -wider
	}
	return hold{}, aside <= math.Max(0, wider)/2+touching
}

// way joins the features that the plan names by those that it leaves out.
func (b *builder) way(ends [][]station) ([]station, bool) {
	for i := range ends {
		if !b.settle(ends, i) {
			return nil, false
		}
	}
	direct := len(ends) == 2
	way := []station{ends[0][0]}
	for i := 1; i < len(ends); i++ {
		s, t := way[len(way)-1], ends[i][0]
		switch {
		case s.in == t.in && direct:
			b.fault(Twice, t.said(b.chain), "both sides of the gap are on "+s.in.Path+": it is a size of that part, and no chain", "give the size a tolerance on the part's drawing")
			return nil, false
		case s.same(t):
			continue
		case s.in == t.in, !direct && touches(s, t):
		case !direct && !s.level() && !t.level():
		case i > 1 && i < len(ends)-1 && facing(s, t): // both are named as touching
			b.fault(Apart, t.said(b.chain), fmt.Sprintf("%s lies %s from %s, and should touch it", t.full(), mm(math.Abs(t.pos-s.pos)), s.full()), "name faces that lie on each other, or move the parts until they do")
			return nil, false
		default:
			found, ok := b.route(s, t)
			if !ok {
				return nil, false
			}
			for _, f := range found {
				if !f.same(way[len(way)-1]) {
					way = append(way, f)
				}
			}
			if last := len(way) - 1; t.same(way[last]) {
				way[last] = t // the plan's own name for it
				continue
			}
		}
		way = append(way, t)
	}
	return way, true
}

// settle chooses between the ends of a named shape: the one that touches what the chain
// names before or after it.
func (b *builder) settle(ends [][]station, i int) bool {
	if len(ends[i]) == 1 {
		return true
	}
	for _, k := range []int{i - 1, i + 1} {
		if k < 0 || k >= len(ends) {
			continue
		}
		for _, s := range ends[i] {
			for _, t := range ends[k] {
				if touches(s, t) {
					ends[i] = []station{s}
					return true
				}
			}
		}
	}
	s := ends[i][0]
	b.fault(Unsuitable, s.said(b.chain), fmt.Sprintf("%q has two ends along %s", s.spot.Feature, b.letter()), fmt.Sprintf("say which: {feature: %s, towards: %s}", s.full(), b.chain.Along.Text))
	return false
}

// route is the one shortest way from a part to another over contacts; the contacts'
// features in order.
func (b *builder) route(s, t station) ([]station, bool) {
	b.report.Found = true
	ways := b.shortest(s, t)
	if len(ways) == 0 {
		b.fault(Apart, t.said(b.chain), fmt.Sprintf("nothing leads from %s to %s: no parts between them touch along %s", s.in.Path, t.in.Path, b.letter()), "name the features of the parts between them under `through`, in order")
		return nil, false
	}
	first := ways[0]
	alike := 0
	for _, w := range ways {
		if kinds(w) == kinds(first) {
			alike++
			continue
		}
		b.fault(Several, t.said(b.chain), fmt.Sprintf("%d ways lead from %s to %s, so that no single one can be taken: over %s, or over %s", len(ways), s.in.Path, t.in.Path, over(first), over(w)),
			"name a feature of the way that counts under `through`")
		return nil, false
	}
	b.report.Alike = max(b.report.Alike, alike)
	return first, true
}

// kinds tells ways apart: by the parts' ids and the features, not by which of several
// equal parts they lead over.
func kinds(way []station) string {
	var out strings.Builder
	for _, s := range way {
		fmt.Fprintf(&out, "%s.%s %v %v|", s.part.Part.ID.Text, s.spot.Feature, s.deep, s.facing)
	}
	return out.String()
}

// over names a way by its contacts.
func over(way []station) string {
	var names []string
	for _, s := range way {
		if len(names) > 5 {
			names = append(names, "and so on")
			break
		}
		names = append(names, s.full())
	}
	return strings.Join(names, ", ")
}

// mostWays bounds how many equally short ways are compared.
const mostWays = 64

// shortest are the ways with the fewest contacts from one part to another, at most
// mostWays, in the order of the plan; the gap's own faces do not count as a contact.
func (b *builder) shortest(s, t station) [][]station {
	g := b.graphAlong()
	gap := func(c contact) bool {
		return c.s.in == s.in && c.t.in == t.in && math.Abs(c.s.pos-s.pos) < touching && math.Abs(c.t.pos-t.pos) < touching
	}
	depth := map[*reckon.Instance]int{s.in: 0}
	queue := []*reckon.Instance{s.in}
	for len(queue) > 0 {
		in := queue[0]
		queue = queue[1:]
		for _, c := range g.from[in] {
			if _, seen := depth[c.t.in]; !seen && !gap(c) {
				depth[c.t.in] = depth[in] + 1
				queue = append(queue, c.t.in)
			}
		}
	}
	if long, reached := depth[t.in]; !reached || long > most {
		return nil
	}
	var ways [][]station
	var back func(in *reckon.Instance, rest []station)
	back = func(in *reckon.Instance, rest []station) {
		if in == s.in {
			ways = append(ways, rest)
			return
		}
		for _, c := range g.from[in] { // from in back to where it was come from
			if len(ways) >= mostWays {
				return
			}
			there := contact{s: c.t, t: c.s}
			if d, seen := depth[c.t.in]; seen && d == depth[in]-1 && !gap(there) {
				back(c.t.in, append([]station{*c.t, *c.s}, rest...))
			}
		}
	}
	back(t.in, nil)
	return ways
}
