package clash

import (
	"math"

	"plansheaf/design/layout"
	"plansheaf/design/memo"
	"plansheaf/design/quantity"
	"plansheaf/design/solid"
	"plansheaf/design/solid/proximity"
)

// A Snag is a strand that something runs into on a motion's way, or that is drawn into
// something itself, as its ends move.
type Snag struct {
	Strand  layout.Strand // as it lies at rest
	Leg     int           // from which of its points on
	Body    *Body
	Carried bool           // the motion moves the strand there
	First   quantity.Value // where the motion stands at the first touch, coming from rest
	At      solid.Vec      // first touch
}

const (
	// strandPlaces is in how many places of a range strands are laid that a motion moves.
	strandPlaces = 24
	// strandSteps bounds how often one leg of a strand is looked at on its way past a body.
	strandSteps = 2000
	// farOff (mm) is from what distance on it does not matter how far a strand is off.
	farOff = 50.0
)

// A led is a strand along a motion: its points by share of the range, in between straight.
type led struct {
	layout.Strand
	shares []float64
	points [][]solid.Vec // by share
}

// snags follows the strands along the motion: as cylinders of their diameter with rounded
// ends from place to place, which go along with what they are fixed to.
func (j *journey) snags() {
	for _, s := range j.led() {
		stops := stopsOf(s.Strand)
		own := &Body{Path: s.Instance.Path, In: s.Instance}
		first := map[string]int{} // by fault: which of the travel's snags
		for leg := range len(s.Points) - 1 {
			line := legBox(s, leg)
			for i, b := range j.bodies {
				c := j.groups[j.of[i]]
				if c.still && s.still(leg) || apart(line, swept(b, c, -j.m.rest, 1-j.m.rest)) > 0 || j.stops(b, stops) || j.holdsStop(b, stops) || !j.leads(common(own, b)) {
					continue
				}
				hit := j.snag(&s, leg, b, c, -j.m.rest, 1-j.m.rest)
				if !hit.Hit {
					continue
				}
				fault := b.Path
				if !c.still {
					fault = j.leader(j.of[i])
				}
				one := Snag{Strand: s.Strand, Leg: leg, Body: b, Carried: !s.still(leg), First: j.m.at(hit.At), At: hit.On}
				if k, known := first[fault]; !known {
					first[fault] = len(j.t.Snags)
					j.t.Snags = append(j.t.Snags, one)
				} else if math.Abs(hit.At) < math.Abs(j.shareOf(j.t.Snags[k].First)) {
					j.t.Snags[k] = one
				}
			}
		}
	}
}

// holdsStop reports whether a body belongs to a joint that holds what a strand names.
func (s *search) holdsStop(b *Body, stops []string) bool {
	if b.Joint == nil {
		return false
	}
	for _, stop := range stops {
		if s.kin.layers[layer{b.held, b.Place, stop}] {
			return true
		}
	}
	return false
}

// led lays the strands in places along the motion; those that it does not move in one.
func (j *journey) led() []led {
	var out, tried []led
	for _, s := range j.l.Strands() {
		if s.D > 0 && len(out) < mostStrands {
			out = append(out, led{Strand: s, shares: []float64{0}, points: [][]solid.Vec{s.Points}})
			tried = append(tried, led{Strand: s})
		}
	}
	if len(out) == 0 || !j.lay(tried, []float64{-j.m.rest, golden - j.m.rest, 1 - j.m.rest}) {
		return out
	}
	shares := make([]float64, strandPlaces+1)
	for k := range shares {
		shares[k] = float64(k)/strandPlaces - j.m.rest
	}
	for i := range out {
		out[i].shares, out[i].points = nil, nil
	}
	j.lay(out, shares)
	return out
}

// mostStrands bounds how many strands of a machine are followed.
const mostStrands = 500

// lay adds where strands run with the motion at some shares; moved tells whether one of
// them does not run as at rest.
func (j *journey) lay(strands []led, shares []float64) (moved bool) {
	for _, u := range shares {
		there := map[string]layout.Strand{}
		if p := j.pose(map[string]quantity.Value{j.m.ID.Text: j.m.at(u)}); p != nil {
			for _, s := range p.layout.Strands() {
				there[s.Instance.Path] = s
			}
		}
		for i := range strands {
			s := &strands[i]
			now := s.Points
			if one, laid := there[s.Instance.Path]; laid && len(one.Points) == len(now) {
				now = one.Points
			}
			s.shares, s.points = append(s.shares, u), append(s.points, now)
			for k, p := range now {
				moved = moved || p.Dist(s.Points[k]) > fitting
			}
		}
	}
	return moved
}

// still reports whether a leg runs everywhere as at rest.
func (s *led) still(leg int) bool {
	for _, p := range s.points {
		if p[leg].Dist(s.Points[leg]) > fitting || p[leg+1].Dist(s.Points[leg+1]) > fitting {
			return false
		}
	}
	return true
}

