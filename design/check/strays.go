package check

import (
	"slices"
	"strings"

	"plansheaf/design/clash"
	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
)

// strays are what a case tells once of parts that lie off.
type strays struct {
	s     *Situation
	whole *strayed                    // explains all that misses in the machine; nil for no such thing
	of    map[*plan.Assembly]*strayed // what explains all that misses in one assembly
	first map[*plan.Assembly]string   // path of an assembly's first instance, with its dot
}

// all are what is told, in the plan's order.
func (o *strays) all() (out []*strayed) {
	if o.whole != nil {
		return []*strayed{o.whole}
	}
	for _, a := range o.s.Reckoning.Plan.Assemblies {
		if one := o.of[a]; one != nil {
			out = append(out, one)
		}
	}
	return out
}

// tells is what explains all that misses in an assembly; nil for nothing.
func (o *strays) tells(a *plan.Assembly) *strayed {
	if o.whole != nil {
		return o.whole
	}
	return o.of[a]
}

// on is the side on which a path from an assembly is: 1 for what lies off, 0 for unknown.
func (o *strays) on(a *plan.Assembly, path string) int {
	switch one := o.tells(a); {
	case one == nil:
		return 0
	case one.a == nil:
		return one.side[o.first[a]+path]
	default:
		return one.side[useOf(path)]
	}
}

// explains reports whether what is said of a joint's screws at some of its places comes of
// what lies off: the joint is between the two sides, and no place of one side says it too.
func (o *strays) explains(a *plan.Assembly, j *plan.Joint, at []joint.Stack, all int) bool {
	if o.tells(a) == nil {
		return false
	}
	sides := map[int]bool{}
	for _, w := range jointFeatures(j) {
		for _, spot := range o.s.Reckoning.Spots(a, w) {
			sides[o.on(a, spot.Path)] = true
		}
	}
	return sides[1] && len(sides) > 1 && (len(at) < all || !slices.ContainsFunc(at, func(p joint.Stack) bool {
		return !slices.ContainsFunc(p.Crossings, func(c layout.Crossing) bool { return o.on(a, c.Spot.Path) > 0 })
	}))
}

// meets is what explains that two bodies within an instance overlap, at rest or on a
// motion's way: one of them lies off, by no less than they overlap; nil for nothing.
func (o *strays) meets(holds *reckon.Instance, a, b *clash.Body, depth float64) *strayed {
	one, above, name := o.whole, "", func(path string) string { return path }
	for in := holds; in != nil && one == nil; in = in.Parent {
		one, above, name = o.of[in.Assembly], below(in.Path), useOf
	}
	at := func(b *clash.Body) int {
		if b.Joint != nil {
			return 0
		}
		return one.side[name(strings.TrimPrefix(b.Path, above))]
	}
	if one == nil || depth > one.shift.Len()+joint.InLine || (at(a) == 1) == (at(b) == 1) {
		return nil
	}
	return one
}
