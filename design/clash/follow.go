package clash

import (
	"math"

	"plansheaf/design/solid"
	"plansheaf/design/solid/proximity"
)

// A wayKey is two shapes, how the second stands to the first at rest, and how both move
// over which part of a range, all in the first one's axes.
type wayKey struct {
	position
	moves [2][4][3]int64
	reach [2]int64
}

// followed is what was found of two bodies on their way.
type followed struct {
	hit            bool
	first, deepest float64 // shares of the range, from rest
	depth          float64
	at             solid.Vec // of the first touch, in the first body's axes where it then is
	passes, unsure bool

	gap      float64 // least found; no less than limit where nothing nearer was looked for
	limit    float64
	nearest  float64   // share at which that is
	place    solid.Vec // where, in the first body's axes where it then is
	envelope bool      // measured on what the bodies sweep as they turn
}

// A pass is two bodies that move past each other.
type pass struct {
	store    *Store
	a, b     *Body
	ca, cb   *course
	from, to float64         // shares of the range that the motion reaches, from rest at 0
	ea, eb   *proximity.Body // the bodies, or what they sweep as they turn
	spun     bool
}

// spins (radians) is the turn from which on a body is first taken as what it sweeps.
const spins = 0.35

// newPass prepares a pass; the body that turns comes first.
func newPass(s *Store, a, b *Body, ca, cb *course, from, to float64) *pass {
	if !cb.slides() && ca.slides() {
		a, b, ca, cb = b, a, cb, ca
	}
	p := &pass{store: s, a: a, b: b, ca: ca, cb: cb, from: from, to: to, ea: s.body(a.Solid), eb: s.body(b.Solid)}
	if !ca.even || !cb.even || math.Abs(ca.angle)+math.Abs(cb.angle) < spins/(to-from) {
		return p
	}
	spin := func(b *Body, c *course) *proximity.Body {
		if c.angle == 0 {
			return s.body(b.Solid)
		}
		back := b.At.Inverse()
		return s.spin(b.Solid, back.Point(c.at), back.Direction(c.axis))
	}
	if ea, eb := spin(a, ca), spin(b, cb); ea != nil && eb != nil {
		p.ea, p.eb, p.spun = ea, eb, true
	}
	return p
}

// key tells passes apart; ok is false for those that are not kept.
func (p *pass) key() (k wayKey, ok bool) {
	if !p.ca.even || !p.cb.even {
		return k, false
	}
	back := p.a.At.Inverse()
	k.position = between(p.a, p.b)
	for i, c := range [2]*course{p.ca, p.cb} {
		r := round(solid.Placement{Turn: [3]solid.Vec{back.Direction(c.axis), back.Direction(c.slide)}, Move: back.Point(c.at)})
		k.moves[i] = [4][3]int64{r[0], r[1], r[3], {int64(math.Round(c.angle * alike))}}
	}
	k.reach = [2]int64{int64(math.Round(p.from * alike)), int64(math.Round(p.to * alike))}
	return k, true
}

// follow finds whether the bodies run into each other, and how near they come if that
// is nearer than limit.
func (p *pass) follow(limit float64) *followed {
	key, keeps := p.key()
	f := p.store.ways[key]
	if !keeps || f == nil {
		f = &followed{gap: math.Inf(1), limit: -1}
		for _, end := range [2]float64{p.to, p.from} {
			if end != 0 && !f.hit {
				p.sweep(end, f)
			}
		}
		if keeps {
			p.store.ways[key] = f
		}
	}
	if !f.hit && limit > f.limit && f.gap > f.limit {
		p.least(limit, f)
	}
	return f
}

// at is where the first body stands to the second, which is taken as still.
func (p *pass) at(u float64) solid.Placement {
	return p.a.At.Then(p.ca.over(u)).Then(p.cb.over(u).Inverse())
}

// spunAt is the same for what the bodies sweep: without their turns.
func (p *pass) spunAt(u float64) solid.Placement {
	return p.a.At.Then(solid.Moved(p.ca.slide.Sub(p.cb.slide).Mul(u)))
}

// sweep follows the bodies from rest to one end.
func (p *pass) sweep(end float64, f *followed) {
	if p.spun {
		slide := proximity.Motion{Slide: p.ca.slide.Sub(p.cb.slide).Mul(end)}
		if _, hit := proximity.Sweep(p.ea, p.a.At, []proximity.Motion{slide}, p.eb, p.b.At, Deep); !hit {
			return
		}
	}
	w := past(p.ca, p.cb, end)
	h, hit := proximity.Sweep(p.store.body(p.a.Solid), p.a.At, w.stretches, p.store.body(p.b.Solid), p.b.At, Deep)
	if !hit {
		return
	}
	first := w.share(h.Motion, h.T)
	p.measure(first, end, h.Unsure, f)
	if f.hit && !h.Unsure {
		f.at = p.at(first).Inverse().Point(h.At)
	}
}

