package formula

import (
	"math"
	"math/rand"
	"slices"
	"testing"
)

// polynomial is the product of (x - root) to powers, times a factor without roots.
func polynomial(roots []float64, powers []int, scale float64) gapAt {
	return func(x float64) (float64, float64, bool) {
		y := scale * (1 + x*x)
		for i, r := range roots {
			y *= math.Pow(x-r, float64(powers[i]))
		}
		return y, math.Abs(y), true
	}
}

// Of random polynomials all roots within an interval are found that lie no nearer to
// each other than a hundredth of it, crossed or touched, and none is made up.
func TestRootsOfPolynomials(t *testing.T) {
	random := rand.New(rand.NewSource(11))
	for range 2000 {
		low := random.NormFloat64() * 10
		wide := math.Exp(random.NormFloat64() * 3)
		var at []float64
		var powers []int
		for range random.Intn(5) {
			x := low + wide*(random.Float64()*1.4-0.2)
			if !slices.ContainsFunc(at, func(other float64) bool { return math.Abs(x-other) < wide/50 }) && math.Abs(x-low) > wide/1000 && math.Abs(x-low-wide) > wide/1000 {
				at = append(at, x)
				powers = append(powers, 1+random.Intn(3))
			}
		}
		var want []float64
		for _, x := range at {
			if x > low && x < low+wide {
				want = append(want, x)
			}
		}
		slices.Sort(want)
		found := roots(polynomial(at, powers, math.Exp(random.NormFloat64()*5)), low, low+wide)
		if len(found.at) != len(want) || len(found.jumps) > 0 || len(found.along) > 0 {
			t.Fatalf("roots %v to powers %v within %g to %g: found %+v", at, powers, low, low+wide, found)
		}
		for i, x := range want {
			if math.Abs(found.at[i]-x) > 1e-4*wide {
				t.Fatalf("roots %v to powers %v within %g to %g: found %+v", at, powers, low, low+wide, found)
			}
		}
	}
}

// A root that moves a little is followed to where a full search finds it.
func TestFollowedRoots(t *testing.T) {
	random := rand.New(rand.NewSource(12))
	followed := 0
	for range 1000 {
		a, b := random.Float64()*4, random.NormFloat64()
		f := func(c float64) gapAt {
			return func(x float64) (float64, float64, bool) { return a*x + x*x*x + b - c, 1, true }
		}
		before := roots(f(0), -10, 10)
		c := random.NormFloat64() * 0.3
		after := roots(f(c), -10, 10)
		if len(before.at) != 1 || len(after.at) != 1 {
			t.Fatalf("%v, %v", before, after)
		}
		if x, found := follow(f(c), -10, 10, before.at[0]); found {
			followed++
			if math.Abs(x-after.at[0]) > 1e-12 {
				t.Fatalf("followed to %g, searched to %g", x, after.at[0])
			}
		}
	}
	if followed < 900 {
		t.Errorf("%d of 1000 roots followed", followed)
	}
}

// A function that is expensive is asked seldom.
func TestRootsAskSeldom(t *testing.T) {
	asked := 0
	f := func(x float64) (float64, float64, bool) { asked++; return math.Cos(x) - x, 1, true }
	if found := roots(f, 0, 1); len(found.at) != 1 || asked > evenParts+20 {
		t.Errorf("found %v with %d questions", found, asked)
	}
	asked = 0
	if _, found := follow(f, 0, 1, 0.74); !found || asked > 20 {
		t.Errorf("followed %v with %d questions", found, asked)
	}
}
