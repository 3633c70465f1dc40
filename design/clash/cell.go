package clash

import (
	"cmp"
	"slices"

	"plansheaf/design/memo"
	"plansheaf/design/solid"
	"plansheaf/design/solid/proximity"
)

// A combination is two bodies that several motions move to each other.
type combination struct {
	*search
	i, k    int
	order   [2][]int // of the motions that move either, by journey
	all     []int    // motions that move them to each other
	along   int      // the one that is followed along its way
	speed   []float64
	coupled bool
	rows    int // how many more ways are looked at; below 0 once that came to an end
	spent   int // how many were

	ran     *pass // the way of the first clash found
	found   *met
	foundAt []float64 // shares of all
}

// combination prepares two bodies; nil for those that less than two motions move to each
// other, or that may meet, or that are known to.
func (s *search) combination(movers []mover, i, k int) *combination {
	a, b := &movers[i], &movers[k]
	c := &combination{search: s, i: i, k: k, order: [2][]int{a.order, b.order}, coupled: a.coupled || b.coupled}
	for n := range s.journeys {
		if s.apartBy(n, a, b, i, k) {
			c.all = append(c.all, n)
		}
	}
	c.coupled = c.coupled || len(c.all) > mostTogether
	if len(c.all) < 2 && !c.coupled || s.clashed[[2]int{i, k}] || !s.mayNot(i, k) {
		return nil
	}
	if c.coupled {
		if len(c.all) < 2 { // nobody knows which
			c.all = nil
			for n := range s.journeys {
				c.all = append(c.all, n)
			}
		}
		return c
	}
	return c
}

// apartBy reports whether a motion moves two bodies to each other. One that carries both
// along after all others does not.
func (s *search) apartBy(n int, a, b *mover, i, k int) bool {
	inA, inB := slices.Contains(a.order, n), slices.Contains(b.order, n)
	if !inA && !inB {
		return false
	}
	j := s.journeys[n]
	last := func(m *mover) bool { return m.order[len(m.order)-1] == n }
	return !inA || !inB || j.of[i] != j.of[k] || !last(a) || !last(b)
}

// rate bounds how fast a motion moves the bodies to each other, mm over its whole range.
func (c *combination) rate(n int) float64 {
	slides := true
	sum := 0.0
	var slide [2]solid.Vec
	for side, body := range [2]int{c.i, c.k} {
		box := c.bodies[body].box
		for _, m := range c.order[side] {
			one := c.course(body, m)
			slides = slides && one.slides()
			if m == n {
				sum += one.speed(box)
				slide[side] = one.slide
			}
			j := c.journeys[m]
			box = sweptBox(box, one, -j.m.rest, 1-j.m.rest)
		}
	}
	if slides {
		return slide[0].Dist(slide[1])
	}
	return sum
}

// A cell is a part of the ranges of some motions: where they stand in the middle of it,
// and how far to either side it reaches, by motion of a combination.
type cell struct{ middle, half []float64 }

// combined is what was found of a combination.
type combined struct {
	Clear bool
	Rows  int // that were left; below 0 where looking came to an end
	Spent int
	Found *met // the first clash, nil for none
	Along int  // which of the motions was followed for it
	At    []float64
}

// A ride is a body where it stands at rest, and how motions move it: by their places among
// those that are looked at, each carrying those before it along.
type ride struct {
	shape
	By []int
	On []*course
}

// followAny reports whether the bodies keep apart wherever the motions stand, as far as
// that can be told: see [combination.tell].
func (c *combination) followAny() bool {
	motions := slices.Clone(c.all) // all that have a part in it, in order
	for _, list := range c.order {
		motions = append(motions, list...)
	}
	slices.Sort(motions)
	motions = slices.Compact(motions)
	place := func(n int) int { return slices.Index(motions, n) }
	var rests []float64
	for _, n := range motions {
		rests = append(rests, c.journeys[n].m.rest)
	}
	var all []int
	for _, n := range c.all {
		all = append(all, place(n))
	}
	var rides [2]ride
	for side, number := range [2]int{c.i, c.k} {
		b := c.bodies[number]
		rides[side].shape = shape{b.Solid, b.At}
		for _, n := range c.order[side] {
			rides[side].By, rides[side].On = append(rides[side].By, place(n)), append(rides[side].On, c.course(number, n))
		}
	}
	out := memo.Sure(c.store.Kept, "two bodies that several motions move", func() combined {
		clear := c.tell()
		out := combined{Clear: clear, Rows: c.rows, Spent: c.spent, Found: c.found, At: c.foundAt}
		if c.found != nil {
			out.Along = place(c.along)
		}
		return out
	}, rides, rests, all, c.rows)
	if c.rows, c.spent, c.found, c.foundAt = out.Rows, out.Spent, out.Found, out.At; c.found != nil {
		c.along = motions[out.Along]
		c.ran = c.pass(c.foundAt)
	}
	return out.Clear
}

