package clash

import (
	"maps"
	"math"

	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/solid"
)

const (
	// mostMotions bounds how many motions are followed, mostOthers with how many
	// positions of others each.
	mostMotions = 32
	mostOthers  = 16
)

// A ranged is a motion with its range; at rest it stands at share rest of it.
type ranged struct {
	*plan.Motion
	from, to quantity.Value
	rest     float64
}

// at is where the motion stands a share of its range from rest.
func (m *ranged) at(u float64) quantity.Value {
	v := m.from
	v.SI += (m.rest + u) * (m.to.SI - m.from.SI)
	return v
}

// ranges are the motions that have somewhere to go.
func (s *search) ranges() []*ranged {
	var out []*ranged
	for _, m := range s.r.Plan.Motions {
		from, to, err := s.r.Range(m)
		if err != nil || from.SI == to.SI || len(out) >= mostMotions {
			continue
		}
		one := &ranged{Motion: m, from: from, to: to}
		if share := -from.SI / (to.SI - from.SI); share > 0 && share <= 1 {
			one.rest = share // drawn at 0 where that lies inside
		}
		out = append(out, one)
	}
	return out
}

// travels follows every motion.
func (s *search) travels() {
	all := s.ranges()
	for _, m := range all {
		s.travel(m, all)
		s.poses = nil // those of the next one are others
	}
	s.combine()
}

// travel follows one motion, with the others at rest and each of them at its ends.
func (s *search) travel(m *ranged, all []*ranged) {
	t := &Travel{Motion: m.Motion, From: m.from, To: m.to}
	told := map[[2]string]bool{}
	j := &journey{search: s, m: m, t: t, told: told, others: map[string]quantity.Value{}, bodies: s.bodies}
	if !j.run() {
		return
	}
	s.journeys = append(s.journeys, j)
	j.soft()
	j.snags()
	tried := 0
	for _, other := range all {
		for _, end := range [2]float64{-other.rest, 1 - other.rest} {
			if other == m || end == 0 || tried >= mostOthers {
				continue
			}
			tried++
			others := map[string]quantity.Value{other.ID.Text: other.at(end)}
			if bodies := s.posed(others); bodies != nil {
				(&journey{search: s, m: m, t: t, told: told, others: others, bodies: bodies}).run()
			}
		}
	}
	s.report.Travels = append(s.report.Travels, t)
}

// posed are the machine's bodies with motions elsewhere, in the order of those at rest;
// nil where it cannot be laid out so. One that is not there then, or whose shape is
// another, as that of a belt which is led elsewhere, stands where it rests.
func (s *search) posed(at map[string]quantity.Value) []*Body {
	p := s.pose(at)
	if p == nil {
		return nil
	}
	out := make([]*Body, len(s.bodies))
	for i, b := range s.bodies {
		one := *b
		if at := p.stands[i]; at != b.At {
			one.At, one.box = at, boxAt(one.Solid, at)
		}
		out[i] = &one
	}
	return out
}

// A journey is one motion with the others somewhere.
type journey struct {
	*search
	m      *ranged
	t      *Travel
	told   map[[2]string]bool // pairs of which a clash was told
	others map[string]quantity.Value
	bodies []*Body // with the motion at rest
	groups []*course
	of     []int // by body: which course it is on
}

// run follows the bodies; false where none moves.
func (j *journey) run() bool {
	if !j.courses() {
		return false
	}
	from, to := -j.m.rest, 1-j.m.rest
	boxes := make([]solid.Box, len(j.bodies))
	for i, b := range j.bodies {
		boxes[i] = swept(b, j.groups[j.of[i]], from, to)
	}
	first := map[[2]string]*Clash{}
	var order [][2]string
	var near []*pass
	var found []*followed
	eachNear(boxes, Looked, func(i, k int) {
		p := j.pass(i, k, from, to)
		if p == nil {
			return
		}
		j.t.Pairs++
		p.apart = apart(boxes[i], boxes[k])
		f := p.follow()
		j.t.Unsure = j.t.Unsure || f.Unsure
		if !f.Hit {
			if len(j.kin.fitsOf(p.a, p.b)) == 0 && !j.store.touch(p.a, p.b) { // that others are near is meant
				near, found = append(near, p), append(found, f)
			}
			return
		}
		j.clashed[[2]int{i, k}] = true
		c, key := j.clash(p, &f.met), j.fault(p)
		if old := first[key]; old == nil {
			first[key] = c
			order = append(order, key)
		} else if math.Abs(j.shareOf(c.First)) < math.Abs(j.shareOf(old.First)) {
			*old = *c
		}
	})
	for _, key := range order {
		if !j.told[key] {
			j.told[key] = true
			j.t.Clashes = append(j.t.Clashes, *first[key])
		}
	}
	j.nearest(near, found)
	return true
}

