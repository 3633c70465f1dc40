package formula

import (
	"math"
	"slices"
)

// A gapAt is a function of which a root is looked for: its value, how large the
// two sides are whose difference it is, and whether it has a value at all.
type gapAt func(x float64) (gap, size float64, ok bool)

const (
	evenParts   = 128   // parts of equal length that an interval is searched in
	endParts    = 6     // halvings of the first and last part
	rationParts = 64    // parts of equal ratio beside them, where the ends' ratio is large
	largeRatio  = 8     // from where on it is
	borders     = 8     // borders of where the function is defined that are looked for
	halvings    = 60    // halvings that pin a border or a turning point down
	equalSides  = 1e-12 // relative: sides as near as this are equal, as in Value.Compare
	touching    = 1e-10 // of its surroundings: a turning point as low as this touches zero
	flat        = 1e-6  // of its surroundings: what crosses zero higher than this jumps across
	mostRoots   = 64
	longRow     = 4 // parts all along which the sides are equal: no single root
)

// rootsFound are the places where a function is zero.
type rootsFound struct {
	at    []float64    // rising
	jumps []float64    // where it changes sign without being zero: a pole, a step
	along [][2]float64 // stretches all along which it is zero
	more  bool         // than were counted
}

// A probe is the function at one place.
type probe struct {
	x, y float64
	zero bool // the sides are equal
	ok   bool
}

// roots searches the whole interval. It is sure to find a root that is crossed
// alone in one of nearly 200 parts, and roots that are touched or lie together
// in a part as far as the function turns round there once.
func roots(f gapAt, low, high float64) rootsFound {
	probes := probeAll(f, places(low, high))
	var found rootsFound
	for i, p := range probes {
		if i == 0 || p.zero {
			continue
		}
		if crosses(probes[i-1], p) {
			found.cross(f, probes[i-1], p)
		} else if i+1 < len(probes) && dips(probes[i-1], p, probes[i+1]) {
			found.turn(f, probes[i-1], p, probes[i+1])
		}
		if len(found.at) > mostRoots {
			found.more = true
			break
		}
	}
	part := (high - low) / evenParts
	found.rows(f, probes, part)
	found.sort(part)
	return found
}

// rows takes up places where the sides are equal: a few in a row are one root about
// which the function is flat, many are a stretch.
func (found *rootsFound) rows(f gapAt, probes []probe, part float64) {
	for i := 0; i < len(probes); {
		end := i
		best := probes[i]
		for end < len(probes) && probes[end].zero {
			if math.Abs(probes[end].y) < math.Abs(best.y) {
				best = probes[end]
			}
			end++
		}
		switch {
		case end == i:
			end++
		case probes[end-1].x-probes[i].x >= longRow*part:
			found.along = append(found.along, [2]float64{probes[i].x, probes[end-1].x})
		default:
			if i > 0 && end < len(probes) && crosses(probes[i-1], probes[end]) {
				if x, _, ok := between(f, probes[i-1], probes[end]); ok {
					best.x = x // nearer than where the sides first count as equal
				}
			}
			found.at = append(found.at, best.x)
		}
		i = end
	}
}

// places are where a search probes an interval, rising.
func places(low, high float64) []float64 {
	var at []float64
	for i := range evenParts + 1 {
		at = append(at, low+(high-low)*float64(i)/evenParts)
	}
	at[evenParts] = high
	for i := 1; i <= endParts; i++ { // what turns round next to an end
		step := math.Ldexp((high-low)/evenParts, -i)
		at = append(at, low+step, high-step)
	}
	if ratio := high / low; low > 0 && ratio > largeRatio {
		for i := 1; i < rationParts; i++ {
			at = append(at, low*math.Pow(ratio, float64(i)/rationParts))
		}
	}
	slices.Sort(at)
	return slices.Compact(at)
}

// probeAll probes all places, and the borders between where the function has a
// value and where it has none.
func probeAll(f gapAt, at []float64) []probe {
	var probes []probe
	left := borders
	for i, x := range at {
		p := probeOne(f, x)
		if i > 0 && p.ok != probes[len(probes)-1].ok && left > 0 {
			left--
			probes = append(probes, border(f, probes[len(probes)-1], p))
		}
		probes = append(probes, p)
	}
	return probes
}

func probeOne(f gapAt, x float64) probe {
	y, size, ok := f(x)
	return probe{x: x, y: y, ok: ok, zero: ok && math.Abs(y) <= equalSides*size}
}

// border is the outermost place with a value between one that has and one that
// has none.
func border(f gapAt, a, b probe) probe {
	inside, outside := a, b
	if b.ok {
		inside, outside = b, a
	}
	for range halvings {
		middle := probeOne(f, (inside.x+outside.x)/2)
		if middle.ok {
			inside = middle
		} else {
			outside = middle
		}
	}
	return inside
}

func crosses(a, b probe) bool {
	return a.ok && b.ok && !a.zero && !b.zero && (a.y < 0) != (b.y < 0)
}

// dips reports whether the function comes nearest to zero at b, of three places
// where it lies on one side.
func dips(a, b, c probe) bool {
	if !a.ok || !b.ok || !c.ok || a.zero || b.zero || c.zero || crosses(a, b) || crosses(b, c) {
		return false
	}
	y := math.Abs(b.y)
	return y <= math.Abs(a.y) && y <= math.Abs(c.y) && (y < math.Abs(a.y) || y < math.Abs(c.y))
}

