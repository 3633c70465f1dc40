package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"plansheaf/design/solid"
)

// Kind is what a dimension measures.
type Kind string

// The kinds of dimension.
const (
	Linear    Kind = "linear"    // between two levels of an axis
	Pitch     Kind = "pitch"     // equal steps along an axis
	Diameter  Kind = "diameter"  // of an outer round face
	Radius    Kind = "radius"    // of corners
	Callout   Kind = "callout"   // size of a hole or of a pattern of equal ones
	Ring      Kind = "ring"      // pitch circle and spacing of a ring of holes
	Thickness Kind = "thickness" // of a plate, said in words
	Section   Kind = "section"   // of a bar, said in words
	Table     Kind = "table"     // coordinates in the hole table
	Angle     Kind = "angle"     // of a slanted side
	Chamfer   Kind = "chamfer"   // of corners or rims broken at 45 degrees
	Taper     Kind = "taper"     // angle or taper of a cone
)

// A Dimension is one thing that the drawing fixes, computed from the solid.
type Dimension struct {
	Kind   Kind
	Axis   string  // x y z; empty for sizes
	From   string  // what it is measured from: a face, a hole
	To     string  // what it is measured to
	Low    float64 // levels on the axis, mm
	High   float64
	Count  int // steps of a pitch; holes or corners of a size
	Value  float64
	Text   string   // as drawn, first line
	Second string   // the other unit system, where it has a line of its own
	Sizes  []string // names of what it gives a size
	View   string   // where it stands; empty for notes
	Given  bool     // by the author
	Index  int      // of what is given: in Request.Dimensions
	// Reference tells that it fixes nothing and stands in brackets.
	Reference bool

	axis   solid.Axis
	points []float64 // levels of a pitch
	holes  []int     // callout: indices of part.holes
	group  int       // ring, table: index of part.groups
	round  int       // radius: index of part.rounds
	barrel int       // diameter: index of part.barrels
	corner corner    // angle
	bevels []bevel   // chamfer, taper
}

// A Fact is something of the part that its drawing must fix exactly once: the
// place of a level on an axis, or a size.
type Fact struct {
	Axis    string  // x y z for a place; empty for a size
	At      float64 // of a place, mm
	Feature string  // what lies there, or has the size
}

// A Tie joins two levels of an axis without a linear dimension: a size that
// comes with the stock or a thickness in words, the rim and the middle of
// something round, the holes of a ring.
type Tie struct {
	Axis string
	A, B float64 // levels, mm
	By   string  // "stock", "round", "ring"
}

// scheme decides which dimensions a drawing needs.
type scheme struct {
	part   *part
	system System
	words  map[string]HoleWord
	sets   [3][]int // union-find over levels
	list   []Dimension
	ties   []Tie
	middle [3]map[int]bool // levels of ring centres: they are placed rather than the ring's holes
	sized  map[string]bool
	tabled map[int]bool // groups that the hole table places
	tables map[float64]*holeTable
}

// plan works out the dimensions: the author's first, then what is missing.
func (p *part) plan(r *Request, fault func(Fault)) *scheme {
	s := &scheme{part: p, system: r.System, words: r.Called, sized: map[string]bool{}, tabled: map[int]bool{}, tables: map[float64]*holeTable{}}
	for a := range s.sets {
		s.middle[a] = map[int]bool{}
		s.sets[a] = make([]int, len(p.levels[a]))
		for i := range s.sets[a] {
			s.sets[a][i] = i
		}
	}
	s.settle()
	s.givenAll(r, fault)
	if !r.OnlyGiven {
		s.rings()
		s.bevels()
		s.overall()
		s.angles()
		s.tableGroups()
		s.pitches()
		s.narrow()
		s.baselines()
		s.sizes()
	}
	return s
}

func (s *scheme) root(a solid.Axis, i int) int {
	for s.sets[a][i] != i {
		i = s.sets[a][i]
	}
	return i
}

// join joins two levels; false when they were joined already.
func (s *scheme) join(a solid.Axis, i, j int) bool {
	i, j = s.root(a, i), s.root(a, j)
	if i == j {
		return false
	}
	s.sets[a][max(i, j)] = min(i, j)
	return true
}

// tie joins two levels without a dimension; an index below 0 is no level.
func (s *scheme) tie(a solid.Axis, i, j int, by string) {
	if i >= 0 && j >= 0 && s.join(a, i, j) {
		s.ties = append(s.ties, Tie{a.String(), s.part.levels[a][i].at, s.part.levels[a][j].at, by})
	}
}

