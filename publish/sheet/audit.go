package sheet

import (
	"fmt"

	"plansheaf/design/solid"
)

// An Omission is a fact that the drawing leaves open, or fixes more than once.
type Omission struct {
	Fact
	Doubled bool   // fixed more than once; else not at all
	By      string // the dimension that is one too many
}

// String says it for people.
func (o Omission) String() string {
	what := "size of " + o.Feature
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
	var nodes []Fact
	for _, f := range facts {
		if f.Axis == axis.String() {
			nodes = append(nodes, f)
		}
	}
	parent := make([]int, len(nodes))
	datum := 0
	for i, n := range nodes {
		parent[i] = i
		if n.At < nodes[datum].At {
			datum = i
		}
	}
	root := func(i int) int {
		for parent[i] != i {
			i = parent[i]
		}
		return i
	}
	at := func(v float64) int {
		for i, n := range nodes {
			if n.At-near < v && v < n.At+near {
				return i
			}
		}
		return -1
	}
	for _, t := range ties {
		if i, j := at(t.A), at(t.B); t.Axis == axis.String() && i >= 0 && j >= 0 {
			parent[root(i)] = root(j)
		}
	}
	var found []Omission
	for _, d := range dimensions {
		if d.Axis != axis.String() || d.Kind == Thickness {
			continue
		}
		points := d.points
		if points == nil {
			points = []float64{d.Low, d.High}
		}
		for k := 1; k < len(points); k++ {
			i, j := at(points[k-1]), at(points[k])
			switch {
			case i < 0 || j < 0:
			case root(i) == root(j):
				found = append(found, Omission{Fact: nodes[j], Doubled: true, By: d.Text})
			default:
				parent[root(i)] = root(j)
			}
		}
	}
	var open []Omission
	for i, n := range nodes {
		if root(i) != root(datum) {
			open = append(open, Omission{Fact: n})
		}
	}
	return append(open, found...)
}

func auditSizes(facts []Fact, dimensions []Dimension) []Omission {
	count, last := map[string]int{}, map[string]string{}
	for _, d := range dimensions {
		for _, s := range d.Sizes {
			count[s]++
			last[s] = d.Text
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
			found = append(found, Omission{Fact: f, Doubled: true, By: last[f.Feature]})
		}
	}
	return found
}
