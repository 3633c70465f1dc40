package sheet

import (
	"fmt"
	"slices"
	"strings"

	"plansheaf/design/solid"
)

// An Omission is a fact that the drawing leaves open, or fixes more than once.
type Omission struct {
	Fact
	Doubled bool   // fixed more than once; else not at all
	By      string // the dimension that is one too many
	Given   bool   // it is the author's
	Index   int    // of what is given: in Request.Dimensions
}

// again is what a dimension fixes once more.
func again(f Fact, d Dimension) Omission {
	return Omission{Fact: f, Doubled: true, By: d.Text, Given: d.Given, Index: d.Index}
}

// placesOf begins the name of a fact that stands for the places of very many things.
const placesOf = "places of "

// String says it for people.
func (o Omission) String() string {
	what := "size of " + o.Feature
	if strings.HasPrefix(o.Feature, placesOf) {
		return o.Feature + " are not fixed: more than a drawing can hold"
	}
	if o.Axis != "" {
		what = fmt.Sprintf("place of %s along %s (%s mm)", o.Feature, o.Axis, decimals(o.At, 3))
	}
	if o.Doubled {
		return what + " is fixed twice, again by " + o.By
	}
	return what + " is not fixed"
}

// Audit tells what a sheet's dimensions leave open or fix twice. For each axis
// the levels are nodes, dimensions and ties the edges: a level that no way leads to
// from the datum is open, an edge between levels that were joined already is one
// too many. Each size must be given once. The order is that of the facts.
func Audit(facts []Fact, ties []Tie, dimensions []Dimension) []Omission {
	var found []Omission
	for _, axis := range axes {
		found = append(found, auditAxis(axis, facts, ties, dimensions)...)
	}
	return append(found, auditSizes(facts, dimensions)...)
}

func auditAxis(axis solid.Axis, facts []Fact, ties []Tie, dimensions []Dimension) []Omission {
	g := newGraph(axis.String(), facts)
	for _, t := range ties {
		if t.Axis == g.axis {
			g.join(g.node(t.A), g.node(t.B))
		}
	}
	var doubled []Omission
	for _, d := range dimensions {
		for _, l := range d.joins(axis) {
			i, j := g.node(l.a), g.node(l.b)
			if i >= 0 && j >= 0 && !g.join(i, j) {
				doubled = append(doubled, again(g.nodes[j], d))
			}
		}
	}
	var open []Omission
	for i, n := range g.nodes {
		if g.root(i) != g.root(g.datum) {
			open = append(open, Omission{Fact: n})
		}
	}
	return append(open, doubled...)
}

// joins are the levels of an axis that a dimension joins: none for one in brackets,
// and each pair once, however many corners a chamfer breaks.
func (d Dimension) joins(axis solid.Axis) []link {
	if d.Reference {
		return nil
	}
	if d.Kind == Chamfer || d.Kind == Taper {
		var list []link
		for _, b := range d.bevels {
			for _, l := range b.links {
				if l.axis == axis && !slices.ContainsFunc(list, l.same) {
					list = append(list, l)
				}
			}
		}
		return list
	}
	if d.Axis != axis.String() || d.Kind == Thickness {
		return nil
	}
	if d.points == nil {
		return []link{{axis, d.Low, d.High}}
	}
	var list []link
	for k := 1; k < len(d.points); k++ {
		list = append(list, link{axis, d.points[k-1], d.points[k]})
	}
	return list
}

// A graph holds the levels of one axis and which of them are joined.
type graph struct {
	axis   string
	nodes  []Fact
	parent []int
	datum  int // the lowest level
}

func newGraph(axis string, facts []Fact) *graph {
	g := &graph{axis: axis}
	for _, f := range facts {
		if f.Axis != axis {
			continue
		}
		g.parent = append(g.parent, len(g.nodes))
		g.nodes = append(g.nodes, f)
		if f.At < g.nodes[g.datum].At {
			g.datum = len(g.nodes) - 1
		}
	}
	return g
}

// node is the level at a coordinate, -1 for none.
func (g *graph) node(at float64) int {
	return slices.IndexFunc(g.nodes, func(n Fact) bool { return n.At-near < at && at < n.At+near })
}

func (g *graph) root(i int) int {
	for g.parent[i] != i {
		i = g.parent[i]
	}
	return i
}

// join joins two levels; false when they were joined already, or one is none.
func (g *graph) join(i, j int) bool {
	if i < 0 || j < 0 || g.root(i) == g.root(j) {
		return false
	}
	g.parent[g.root(i)] = g.root(j)
	return true
}

func auditSizes(facts []Fact, dimensions []Dimension) []Omission {
	count, last := map[string]int{}, map[string]Dimension{}
	for _, d := range dimensions {
		for _, s := range d.Sizes {
			count[s]++
			last[s] = d
		}
	}
	var found []Omission
	for _, f := range facts {
		if f.Axis != "" {
			continue
		}
		switch n := count[f.Feature]; {
		case n == 0:
			found = append(found, Omission{Fact: f})
		case n > 1:
			found = append(found, again(f, last[f.Feature]))
		}
	}
	return found
}