// settle joins what needs no linear dimension: a section and a thickness that
// come with the stock, the middle and the rim of what is round.
func (s *scheme) settle() {
	p := s.part
	for _, axis := range axes {
		last := len(p.levels[axis]) - 1
		if p.body == Bar && axis != p.along || p.body == Plate && axis == solid.AxisZ {
			s.tie(axis, 0, last, "stock")
		}
	}
	for _, b := range p.barrels {
		for _, axis := range axes {
			if axis == b.axis {
				continue
			}
			middle := on(b.centre, axis)
			centre, low, high := p.levelAt(axis, middle), p.levelAt(axis, middle-b.d/2), p.levelAt(axis, middle+b.d/2)
			s.tie(axis, low, high, "round")
			s.tie(axis, centre, low, "round")
			s.tie(axis, centre, high, "round")
		}
	}
	for _, r := range p.rounds { // a half circle's centre follows from its ends
		for i, c := range r.at {
			if r.sweep[i][1]-r.sweep[i][0] < math.Pi-1e-6 {
				continue
			}
			for _, axis := range axes {
				centre := p.levelAt(axis, on(c.O, axis))
				for _, side := range []float64{-1, 1} {
					s.tie(axis, centre, p.levelAt(axis, on(c.O, axis)+side*c.R), "round")
				}
			}
		}
	}
}

// add appends a linear dimension between two levels and joins them.
func (s *scheme) add(axis solid.Axis, i, j int) *Dimension {
	s.join(axis, i, j)
	return s.state(axis, i, j)
}

// state appends a linear dimension that joins nothing.
func (s *scheme) state(axis solid.Axis, i, j int) *Dimension {
	from, to := s.part.levels[axis][i], s.part.levels[axis][j]
	value := math.Abs(to.at - from.at)
	s.list = append(s.list, Dimension{Kind: Linear, Axis: axis.String(), axis: axis, From: from.title(), To: to.title(),
		Low: min(from.at, to.at), High: max(from.at, to.at), Value: value, Text: s.system.both(value)})
	return &s.list[len(s.list)-1]
}

// callout sizes a group, and with it all others of the same size seen from the
// same side that are not sized yet.
func (s *scheme) callout(index int, word HoleWord, more holeWords, given bool) *Dimension {
	p := s.part
	whole := group{pattern: p.groups[index].pattern}
	words := p.holes[p.groups[index].holes[0]].words(s.system, word)
	var ends group // the same holes at a bar's other end
	for i, g := range p.groups {
		first := p.holes[g.holes[0]]
		alike := !given && !s.sized[first.name] && !s.tabled[i] && first.words(s.system, s.words[g.pattern]) == words
		switch {
		case i == index || alike && first.dir.Dist(p.holes[p.groups[index].holes[0]].dir) < 1e-9:
			whole.holes = append(whole.holes, g.holes...)
		case alike && p.body == Bar && !first.through && first.dir.Dist(p.holes[p.groups[index].holes[0]].dir.Mul(-1)) < 1e-9 && sameAxis(first.dir, p.along):
			ends.holes = append(ends.holes, g.holes...)
		}
	}
	first, second := p.callout(whole, s.system, word, more)
	if p.faces(whole.holes, ends.holes) {
		first += ", each end"
		whole.holes = append(whole.holes, ends.holes...)
	}
	d := Dimension{Kind: Callout, Count: len(whole.holes), Value: p.holes[whole.holes[0]].d, Text: first, Second: second,
		holes: whole.holes, Given: given, To: whole.pattern}
	for _, h := range whole.holes {
		d.Sizes = append(d.Sizes, p.holes[h].name)
		s.sized[p.holes[h].name] = true
	}
	s.list = append(s.list, d)
	return &s.list[len(s.list)-1]
}

// faces reports whether two sets of holes face each other, one for one.
func (p *part) faces(holes, others []int) bool {
	return len(holes) == len(others) && !slices.ContainsFunc(holes, func(i int) bool {
		return !slices.ContainsFunc(others, func(j int) bool { return flatten(p.holes[j].at.Sub(p.holes[i].at), p.along).Len() < near })
	})
}

// diameter sizes a round step; words follow the value.
func (s *scheme) diameter(index int, words string, given bool) *Dimension {
	b := s.part.barrels[index]
	d := Dimension{Kind: Diameter, Value: b.d, Count: s.part.alike(b), barrel: index, Given: given, To: b.name, Sizes: []string{barrelName(b)}}
	if b.thread == nil {
		d.Text = "⌀" + s.system.toleranced(b.d, words)
	} else {
		d.Text = strings.TrimSpace(b.thread.Designation + " " + words)
	}
	if d.Count > 1 {
		d.Text = fmt.Sprintf("%d× %s", d.Count, d.Text)
	}
	s.sized[barrelName(b)] = true
	s.list = append(s.list, d)
	return &s.list[len(s.list)-1]
}

