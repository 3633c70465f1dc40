package sheet

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"plansheaf/design/solid"
)

// An asker follows one dimension of the author's and says what is wrong with it.
type asker struct {
	*scheme
	DimensionRequest
	index    int
	requests []DimensionRequest
	say      func(remedy, format string, args ...any)
}

// givenAll follows the author's dimensions in their order.
func (s *scheme) givenAll(r *Request, fault func(Fault)) {
	for i, d := range r.Dimensions {
		a := asker{s, d, i, r.Dimensions, func(remedy, format string, args ...any) {
			fault(Fault{Item: "dimensions", Index: i, Message: fmt.Sprintf(format, args...), Remedy: remedy})
		}}
		before := len(s.list)
		sizes := a.before()
		a.follow()
		a.mark(before, sizes)
	}
}

// before is what is sized before an auxiliary dimension, which sizes nothing; nil
// for others.
func (a asker) before() map[string]bool {
	if !a.Reference {
		return nil
	}
	sized := map[string]bool{}
	for name := range a.sized {
		sized[name] = true
	}
	return sized
}

// mark notes on what was added that the author gave it, and puts what is for
// information only in brackets.
func (a asker) mark(from int, sized map[string]bool) {
	for i := range a.list[from:] {
		d := &a.list[from+i]
		d.Given, d.Index = true, a.index
		if a.Reference {
			d.Reference, d.Sizes, d.Text = true, nil, "("+d.Text+")"
		}
	}
	if a.Reference {
		a.scheme.sized = sized
	}
}

func (a asker) follow() {
	angular := strings.HasSuffix(a.Tolerance, "°")
	switch {
	case angular && len(a.Angle) == 0:
		a.say("give a length: ± 0.1 mm", "the tolerance %q of a length is an angle", a.Tolerance)
	case a.Tolerance != "" && !angular && len(a.Angle) > 0:
		a.say("give an angle: ± 0.5 deg", "the tolerance %q of an angle is none", a.Tolerance)
	case len(a.Angle) > 0:
		a.angle()
	case a.Chamfer != "":
		a.chamfer()
	case a.Depth != "":
		a.depth()
	case a.Diameter != "":
		a.diameterOf(a.Diameter)
	case a.Radius != "":
		a.radiusOf(a.Radius)
	case a.From == "" || a.To == "":
		a.say("give from and to, or diameter, radius, angle, chamfer or depth", "the dimension names nothing to measure")
	default:
		a.linear()
	}
}

// behind are the words behind a value, mm; 0 for an angle.
func (a asker) behind(mm float64) string {
	return strings.TrimSpace(a.system.fit(mm, a.Fit) + " " + a.Tolerance)
}

// toleranced prints a length with words behind the first system's value.
func (s System) toleranced(mm float64, words string) string {
	if words == "" {
		return s.both(mm)
	}
	return s.length(mm) + " " + words + " [" + s.other().length(mm) + "]"
}

func (a asker) linear() {
	p := a.part
	axis, found := solid.AxisX, a.Along == ""
	for _, one := range axes {
		if one.String() == a.Along {
			axis, found = one, true
		}
	}
	if !found {
		a.say("along is x, y or z", "%q is no axis", a.Along)
		return
	}
	for _, name := range []string{a.From, a.To} {
		if !p.knows(name) {
			a.say("name a face, a hole, or a side or corner of the outline", "the part has no feature %q", name)
			return
		}
	}
	if a.Along == "" { // along the axis on which they differ, if there is one only
		differ := slices.DeleteFunc(slices.Clone(axes[:]), func(one solid.Axis) bool {
			i, j := p.levelOf(a.From, one), p.levelOf(a.To, one)
			return i < 0 || j < 0 || i == j
		})
		if len(differ) != 1 {
			a.say("say along: x, y or z", "%q and %q lie apart along more than one axis, or none", a.From, a.To)
			return
		}
		axis = differ[0]
	}
	i, j := p.levelOf(a.From, axis), p.levelOf(a.To, axis)
	if i < 0 || j < 0 || i == j {
		a.say("choose another axis or other features", "%q and %q cannot be measured along %s", a.From, a.To, axis)
		return
	}
	made := a.measure(axis, i, j)
	made.From, made.To, made.Text = a.From, a.To, a.system.toleranced(made.Value, a.behind(made.Value))
}