// pass prepares two bodies to be followed; nil for two that move as one, that are meant
// to meet, or that overlap at rest already.
func (j *journey) pass(i, k int, from, to float64) *pass {
	if j.of[i] == j.of[k] {
		return nil
	}
	a, b := j.bodies[i], j.bodies[k]
	if !j.mayNot(i, k) {
		return nil
	}
	ca, cb := j.groups[j.of[i]], j.groups[j.of[k]]
	if ca.still { // what moves comes first
		a, b, ca, cb = b, a, cb, ca
	}
	return newPass(j.store, a, b, ca, cb, from, to)
}

// mayNot reports whether two bodies may not run into each other: not those that are meant
// to meet or overlap at rest already.
func (s *search) mayNot(i, k int) bool {
	a, b := s.bodies[i], s.bodies[k]
	if s.kin.met(a, b) || s.kin.statedOf(a, b) != nil || s.meets[[2]int{i, k}] || !s.leads(common(a, b)) {
		return false
	}
	for _, f := range s.kin.fitsOf(a, b) {
		if f.kind == plan.Run || f.deep+f.off > Deep/10 {
			return false
		}
	}
	return true
}

// steps (mm) are the limits up to which the nearest bodies are looked for, one after
// the other: what is further off than a small one is soon told.
var steps = []float64{Looked / 20, Looked / 5, Looked}

// nearest finds where of some passes two bodies come nearest.
func (j *journey) nearest(list []*pass, found []*followed) {
	known := j.t.Least
	for _, step := range steps {
		for i, p := range list {
			limit := step
			if j.t.Least != nil {
				limit = math.Min(limit, j.t.Least.Gap)
			}
			f := found[i]
			if p.apart >= limit {
				continue
			}
			if p.least(limit, f); f.Gap < limit {
				j.t.Least = &Clearance{A: p.a, B: p.b, Gap: f.Gap, AtLeast: f.Envelope, Within: f.Within, Stands: j.m.at(f.Nearest), Others: j.others, At: p.cb.over(f.Nearest).Point(p.placed(f.Nearest, f.Envelope).Point(f.Place))}
			}
		}
		if j.t.Least != nil {
			break
		}
	}
	if j.t.Least != nil && j.t.Least != known {
		j.places(list, found)
	}
}

// places notes everywhere on the way where two bodies are as near to each other as any
// come.
func (j *journey) places(list []*pass, found []*followed) {
	j.t.Places = nil
	limit := j.t.Least.Gap + Close
	for i, p := range list {
		f := found[i]
		if p.apart >= limit {
			continue
		}
		if p.least(limit, f); f.Gap >= limit {
			continue
		}
		for _, s := range p.stretches(limit) {
			if len(j.t.Places) < mostPlaces {
				j.t.Places = append(j.t.Places, Place{A: p.a, B: p.b, Gap: f.Gap, AtLeast: f.Envelope, From: j.m.at(s.From), To: j.m.at(s.To), Others: j.others})
			}
		}
	}
}

// mostPlaces bounds how many places of least clearance are told of a motion.
const mostPlaces = 20

// shareOf is the share of the range, from rest, at which the motion stands somewhere.
func (j *journey) shareOf(v quantity.Value) float64 {
	return (v.SI-j.m.from.SI)/(j.m.to.SI-j.m.from.SI) - j.m.rest
}

// clash is what is told of two bodies that run into each other.
func (j *journey) clash(p *pass, f *met) *Clash {
	in := common(p.a, p.b)
	return &Clash{
		A: p.a, B: p.b, In: in, Instances: j.count[in.Assembly], First: j.m.at(f.First), Others: maps.Clone(j.others), Deepest: j.m.at(f.Deepest),
		Depth: f.Depth, At: p.cb.over(f.First).Point(p.at(f.First).Point(f.At)), Passes: f.Passes,
	}
}

// fault tells clashes apart: of all that moves as one the body counts that is first to
// meet another, and all that one joint brings is one.
func (j *journey) fault(p *pass) [2]string {
	return [2]string{j.leader(j.of[p.a.number]), p.b.Path}
}

// leader names a group of bodies that move as one by the first of them.
func (j *journey) leader(group int) string {
	for i, g := range j.of {
		if g == group {
			return j.bodies[i].Path
		}
	}
	return ""
}

// courses finds out how every body moves; false where none does.
func (j *journey) courses() bool {
	shares := j.samples()
	moved, ok := j.displaced(shares)
	if !ok {
		return false
	}
	j.groups, j.of = []*course{{still: true, even: true}}, make([]int, len(j.bodies))
	var lists [][]solid.Placement // of the groups but the first
	for i, b := range j.bodies {
		far := b.box.Corners()
		of := func(k int) solid.Placement { return moved[k][i] }
		if alikeAll(len(shares), of, func(int) solid.Placement { return solid.Stay }, far[:]) {
			continue
		}
		for g, list := range lists {
			if alikeAll(len(shares), of, func(k int) solid.Placement { return list[k] }, far[:]) {
				j.of[i] = g + 1
				break
			}
		}
		if j.of[i] != 0 {
			continue
		}
		list := make([]solid.Placement, len(shares))
		for k := range shares {
			list[k] = of(k)
		}
		c := courseOf(shares, list, far[:])
		lists, j.groups = append(lists, list), append(j.groups, &c)
		j.of[i] = len(j.groups) - 1
	}
	return len(j.groups) > 1 && j.uneven()
}