const (
	// looks is in how many places behind a first touch the depth is measured.
	looks = 24
	// closer is in how many places a way is looked at that could not be followed.
	closer = 400
)

// measure looks at places from a first touch on to an end: how deep they overlap, and
// whether they are apart again. What only touches is no hit.
func (p *pass) measure(first, end float64, unsure bool, f *followed) {
	n := looks
	if unsure {
		n = closer
		f.unsure = true
	}
	a, b := p.store.body(p.a.Solid), p.store.body(p.b.Solid)
	measured := 0
	for k := 0; k <= n; k++ {
		t := float64(k) / float64(n)
		if !unsure {
			t *= t // nearer to each other where they first touch
		}
		u := first + (end-first)*t
		at := p.at(u)
		f.passes = proximity.Clear(a, at, b, p.b.At, -Contact)
		if f.passes || measured >= looks {
			continue
		}
		measured++
		depth, where := proximity.Depth(a, at, b, p.b.At)
		if depth <= Contact {
			f.passes = true
			continue
		}
		if !f.hit {
			f.hit, f.at, f.first = true, at.Inverse().Point(where), u
			if !unsure {
				f.first = first
			}
		}
		if depth > f.depth {
			f.depth, f.deepest = depth, u
		}
	}
	if !f.hit {
		f.passes = false
	}
}

const (
	// mostTries bounds in how many places a distance is measured for one pass.
	mostTries = 200
	// resolved (mm) is how near the least gap found comes to the true one.
	resolved = 0.005
)

// least finds where the bodies come nearest: between two places the distance cannot
// fall below what the rate at which they approach at most allows.
func (p *pass) least(limit float64, f *followed) {
	f.limit, f.envelope = limit, p.spun
	rate := p.rate()
	type stretch struct{ from, to, dFrom, dTo float64 }
	tries := 0
	at := func(u float64) float64 {
		tries++
		place := p.at(u)
		if p.spun {
			place = p.spunAt(u)
		}
		d, where := proximity.Distance(p.ea, place, p.eb, p.b.At)
		if d < f.gap {
			f.gap, f.nearest, f.place = d, u, place.Inverse().Point(where[1])
		}
		return d
	}
	open := []stretch{{p.from, p.to, at(p.from), at(p.to)}}
	for len(open) > 0 && tries < mostTries {
		s := open[len(open)-1]
		open = open[:len(open)-1]
		bound := (s.dFrom + s.dTo - rate*(s.to-s.from)) / 2
		if bound >= math.Min(f.gap, limit)-resolved {
			continue
		}
		middle := (s.from + s.to) / 2
		d := at(middle)
		open = append(open, stretch{s.from, middle, s.dFrom, d}, stretch{middle, s.to, d, s.dTo})
	}
}

// rate is how fast places of the bodies approach at most, mm over the whole range.
func (p *pass) rate() float64 {
	if p.spun || p.ca.slides() && p.cb.slides() {
		return p.ca.slide.Sub(p.cb.slide).Len()
	}
	rate := 0.0
	for _, end := range [2]float64{p.from, p.to} {
		if end == 0 {
			continue
		}
		w := past(p.ca, p.cb, end)
		last := 0.0
		at := p.a.At
		for i, m := range w.stretches {
			rate = math.Max(rate, (m.Slide.Len()+math.Abs(m.Angle)*reach(p.a, at, m))/math.Abs(w.shares[i]-last))
			at, last = m.Place(at, 1), w.shares[i]
		}
	}
	return rate
}

// reach is how far a body, placed, reaches from the line about which a motion turns.
func reach(b *Body, at solid.Placement, m proximity.Motion) float64 {
	far := 0.0
	if m.Angle == 0 {
		return 0
	}
	for _, c := range corners(b.Solid.Box()) {
		far = math.Max(far, at.Point(c).Sub(m.At).Cross(m.About.Unit()).Len())
	}
	return far
}

// corners are those of a box.
func corners(b solid.Box) []solid.Vec {
	var out []solid.Vec
	for i := range 8 {
		p := b.Min
		if i&1 != 0 {
			p.X = b.Max.X
		}
		if i&2 != 0 {
			p.Y = b.Max.Y
		}
		if i&4 != 0 {
			p.Z = b.Max.Z
		}
		out = append(out, p)
	}
	return out
}