// measure adds a linear dimension, one for information without joining its levels.
func (a asker) measure(axis solid.Axis, i, j int) *Dimension {
	if a.Reference {
		return a.state(axis, i, j)
	}
	return a.add(axis, i, j)
}

// knows reports whether a name means something that has a place.
func (p *part) knows(name string) bool {
	for _, axis := range axes {
		if _, known := p.find(name, axis); known {
			return true
		}
	}
	return false
}

// levelOf is the level of a named feature on an axis, -1 for none.
func (p *part) levelOf(name string, axis solid.Axis) int {
	at, known := p.find(name, axis)
	if !known {
		return -1
	}
	return p.levelAt(axis, at)
}

// numbered reads side_3 or corner_2: what the number counts from 0, false for other
// names and numbers beyond the outline's.
func (p *part) numbered(name, what string) (int, bool) {
	digits, named := strings.CutPrefix(name, what+"_")
	n, err := strconv.Atoi(digits)
	if !named || err != nil || n < 1 || n > len(p.sides) {
		return 0, false
	}
	return n - 1, true
}

// outlined is the place of a side or corner of the outline on an axis: that of a side
// only across it.
func (p *part) outlined(name string, axis solid.Axis) (float64, bool) {
	if axis == solid.AxisZ {
		return 0, false
	}
	if i, known := p.numbered(name, "corner"); known {
		return on(flat(p.sides[i].From), axis), true
	}
	if i, known := p.numbered(name, "side"); known && !p.sides[i].Arc {
		from, to := on(flat(p.sides[i].From), axis), on(flat(p.sides[i].To), axis)
		return from, math.Abs(from-to) < near
	}
	return 0, false
}

// flat is a point of the outline's plane on the part.
func flat(v solid.Vec2) solid.Vec { return solid.Vec{X: v.X, Y: v.Y} }

func (a asker) diameterOf(name string) {
	p := a.part
	if i := p.groupOf(name); i >= 0 {
		a.sizeHoles(i)
		return
	}
	steps := p.barrelsOf(name)
	if len(steps) == 0 {
		a.say("name a hole or a round face of the part", "nothing round is named %q", name)
		return
	}
	for _, i := range steps {
		if math.Abs(p.barrels[i].d-p.barrels[steps[0]].d) > near {
			a.say("name the shape of one step, or leave the diameters to be added", "%q has several diameters", name)
			return
		}
	}
	if b := p.barrels[steps[0]]; p.body == Bar && b.axis == p.along && b.thread == nil && !a.Reference {
		a.say("say reference: yes, or take it out", "the diameter of %q comes with the stock", name)
		return
	}
	a.scheme.diameter(steps[0], a.behind(p.barrels[steps[0]].d), true)
}

// sizeHoles writes a callout with the author's fit and tolerances. What is asked of a
// hole's size across and of its depth goes into one callout, the first that is asked;
// the same asked twice stands twice.
func (a asker) sizeHoles(index int) {
	pattern := a.part.groups[index].pattern
	word := a.words[pattern]
	var more holeWords
	first, again := true, 0
	for _, d := range a.requests {
		name := cmp.Or(d.Diameter, d.Depth)
		if name == "" || d.Reference != a.Reference || a.part.groupOf(name) != index {
			continue
		}
		if d.Depth != "" {
			more.depth = cmp.Or(more.depth, strings.TrimSpace(a.system.fit(a.part.holes[a.part.groups[index].holes[0]].depth, d.Fit)+" "+d.Tolerance))
		} else {
			word.Fit, more.across = cmp.Or(d.Fit, word.Fit), cmp.Or(more.across, d.Tolerance)
		}
	}
	for _, d := range a.requests[:a.index] {
		name := cmp.Or(d.Diameter, d.Depth)
		if name == "" || d.Reference != a.Reference || a.part.groupOf(name) != index {
			continue
		}
		first = false
		if (d.Depth != "") == (a.Depth != "") {
			again++
		}
	}
	if first || again > 0 {
		a.callout(index, word, more, true)
	}
}

func (a asker) radiusOf(name string) {
	p := a.part
	if i := p.groupOf(name); i >= 0 {
		a.say("give diameter: "+name, "holes are sized by their diameter, and %q is a hole", name)
		return
	}
	best, nearest := -1, math.Inf(1)
	for i, r := range p.rounds {
		for k := range r.at {
			if off, fits := p.roundOf(name, r, k); fits && off < nearest {
				best, nearest = i, off
			}
		}
	}
	if best < 0 {
		a.say("name a round corner or side of the outline, corner_1 or side_2, or a round face", "nothing rounded is named %q", name)
		return
	}
	a.scheme.radius(best, a.behind(p.rounds[best].radius))
}