// alikeAll reports whether two lists of displacements are one for what lies within far.
func alikeAll(n int, a, b func(k int) solid.Placement, far []solid.Vec) bool {
	for k := range n {
		if off(a(k), b(k), far) > fitting {
			return false
		}
	}
	return true
}

// samples are shares of the range from rest: a tiny one, the ends, some between.
func (j *journey) samples() []float64 {
	shares := []float64{tiny}
	if j.m.rest == 1 {
		shares[0] = -tiny
	}
	for _, end := range [2]float64{-j.m.rest, 1 - j.m.rest} {
		if end != 0 {
			shares = append(shares, end)
		}
	}
	for k := range evenSamples {
		_, share := math.Modf(float64(k+1) * golden)
		if u := share - j.m.rest; math.Abs(u) > tiny {
			shares = append(shares, u)
		}
	}
	return shares
}

// displaced are the displacements of every body from rest, by share.
func (j *journey) displaced(shares []float64) (moved [][]solid.Placement, ok bool) {
	for _, u := range shares {
		at := maps.Clone(j.others)
		at[j.m.ID.Text] = j.m.at(u)
		p := j.pose(at)
		if p == nil {
			return nil, false
		}
		list := make([]solid.Placement, len(j.bodies))
		for i, b := range j.bodies {
			list[i] = b.At.Inverse().Then(p.stands[i])
		}
		moved = append(moved, list)
	}
	return moved, true
}

// uneven samples the ways of groups that do not move evenly in more places.
func (j *journey) uneven() bool {
	var groups []int
	for g, c := range j.groups {
		if !c.even {
			groups = append(groups, g)
		}
	}
	if len(groups) == 0 {
		return true
	}
	j.t.Sampled = true
	var shares []float64
	for k := 0; k <= pieces; k++ {
		shares = append(shares, float64(k)/pieces-j.m.rest)
	}
	moved, ok := j.displaced(shares)
	for _, g := range groups {
		c := j.groups[g]
		c.shares, c.moved = []float64{0}, []solid.Placement{solid.Stay}
		for i := range j.bodies {
			if j.of[i] != g || !ok {
				continue
			}
			c.shares = append(c.shares, shares...)
			for k := range shares {
				c.moved = append(c.moved, moved[k][i])
			}
			break
		}
	}
	return ok
}

// swept is a box around all places of a body on a course.
func swept(b *Body, c *course, from, to float64) solid.Box {
	if c.slides() || !c.even {
		return sweptBox(b.box, c, from, to)
	}
	corners := b.Solid.Box().Corners()
	for i, p := range corners {
		corners[i] = b.At.Point(p)
	}
	return moved(turnedBox(corners[:], c), c.slide.Mul(from)).Join(moved(turnedBox(corners[:], c), c.slide.Mul(to)))
}

// sweptBox is a box around all places of what lies in a box, on a course.
func sweptBox(b solid.Box, c *course, from, to float64) solid.Box {
	far := b.Corners()
	switch {
	case c.slides():
		return moved(b, c.slide.Mul(from)).Join(moved(b, c.slide.Mul(to)))
	case c.even:
		disc := turnedBox(far[:], c)
		return moved(disc, c.slide.Mul(from)).Join(moved(disc, c.slide.Mul(to)))
	}
	box, step := solid.EmptyBox(), 0.0
	last := c.over(from)
	add := func(d solid.Placement) {
		step = math.Max(step, off(d, last, far[:]))
		last = d
		for _, p := range far {
			box = box.Add(d.Point(p))
		}
	}
	add(last)
	for _, u := range c.inOrder() {
		if u > from && u < to {
			add(c.over(u))
		}
	}
	add(c.over(to))
	return box.Grow(step / 2)
}

// turnedBox is a box around all that some points reach in a whole turn of a course, which
// is a disc.
func turnedBox(points []solid.Vec, c *course) solid.Box {
	low, high, r := math.Inf(1), math.Inf(-1), 0.0
	for _, p := range points {
		d := p.Sub(c.at)
		z := d.Dot(c.axis)
		low, high, r = math.Min(low, z), math.Max(high, z), math.Max(r, d.Sub(c.axis.Mul(z)).Len())
	}
	half := func(k float64) float64 { return r * math.Sqrt(math.Max(0, 1-k*k)) }
	wide := solid.Vec{X: half(c.axis.X), Y: half(c.axis.Y), Z: half(c.axis.Z)}
	box := solid.EmptyBox()
	for _, z := range [2]float64{low, high} {
		o := c.at.Add(c.axis.Mul(z))
		box = box.Add(o.Sub(wide)).Add(o.Add(wide))
	}
	return box
}

// moved is a box moved by a vector.
func moved(b solid.Box, by solid.Vec) solid.Box {
	if b.Empty() {
		return b
	}
	return solid.Box{Min: b.Min.Add(by), Max: b.Max.Add(by)}
}