// cross takes up the root between two places where the function has both signs.
func (found *rootsFound) cross(f gapAt, a, b probe) {
	x, y, ok := between(f, a, b)
	switch {
	case !ok:
	case math.Abs(y) <= flat*math.Max(math.Abs(a.y), math.Abs(b.y)):
		found.at = append(found.at, x)
	default:
		found.jumps = append(found.jumps, x)
	}
}

// turn looks where the function turns round between a and c: it may touch zero
// there or cross it twice.
func (found *rootsFound) turn(f gapAt, a, b, c probe) {
	golden := (math.Sqrt(5) - 1) / 2
	low, high := a.x, c.x
	left, right := probeOne(f, high-golden*(high-low)), probeOne(f, low+golden*(high-low))
	best := b
	for range halvings {
		for _, p := range []probe{left, right} {
			if !p.ok {
				return
			}
			if crosses(a, p) {
				found.cross(f, a, p)
				found.cross(f, p, c)
				return
			}
			if math.Abs(p.y) < math.Abs(best.y) {
				best = p
			}
		}
		if math.Abs(left.y) < math.Abs(right.y) {
			high, right = right.x, left
			left = probeOne(f, high-golden*(high-low))
		} else {
			low, left = left.x, right
			right = probeOne(f, low+golden*(high-low))
		}
	}
	if best.zero || math.Abs(best.y) <= touching*math.Max(math.Abs(a.y), math.Abs(c.y)) {
		found.at = append(found.at, best.x)
	}
}

// sort puts roots in order and drops those found twice.
func (found *rootsFound) sort(part float64) {
	slices.Sort(found.at)
	slices.Sort(found.jumps)
	const same = 1e-6 // of a part: the same root found from both sides
	found.at = slices.CompactFunc(found.at, func(a, b float64) bool { return math.Abs(b-a) <= same*part })
}

// follow finds the root next to one of a slightly different function; found is
// false where none or no single one lies near.
func follow(f gapAt, low, high, start float64) (x float64, found bool) {
	middle := probeOne(f, start)
	if !middle.ok {
		return 0, false
	}
	if middle.zero {
		return start, true
	}
	below, above := middle, middle
	for step := (high - low) / 4096; below.x > low || above.x < high; step *= 2 {
		nextBelow := probeOne(f, math.Max(low, start-step))
		nextAbove := probeOne(f, math.Min(high, start+step))
		if !nextBelow.ok || !nextAbove.ok || nextBelow.zero || nextAbove.zero {
			return 0, false
		}
		down, up := crosses(nextBelow, below), crosses(above, nextAbove)
		switch {
		case down && up:
			return 0, false
		case down:
			above = below
			below = nextBelow
		case up:
			below = above
			above = nextAbove
		default:
			below, above = nextBelow, nextAbove
			continue
		}
		x, y, ok := between(f, below, above)
		return x, ok && math.Abs(y) <= flat*math.Max(math.Abs(below.y), math.Abs(above.y))
	}
	return 0, false
}

// between narrows a sign change down to neighbouring numbers, by inverse
// quadratic steps where they serve and halving where not. ok is false where the
// function has no value on the way.
// Source: R. P. Brent, Algorithms for Minimization without Derivatives (1973),
// chapter 4.
func between(f gapAt, p, q probe) (x, y float64, ok bool) {
	a, fa, b, fb := p.x, p.y, q.x, q.y
	c, fc := a, fa
	step := b - a
	before := step
	const most = 200 // each third step at least halves the interval
	for range most {
		if (fb > 0) == (fc > 0) {
			c, fc = a, fa
			step = b - a
			before = step
		}
		if math.Abs(fc) < math.Abs(fb) {
			a, fa, b, fb, c, fc = b, fb, c, fc, b, fb
		}
		narrow := 2*0x1p-52*math.Abs(b) + math.SmallestNonzeroFloat64
		half := (c - b) / 2
		if math.Abs(half) <= narrow || fb == 0 {
			return b, fb, true
		}
		if math.Abs(before) < narrow || math.Abs(fa) <= math.Abs(fb) {
			step, before = half, half
		} else if next, good := quadratic(a, fa, b, fb, c, fc, half, before, narrow); good {
			step, before = next, step
		} else {
			step, before = half, half
		}
		a, fa = b, fb
		if math.Abs(step) > narrow {
			b += step
		} else {
			b += math.Copysign(narrow, half)
		}
		if fb, _, ok = f(b); !ok {
			return 0, 0, false
		}
	}
	return b, fb, true
}

// quadratic is the step to where a parabola lying on its side through three
// places, or a line through two, is zero; good is false where it leads too far.
func quadratic(a, fa, b, fb, c, fc, half, before, narrow float64) (step float64, good bool) {
	s := fb / fa
	var p, q float64
	if a == c {
		p, q = 2*half*s, 1-s
	} else {
		q = fa / fc
		r := fb / fc
		p = s * (2*half*q*(q-r) - (b-a)*(r-1))
		q = (q - 1) * (r - 1) * (s - 1)
	}
	if p > 0 {
		q = -q
	}
	p = math.Abs(p)
	if 2*p >= math.Min(3*half*q-math.Abs(narrow*q), math.Abs(before*q)) {
		return 0, false
	}
	return p / q, true
}