// roundOf reports whether a name means an arc, and how far it is from the named
// place.
func (p *part) roundOf(name string, r rounding, k int) (off float64, fits bool) {
	if r.names[k] == name || strings.HasPrefix(r.names[k], name+".") {
		return 0, true
	}
	middle := r.at[k].Point((r.sweep[k][0] + r.sweep[k][1]) / 2)
	if i, known := p.numbered(name, "corner"); known {
		off := flatten(middle, solid.AxisZ).Dist(flat(p.sides[i].From))
		return off, off < 2*r.radius
	}
	if i, known := p.numbered(name, "side"); known && p.sides[i].Arc {
		off := flatten(r.at[k].O, solid.AxisZ).Dist(flat(p.sides[i].Centre))
		return off, off < near && math.Abs(flat(p.sides[i].From).Dist(flat(p.sides[i].Centre))-r.radius) < near
	}
	return 0, false
}

func (a asker) chamfer() {
	i, known := a.part.numbered(a.Chamfer, "corner")
	for _, c := range a.part.chamfers {
		for _, b := range c.at {
			byName := b.name != "" && (b.name == a.Chamfer || strings.HasPrefix(b.name, a.Chamfer+"."))
			if byName || known && b.radius == 0 && flatten(b.middle, solid.AxisZ).Dist(flat(a.part.sides[i].From)) < c.leg {
				a.bevel(c, c.at, a.behind(c.leg))
				if !a.Reference {
					a.joinBevels(c.at)
				}
				return
			}
		}
	}
	a.say("name a corner of the outline that is broken at 45 degrees, such as corner_1", "no chamfer is at %q", a.Chamfer)
}

func (a asker) depth() {
	p := a.part
	if i := p.groupOf(a.Depth); i >= 0 {
		if p.holes[p.groups[i].holes[0]].through {
			a.say("take it out, or make the hole blind", "the hole %q goes through and has no depth", a.Depth)
			return
		}
		a.sizeHoles(i)
		return
	}
	f, known := p.features[a.Depth]
	if !known || f.Kind != solid.NamedShape {
		a.say("name a hole, or a shape that is cut away", "nothing with a depth is named %q", a.Depth)
		return
	}
	axis, mouth, floor, found := p.sunk(f.Box)
	if !found {
		a.say("give it as from and to", "the depth of %q shows from no one side", a.Depth)
		return
	}
	d := a.measure(axis, mouth, floor)
	d.To, d.Text = a.Depth, a.system.toleranced(d.Value, a.behind(d.Value))
}

// sunk is the axis along which a shape that is cut away is deep, with the levels of
// its mouth, which lies in the part's own side, and of its floor: of several the
// least deep.
func (p *part) sunk(box solid.Box) (axis solid.Axis, mouth, floor int, found bool) {
	least := math.Inf(1)
	for _, one := range axes {
		low, high := on(box.Min, one), on(box.Max, one)
		openLow, openHigh := low < on(p.box.Min, one)+near, high > on(p.box.Max, one)-near
		if openLow == openHigh {
			continue
		}
		from, to := on(p.box.Max, one), low
		if openLow {
			from, to = on(p.box.Min, one), high
		}
		i, j := p.levelAt(one, from), p.levelAt(one, to)
		if depth := math.Abs(to - from); i >= 0 && j >= 0 && i != j && depth < least {
			axis, mouth, floor, found, least = one, i, j, true, depth
		}
	}
	return axis, mouth, floor, found
}

// groupOf is the group of holes that a name means, -1 for none.
func (p *part) groupOf(name string) int {
	return slices.IndexFunc(p.groups, func(g group) bool {
		return slices.ContainsFunc(g.holes, func(h int) bool { return p.holes[h].name == name || p.holes[h].pattern == name })
	})
}

// barrelsOf are the round steps that a name means: a face, or all of a named shape.
func (p *part) barrelsOf(name string) []int {
	var list []int
	for i, b := range p.barrels {
		if b.name == name || strings.HasPrefix(b.name, name+".") {
			list = append(list, i)
		}
	}
	return list
}
