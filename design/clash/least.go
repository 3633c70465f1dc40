package clash

import (
	"math"

	"plansheaf/design/memo"
	"plansheaf/design/solid/proximity"
)

const (
	// Close (mm) is by how much a least clearance may be stated too large: nowhere on the
	// way do the bodies come nearer than the gap less this.
	Close = 0.05
	// closely is how much larger that is at least than what telling places apart costs,
	// for bodies with large rounds.
	closely = 1.25
	// around is over which share of the range the nearest place is looked for around one
	// where bodies come nearer than before; it is cut finer by halves, finer times.
	around = 1.0 / 48
	finer  = 10
	// mostNearer bounds how many times a nearer place is looked for on one way.
	mostNearer = 200
	// sampled is in how many places a way is looked at that cannot be followed closely.
	sampled = 48
)

// least finds where the bodies come nearest, if that is nearer than limit. It goes along
// the way from rest to both ends, each time up to where they come nearer than what is
// known, less [Close]; what is left of the way is thus farther than that.
func (p *pass) least(limit float64, f *followed) {
	if limit <= f.Limit || f.Gap <= f.Limit {
		return // known
	}
	known := f.nearness
	f.nearness = memo.Sure(p.store.Kept, "where two bodies come nearest", func() nearness { return p.nearest(limit, known) }, p.given(limit, known)...)
}

// nearest is least of what is not known, going on from what is.
func (p *pass) nearest(limit float64, known nearness) nearness {
	f := &known
	p.prepare()
	f.Limit, f.Envelope = limit, p.spun
	f.Within = math.Max(Close, closely*proximity.Slack(p.ea, p.eb))
	p.measureGap(0, limit, f)
	for _, end := range [2]float64{p.to, p.from} {
		if end != 0 {
			p.leastTo(end, limit, f)
		}
	}
	return *f
}

func (p *pass) leastTo(end, limit float64, f *nearness) {
	at := 0.0
	for range mostNearer {
		within := math.Min(f.Gap, limit) - f.Within
		if within <= 0 {
			return
		}
		u, hit, unsure := p.nears(at, end, within)
		if !hit {
			return
		}
		known := math.Min(f.Gap, limit)
		if p.measureGap(u, limit, f); unsure || f.Gap >= known {
			p.sampleGap(u, end, limit, f)
			return
		}
		p.settle(limit, f)
		at = u
	}
	p.sampleGap(at, end, limit, f)
}

// nears is the first share from one on to another at which the bodies come nearer than
// a distance.
func (p *pass) nears(from, to, within float64) (u float64, hit, unsure bool) {
	w := p.measured(from, to)
	h, hit := proximity.Nears(p.ea, p.place(from), w.stretches, p.eb, p.b.At, within)
	if !hit {
		return to, false, false
	}
	return w.share(h.Motion, h.T), true, h.Unsure
}

// measured is the way, from one share to another, of what is measured.
func (p *pass) measured(from, to float64) way {
	if p.spun {
		return way{start: from, stretches: []proximity.Motion{{Slide: p.ca.slide.Sub(p.cb.slide).Mul(to - from)}}, shares: []float64{to}}
	}
	return past(p.ca, p.cb, from, to)
}

// measureGap measures the bodies at a share, if they are nearer there than what is known.
func (p *pass) measureGap(u, limit float64, f *nearness) {
	place := p.place(u)
	if proximity.Clear(p.ea, place, p.eb, p.b.At, math.Min(f.Gap, limit)) {
		return
	}
	d, where := proximity.Distance(p.ea, place, p.eb, p.b.At)
	if d < f.Gap {
		f.Gap, f.Nearest, f.Place = d, u, place.Inverse().Point(where[1])
	}
}

// settle moves from the nearest place known to the nearest around it.
func (p *pass) settle(limit float64, f *nearness) {
	step := (p.to - p.from) * around
	if p.rate() < Contact {
		return // what they sweep does not approach
	}
	for range finer {
		at := f.Nearest
		p.measureGap(math.Max(p.from, at-step), limit, f)
		p.measureGap(math.Min(p.to, at+step), limit, f)
		step /= 2
	}
}

// sampleGap looks at places spread evenly over some of the way.
func (p *pass) sampleGap(from, to, limit float64, f *nearness) {
	f.Doubtful = true
	for k := 0; k <= sampled; k++ {
		p.measureGap(from+(to-from)*float64(k)/sampled, limit, f)
	}
	p.settle(limit, f)
}

// rate is how far what is measured slides past each other at most, mm over the whole
// range; infinite where something turns.
func (p *pass) rate() float64 {
	if p.spun || p.ca.slides() && p.cb.slides() {
		return p.ca.slide.Sub(p.cb.slide).Len()
	}
	return math.Inf(1)
}

// A stretch is part of a motion's way, in shares from rest.
type stretch struct{ From, To float64 }

const (
	// mostStretches bounds how many stretches of a way are told on which two bodies are as
	// near as they come.
	mostStretches = 8
	// leaving is the share of the range in which bodies are looked at for being apart
	// again.
	leaving = 1.0 / 200
)

// stretches are the parts of the way on which the bodies are nearer than a distance: no
// place where they begin to be is missed, and where they are apart again in between for
// less than a 200th of the range may be.
func (p *pass) stretches(within float64) []stretch {
	return memo.Sure(p.store.Kept, "where two bodies are near", func() []stretch { return p.nearer(within) }, p.given(within)...)
}

// nearer is stretches of what is not known.
func (p *pass) nearer(within float64) []stretch {
	p.prepare()
	var out []stretch
	clear := func(u float64) bool { return proximity.Clear(p.ea, p.place(u), p.eb, p.b.At, within) }
	step := (p.to - p.from) * leaving
	for at := p.from; at < p.to && len(out) < mostStretches; {
		u, hit, unsure := p.nears(at, p.to, within)
		if !hit || unsure {
			return out
		}
		s := stretch{From: u, To: p.to}
		for v := u + step; v < p.to; v += step {
			if !clear(v) {
				continue
			}
			low, high := v-step, v
			for range finer {
				if middle := (low + high) / 2; clear(middle) {
					high = middle
				} else {
					low = middle
				}
			}
			s.To = low
			break
		}
		if n := len(out); n > 0 && s.From-out[n-1].To < step {
			out[n-1].To = s.To
		} else {
			out = append(out, s)
		}
		if at = s.To + step; s.To >= p.to {
			break
		}
	}
	return out
}