// alike counts the round steps like one, itself included, that stand beside each
// other: bosses, studs.
func (p *part) alike(b barrel) int {
	count := 0
	for _, o := range p.barrels {
		if o.axis == b.axis && barrelName(o) == barrelName(b) && math.Abs(o.to-b.to) < near {
			count++
		}
	}
	return count
}

// barrelName tells the steps of a turned part apart.
func barrelName(b barrel) string {
	return fmt.Sprintf("round %s at %s", decimals(b.d, 3), decimals(b.from, 3))
}

// overall joins the ends of each axis; where an end is round about a hole, from the
// hole's middle, with the whole size in brackets, since a rim is no place to measure
// from.
func (s *scheme) overall() {
	for _, axis := range axes {
		last := len(s.part.levels[axis]) - 1
		if s.root(axis, 0) == s.root(axis, last) {
			continue
		}
		low, high := s.part.eye(axis, 0), s.part.eye(axis, last)
		s.add(axis, low, high)
		if low != 0 || high != last {
			whole := s.state(axis, 0, last)
			whole.Reference, whole.Text = true, "("+whole.Text+")"
		}
	}
}

// eye is the level of the holes that stand in the middle of a part's round end, where
// there are such: the end's own level otherwise.
func (p *part) eye(axis solid.Axis, end int) int {
	at := p.levels[axis][end].at
	for _, r := range p.rounds {
		for i, c := range r.at {
			middle := on(c.O, axis)
			if r.sweep[i][1]-r.sweep[i][0] < math.Pi-1e-6 || r.inside[i] || sameAxis(c.Z, axis) || math.Abs(math.Abs(middle-at)-c.R) > near {
				continue
			}
			k := p.levelAt(axis, middle)
			if k >= 0 && slices.ContainsFunc(p.levels[axis][k].holes, func(h int) bool {
				return sameWay(p.holes[h].dir, c.Z) && flatten(p.holes[h].at.Sub(c.O), normalAxis(c.Z)).Len() < near
			}) {
				return k
			}
		}
	}
	return end
}

// normalAxis is the axis along which a direction runs.
func normalAxis(v solid.Vec) solid.Axis {
	axis, _ := axisOf(v)
	return axis
}

// pitches finds patterns of three or more equal steps that nothing places yet.
func (s *scheme) pitches() {
	p := s.part
	for _, g := range p.groups {
		for _, axis := range axes {
			at := s.levelsOf(g, axis)
			if len(at) < 3 || !equalSteps(p.levels[axis], at) || !s.apart(axis, at) {
				continue
			}
			first, last := p.levels[axis][at[0]], p.levels[axis][at[len(at)-1]]
			steps := len(at) - 1
			step := (last.at - first.at) / float64(steps)
			d := Dimension{Kind: Pitch, Axis: axis.String(), axis: axis, From: first.title(), To: last.title(),
				Low: first.at, High: last.at, Count: steps, Value: step,
				Text: fmt.Sprintf("%d× %s (= %s)", steps, s.system.both(step), s.system.length(last.at-first.at))}
			for _, i := range at {
				s.join(axis, at[0], i)
				d.points = append(d.points, p.levels[axis][i].at)
			}
			s.list = append(s.list, d)
		}
	}
}

// levelsOf are the levels of a group's centres on an axis, in order.
func (s *scheme) levelsOf(g group, axis solid.Axis) []int {
	var at []int
	for i, l := range s.part.levels[axis] {
		for _, h := range l.holes {
			if slices.Contains(g.holes, h) {
				at = append(at, i)
				break
			}
		}
	}
	return at
}

func equalSteps(levels []level, at []int) bool {
	step := levels[at[1]].at - levels[at[0]].at
	for i := 2; i < len(at); i++ {
		if math.Abs(levels[at[i]].at-levels[at[i-1]].at-step) > near {
			return false
		}
	}
	return true
}

// apart reports whether no two of the levels are joined yet.
func (s *scheme) apart(axis solid.Axis, at []int) bool {
	roots := map[int]bool{}
	for _, i := range at {
		roots[s.root(axis, i)] = true
	}
	return len(roots) == len(at)
}

// narrowMost is how narrow a round step is that has its own width as a dimension: a
// groove is cut with a tool as wide as that, mm. Common practice, no source.
const narrowMost = 5.0

// narrow dimensions grooves and collars by their widths rather than by where both of
// their sides lie.
func (s *scheme) narrow() {
	p := s.part
	for _, b := range p.barrels {
		i, j := p.levelAt(b.axis, b.from), p.levelAt(b.axis, b.to)
		if width := b.to - b.from; width < near || width > narrowMost || i < 0 || j < 0 || s.root(b.axis, i) == s.root(b.axis, j) {
			continue
		}
		s.add(b.axis, i, j)
	}
}

