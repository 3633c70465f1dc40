package clash

import (
	"math"

	"plansheaf/design/memo"
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
	met
	nearness
}

// met is whether and where two bodies run into each other.
type met struct {
	Hit            bool
	First, Deepest float64 // shares of the range, from rest
	Depth          float64
	At             solid.Vec // of the first touch, in the first body's axes where it then is
	Passes, Unsure bool
}

// nearness is how near two bodies come, as far as it was looked for.
type nearness struct {
	Gap      float64 // least found; no less than limit where nothing nearer was looked for
	Limit    float64
	Within   float64   // by how much less it may be, mm
	Nearest  float64   // share at which that is
	Place    solid.Vec // where, in the first body's axes where it then is
	Envelope bool      // measured on what the bodies sweep as they turn
	Doubtful bool      // some of the way was looked at in samples only
}

// A pass is two bodies that move past each other.
type pass struct {
	store    *Store
	a, b     *Body
	ca, cb   *course
	from, to float64 // shares of the range that the motion reaches, from rest at 0
	apart    float64 // how far the boxes of all that they sweep are apart, mm
	ready    bool
	ea, eb   *proximity.Body // the bodies, or what they sweep as they turn, once ready
	spun     bool
}

// spins (radians) is the turn from which on a body is first taken as what it sweeps.
const spins = 0.35

// newPass prepares a pass; the body that turns comes first.
func newPass(s *Store, a, b *Body, ca, cb *course, from, to float64) *pass {
	if !cb.slides() && ca.slides() {
		a, b, ca, cb = b, a, cb, ca
	}
	return &pass{store: s, a: a, b: b, ca: ca, cb: cb, from: from, to: to}
}

// prepare takes bodies that turn as what they sweep.
func (p *pass) prepare() {
	if p.ready {
		return
	}
	s := p.store
	p.ready, p.ea, p.eb = true, s.body(p.a.Solid), s.body(p.b.Solid)
	if !p.ca.even || !p.cb.even || math.Abs(p.ca.angle)+math.Abs(p.cb.angle) < spins/(p.to-p.from) {
		return
	}
	spin := func(b *Body, c *course) *proximity.Body {
		if c.angle == 0 {
			return s.body(b.Solid)
		}
		back := b.At.Inverse()
		return s.spin(b.Solid, back.Point(c.at), back.Direction(c.axis))
	}
	if ea, eb := spin(p.a, p.ca), spin(p.b, p.cb); ea != nil && eb != nil {
		p.ea, p.eb, p.spun = ea, eb, true
	}
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

// given is all that what is found of the bodies follows from.
func (p *pass) given(more ...any) []any {
	return append([]any{p.a.Solid, p.a.At, p.b.Solid, p.b.At, p.ca, p.cb, p.from, p.to}, more...)
}

// follow finds whether the bodies run into each other.
func (p *pass) follow() *followed {
	key, keeps := p.key()
	f := p.store.ways[key]
	if !keeps || f == nil {
		f = &followed{nearness: nearness{Gap: math.Inf(1), Limit: -1}}
		if p.apart == 0 {
			f.met = memo.Sure(p.store.Kept, "two bodies that run into each other", p.runs, p.given()...)
		}
		if keeps {
			p.store.ways[key] = f
		}
	}
	return f
}

// runs is follow of bodies whose boxes meet on the way.
func (p *pass) runs() (m met) {
	for _, end := range [2]float64{p.to, p.from} {
		if end != 0 && !m.Hit {
			p.sweep(end, &m)
		}
	}
	return m
}

// at is where the first body stands to the second, which is taken as still.
func (p *pass) at(u float64) solid.Placement {
	return p.a.At.Then(p.ca.over(u)).Then(p.cb.over(u).Inverse())
}

// place is the same for what is measured, once that is prepared.
func (p *pass) place(u float64) solid.Placement { return p.placed(u, p.spun) }

// placed is where the first body stands to the second, without its turns where what
// bodies sweep with these is measured.
func (p *pass) placed(u float64, swept bool) solid.Placement {
	if !swept {
		return p.at(u)
	}
	return p.a.At.Then(solid.Moved(p.ca.slide.Sub(p.cb.slide).Mul(u)))
}

// sweep follows the bodies from rest to one end.
func (p *pass) sweep(end float64, m *met) {
	p.prepare()
	spun := p.measured(0, end)
	if proximity.Avoids(p.ea, p.a.At, spun.stretches, p.eb, p.b.At, 0) {
		return
	}
	if p.spun {
		if _, hit := proximity.Sweep(p.ea, p.a.At, spun.stretches, p.eb, p.b.At, Deep); !hit {
			return
		}
	}
	w := past(p.ca, p.cb, 0, end)
	h, hit := proximity.Sweep(p.store.body(p.a.Solid), p.a.At, w.stretches, p.store.body(p.b.Solid), p.b.At, Deep)
	if !hit {
		return
	}
	first := w.share(h.Motion, h.T)
	p.measure(first, end, h.Unsure, m)
	if m.Hit && !h.Unsure {
		m.At = p.at(first).Inverse().Point(h.At)
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
func (p *pass) measure(first, end float64, unsure bool, m *met) {
	n := looks
	if unsure {
		n = closer
		m.Unsure = true
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
		m.Passes = proximity.Clear(a, at, b, p.b.At, -Contact)
		if m.Passes || measured >= looks {
			continue
		}
		measured++
		depth, where := proximity.Depth(a, at, b, p.b.At)
		if depth <= Contact {
			m.Passes = true
			continue
		}
		if !m.Hit {
			m.Hit, m.At, m.First = true, at.Inverse().Point(where), u
			if !unsure {
				m.First = first
			}
		}
		if depth > m.Depth {
			m.Depth, m.Deepest = depth, u
		}
	}
	if !m.Hit {
		m.Passes = false
	}
}