// legBox is a box around all places of a leg.
func legBox(s led, leg int) solid.Box {
	box := solid.EmptyBox()
	for _, p := range s.points {
		box = box.Add(p[leg]).Add(p[leg+1])
	}
	return box.Grow(s.D / 2)
}

// ends are where a leg begins and ends at a share.
func (s *led) ends(leg int, u float64) (from, to solid.Vec) {
	last := len(s.shares) - 1
	k := 0
	for k < last-1 && s.shares[k+1] <= u {
		k++
	}
	a := s.points[k]
	if k >= last {
		return a[leg], a[leg+1]
	}
	b, t := s.points[k+1], (u-s.shares[k])/(s.shares[k+1]-s.shares[k])
	t = math.Max(0, math.Min(1, t))
	return a[leg].Add(b[leg].Sub(a[leg]).Mul(t)), a[leg+1].Add(b[leg+1].Sub(a[leg+1]).Mul(t))
}

// A leg is one stretch of a strand that goes past a body.
type leg struct {
	s    *led
	leg  int
	b    *Body
	c    *course
	body *proximity.Body
	into float64 // how deep it may be drawn into the body, mm
	pace float64 // how fast they come nearer at most, mm over the whole range
}

// snag is whether, where and at which share a strand's leg runs into a body.
type snag struct {
	Hit bool
	At  float64
	On  solid.Vec
}

// snag looks for where, coming from rest, a leg and a body first run into each other.
func (j *journey) snag(s *led, n int, b *Body, c *course, from, to float64) snag {
	var ends [][2]solid.Vec // at rest, then by share
	for _, p := range append([][]solid.Vec{s.Points}, s.points...) {
		ends = append(ends, [2]solid.Vec{p[n], p[n+1]})
	}
	return memo.Sure(j.store.Kept, "a strand that runs into a body", func() snag {
		l := &leg{s: s, leg: n, b: b, c: c, into: math.Min(Slight, s.D/4)}
		if l.together() {
			return snag{}
		}
		l.pace, l.body = l.paced(), j.store.body(b.Solid)
		return l.follow(from, to)
	}, s.D, ends, s.shares, b.Solid, b.At, c, from, to)
}

// paced bounds how fast leg and body come nearer.
func (l *leg) paced() float64 {
	s, pace, slide := l.s, 0.0, solid.Vec{}
	if l.c.slides() {
		slide = l.c.slide
	} else {
		pace = l.c.speed(l.b.box)
	}
	most := 0.0
	for k := 1; k < len(s.shares); k++ {
		long := s.shares[k] - s.shares[k-1]
		for e := l.leg; e <= l.leg+1; e++ {
			d := s.points[k][e].Sub(s.points[k-1][e])
			most = math.Max(most, d.Sub(slide.Mul(long)).Len()/long)
		}
	}
	if len(s.shares) == 1 {
		most = slide.Len()
	}
	return pace + most
}

// together reports whether leg and body move as one.
func (l *leg) together() bool {
	for k, u := range l.s.shares {
		back := l.c.over(u).Inverse()
		for e := l.leg; e <= l.leg+1; e++ {
			if back.Point(l.s.points[k][e]).Dist(l.s.Points[e]) >= Contact {
				return false
			}
		}
	}
	return len(l.s.shares) > 1
}

// gap is how far the leg keeps off the body at a share; negative where it is drawn into it.
func (l *leg) gap(u float64) (gap float64, at solid.Vec) {
	from, to := l.s.ends(l.leg, u)
	d, on := proximity.Line(from, to, l.body, l.b.At.Then(l.c.over(u)), farOff)
	return math.Min(d, farOff) - l.s.D/2, on[0]
}

// follow looks for where, coming from rest, leg and body first run into each other. What
// does so at rest is told there.
func (l *leg) follow(from, to float64) (out snag) {
	if l.pace == 0 {
		return out
	}
	start, _ := l.gap(0)
	if start < -l.into {
		return out
	}
	for _, end := range [2]float64{to, from} {
		if v, where, met := l.toward(start, end); met && (!out.Hit || math.Abs(v) < math.Abs(out.At)) {
			out = snag{true, v, where}
		}
	}
	return out
}

// toward goes from rest to an end in steps that the gap allows.
func (l *leg) toward(gap, end float64) (u float64, at solid.Vec, hit bool) {
	least := math.Abs(end) / strandSteps
	for gone := 0.0; gone < math.Abs(end); {
		gone = math.Min(math.Abs(end), gone+math.Max(least, (gap+l.into)/l.pace))
		u = math.Copysign(gone, end)
		if gap, at = l.gap(u); gap < -l.into {
			return u, at, true
		}
	}
	return 0, at, false
}