// baselines places what is left from the datum.
func (s *scheme) baselines() {
	for _, axis := range axes {
		for i := range s.part.levels[axis] {
			if datum := s.part.datum(axis); s.root(axis, i) != s.root(axis, datum) {
				s.add(axis, datum, s.placed(axis, i))
			}
		}
	}
}

// datum is the level from which an axis is dimensioned: the lowest face, or the
// middle of what is round there or all over, since its rim cannot be measured from.
func (p *part) datum(axis solid.Axis) int {
	if about, round := p.turnedAbout(); round && about != axis {
		return max(0, p.levelAt(axis, on(p.box.Centre(), axis)))
	}
	return p.eye(axis, 0)
}

// placed is the level that stands for all that are joined with one: the middle
// of a ring, if any.
func (s *scheme) placed(axis solid.Axis, i int) int {
	for j := range s.part.levels[axis] {
		if s.middle[axis][j] && s.root(axis, j) == s.root(axis, i) {
			return j
		}
	}
	return i
}

// sizes adds a callout for each group, a diameter for each round step, a radius
// for each corner radius.
func (s *scheme) sizes() {
	p := s.part
	for i, g := range p.groups {
		if !s.sized[p.holes[g.holes[0]].name] {
			s.callout(i, s.words[g.pattern], holeWords{}, false)
		}
	}
	seen := map[string]bool{}
	for i, b := range p.barrels {
		if p.body == Bar && b.axis == p.along && b.thread == nil {
			continue // the section comes with the stock
		}
		if name := barrelName(b); !s.sized[name] && !seen[name] {
			seen[name] = true
			word := s.words[b.name]
			s.diameter(i, strings.TrimSpace(s.system.fit(b.d, word.Fit)+" "+word.Tolerance), false)
		}
	}
	for i, r := range p.rounds {
		if !s.sized[roundName(r)] {
			s.radius(i, "")
		}
	}
	switch p.body {
	case Plate:
		t := p.box.Size().Z
		s.list = append(s.list, Dimension{Kind: Thickness, Axis: "z", Low: p.box.Min.Z, High: p.box.Max.Z, Value: t, Count: 1,
			Text: "t = " + s.system.both(t)})
	case Bar:
		s.list = append(s.list, Dimension{Kind: Section, Text: p.section(s.system), Count: 1})
	}
}

// radius sizes corners of one radius; words follow the value.
func (s *scheme) radius(index int, words string) *Dimension {
	r := s.part.rounds[index]
	text := "R" + s.system.toleranced(r.radius, words)
	if len(r.at) > 1 {
		text = fmt.Sprintf("%d× %s", len(r.at), text)
	}
	s.sized[roundName(r)] = true
	s.list = append(s.list, Dimension{Kind: Radius, Value: r.radius, Count: len(r.at), Text: text, round: index, Sizes: []string{roundName(r)}})
	return &s.list[len(s.list)-1]
}

func roundName(r rounding) string { return "R" + decimals(r.radius, 3) }

// section says a bar's section in words.
func (p *part) section(system System) string {
	var sides []float64
	for _, axis := range axes {
		if axis != p.along {
			sides = append(sides, on(p.box.Size(), axis))
		}
	}
	for _, b := range p.barrels {
		if b.axis == p.along && math.Abs(b.d-sides[0]) < near && math.Abs(sides[0]-sides[1]) < near {
			return "⌀" + system.both(b.d)
		}
	}
	second := system.other()
	return fmt.Sprintf("%s × %s [%s × %s]", system.length(sides[0]), system.length(sides[1]),
		second.length(sides[0]), second.length(sides[1]))
}

// facts lists what the drawing must fix: every level's place, every size.
func (p *part) facts() []Fact {
	var list []Fact
	for _, axis := range axes {
		for _, l := range p.levels[axis] {
			list = append(list, Fact{Axis: axis.String(), At: l.at, Feature: l.title()})
		}
	}
	for _, h := range p.holes {
		list = append(list, Fact{Feature: h.name})
	}
	seen := map[string]bool{}
	for _, b := range p.barrels {
		name := barrelName(b)
		if !seen[name] && (p.body != Bar || b.axis != p.along || b.thread != nil) {
			seen[name] = true
			list = append(list, Fact{Feature: name})
		}
	}
	for _, r := range p.rounds {
		list = append(list, Fact{Feature: roundName(r)})
	}
	for _, what := range p.left {
		list = append(list, Fact{Feature: placesOf + what})
	}
	return list
}
