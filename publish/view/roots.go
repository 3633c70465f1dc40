package view

import "math"

// touching is how far beyond 1 a cosine may come out, and how near to zero a
// polynomial scaled to the unit circle, for curves that touch to count as
// meeting.
const touching = 1e-9

// angles returns the angles at which a*cos t + b*sin t = c: none, or two, which
// are equal where the curve only touches.
func angles(a, b, c float64) (t [2]float64, n int) {
	m := math.Hypot(a, b)
	if m < 1e-300 {
		return t, 0
	}
	r := c / m
	if !(math.Abs(r) <= 1+touching) {
		return t, 0
	}
	first := math.Atan2(b, a)
	d := math.Acos(math.Max(-1, math.Min(1, r)))
	return [2]float64{first - d, first + d}, 2
}

// realRoots appends to out the roots in [lo, hi] of the polynomial
// p[0] + p[1]*x + …, found between the places where it turns about, so that none
// is missed. Turning points with a value within slack count as roots too.
func realRoots(p []float64, lo, hi, slack float64, out []float64) []float64 {
	n := len(p) - 1
	if n < 1 {
		return out
	}
	if n == 1 {
		if x := -p[0] / p[1]; x >= lo && x <= hi {
			out = append(out, x)
		}
		return out
	}
	var derivative [4]float64
	for i := 1; i <= n; i++ {
		derivative[i-1] = float64(i) * p[i]
	}
	var room [6]float64
	turns := realRoots(derivative[:n], lo, hi, 0, room[:0])
	a, fa := lo, horner(p, lo)
	for i := 0; i <= len(turns); i++ {
		b := hi
		if i < len(turns) {
			b = turns[i]
		}
		fb := horner(p, b)
		switch {
		case fa*fb < 0:
			out = append(out, between(func(x float64) float64 { return horner(p, x) }, a, b, fa))
		case math.Abs(fb) <= slack && i < len(turns):
			out = append(out, b)
		case fb == 0:
			out = append(out, b)
		}
		a, fa = b, fb
	}
	return out
}

func horner(p []float64, x float64) float64 {
	v := 0.0
	for i := len(p) - 1; i >= 0; i-- {
		v = v*x + p[i]
	}
	return v
}

// between closes in on where f, of value fa at a, changes its sign before b.
func between(f func(float64) float64, a, b, fa float64) float64 {
	for range 60 {
		mid := (a + b) / 2
		if mid == a || mid == b {
			break
		}
		if fm := f(mid); fm*fa > 0 {
			a = mid
		} else if fm == 0 {
			return mid
		} else {
			b = mid
		}
	}
	return (a + b) / 2
}