// tell follows the bodies along one motion after the other, the fastest first, until one
// tells: what touches at one end of a motion is soon told along all others.
func (c *combination) tell() bool {
	c.speed = nil
	for _, n := range c.all {
		c.speed = append(c.speed, c.rate(n))
	}
	order := make([]int, len(c.all)) // places in all
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, k int) int { return cmp.Compare(c.speed[k], c.speed[i]) })
	rows := c.rows
	for _, i := range order {
		c.along, c.rows = c.all[i], rows
		clear := c.follow()
		if c.spent += rows - max(0, c.rows); clear || c.found != nil {
			return clear
		}
	}
	return false
}

// follow reports whether the bodies keep apart wherever the motions stand, as far as that
// can be told.
func (c *combination) follow() bool {
	one := cell{make([]float64, len(c.all)), make([]float64, len(c.all))}
	for i, n := range c.all {
		one.middle[i], one.half[i] = 0.5-c.journeys[n].m.rest, 0.5
		if n == c.along {
			one.middle[i], one.half[i] = 0, 0
		}
	}
	for queue := []cell{one}; len(queue) > 0; queue = queue[1:] { // the larger ones first: a clash is soon found
		parts, clear := c.look(queue[0])
		if !clear {
			return false
		}
		queue = append(queue, parts...)
	}
	return true
}

// look tells whether the bodies do not run into each other in the middle of a cell, and
// the halves in which they still may.
func (c *combination) look(one cell) (parts []cell, clear bool) {
	if c.sweptApart(one) {
		return nil, true
	}
	if c.rows--; c.rows < 0 {
		return nil, false
	}
	wide, widest, most := 0.0, -1, 0.0
	for i, h := range one.half {
		by := h * c.speed[i]
		if wide += by; by > most {
			widest, most = i, by
		}
	}
	p := c.pass(one.middle)
	p.prepare()
	near := false
	for _, end := range [2]float64{p.to, p.from} {
		w := p.measured(0, end)
		if proximity.Avoids(p.ea, p.a.At, w.stretches, p.eb, p.b.At, wide) {
			continue
		}
		near = true
		f := &met{}
		if p.sweep(end, f); f.Hit {
			c.ran, c.found, c.foundAt = p, f, one.middle
			return nil, false
		}
	}
	if !near || wide < Deep/2 || widest < 0 {
		return nil, true
	}
	for _, side := range [2]float64{-0.5, 0.5} {
		part := cell{slices.Clone(one.middle), slices.Clone(one.half)}
		part.half[widest] /= 2
		part.middle[widest] += side * one.half[widest]
		parts = append(parts, part)
	}
	return parts, true
}

// sweptApart reports whether boxes around all places that the bodies have in a cell are
// apart, or no more than touch: what lies on a table and slides over it both ways.
func (c *combination) sweptApart(one cell) bool {
	var boxes [2]solid.Box
	for side, body := range [2]int{c.i, c.k} {
		box := c.bodies[body].box
		for _, n := range c.order[side] {
			from, to := 0.0, 0.0
			if i := slices.Index(c.all, n); n == c.along {
				from, to = -c.journeys[n].m.rest, 1-c.journeys[n].m.rest
			} else if i >= 0 {
				from, to = one.middle[i]-one.half[i], one.middle[i]+one.half[i]
			}
			box = sweptBox(box, c.course(body, n), from, to)
		}
		boxes[side] = box
	}
	return shared(boxes[0], boxes[1]) <= Contact
}

// pass is the way of the bodies along the one motion, with the others somewhere.
func (c *combination) pass(middle []float64) *pass {
	at := make([]float64, len(c.journeys))
	for i, n := range c.all {
		at[n] = middle[i]
	}
	at[c.along] = 0
	var bodies [2]*Body
	var courses [2]*course
	for side, number := range [2]int{c.i, c.k} {
		order := c.order[side]
		one := *c.bodies[number]
		one.At = one.At.Then(c.displacement(number, order, at))
		one.box = boxAt(one.Solid, one.At)
		bodies[side], courses[side] = &one, &course{still: true, even: true}
		if k := slices.Index(order, c.along); k >= 0 {
			courses[side] = c.course(number, c.along).seenFrom(c.displacement(number, order[k+1:], at))
		}
	}
	m := c.journeys[c.along].m
	if courses[0].still {
		bodies[0], bodies[1] = bodies[1], bodies[0]
		courses[0], courses[1] = courses[1], courses[0]
	}
	return newPass(c.store, bodies[0], bodies[1], courses[0], courses[1], -m.rest, 1-m.rest)
}
