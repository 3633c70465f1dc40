package calc_test

import (
	"math"
	"testing"

	"plansheaf/design/calc"
	"plansheaf/design/reckon"
)

// Spreads against closed forms. Each input is normal with its limits at three standard
// deviations, so a sum's variance is the sum of variances; of a product of independent
// inputs it is m²t² + n²s² + s²t², of a square about zero 2s⁴ about the mean s² (any
// textbook of statistics).
func TestSpreadClosedForms(t *testing.T) {
	product := func(m, s, n, t float64) float64 { return math.Sqrt(m*m*t*t + n*n*s*s + s*s*t*t) }
	cases := []struct {
		name, given, is string
		low, high       float64 // worst case
		first           float64 // the statistical reach, three deviations
		middle          float64 // of the statistical spread, off the nominal value
		bent            bool
		mean, deviation float64 // drawn; 0 and 0: not told, since it agrees
	}{
		{name: "sum", given: "a: {is: 10 ± 0.3}, b: {is: 20 ± 0.4}", is: "a + b", low: 29.3, high: 30.7, first: 0.5},
		{name: "difference of what is shared", given: "a: {is: 10 ± 0.3}, b: {is: 20 ± 0.4}", is: "(a + b) - a", low: 19.6, high: 20.4, first: 0.4},
		{name: "nothing left", given: "a: {is: 10 ± 0.3}", is: "a - a", low: 0, high: 0},
		{name: "uneven limits", given: "a: {is: 10 +0.3/-0.1}", is: "2 * a", low: 19.8, high: 20.6, first: 0.4, middle: 0.2},
		{name: "product", given: "a: {is: 10 ± 0.3}, b: {is: 20 ± 0.4}", is: "a * b", low: 9.7 * 19.6, high: 10.3 * 20.4, first: math.Hypot(6, 4)},
		{name: "quotient", given: "a: {is: 10 ± 0.3}, b: {is: 20 ± 0.4}", is: "a / b", low: 9.7 / 20.4, high: 10.3 / 19.6, first: math.Hypot(0.015, (10/19.6-10/20.4)/2)},
		{name: "square", given: "a: {is: 10 ± 0.3}", is: "a ^ 2", low: 9.7 * 9.7, high: 10.3 * 10.3, first: 6},
		{name: "square far out of line", given: "a: {is: 2 ± 1.5}", is: "a ^ 2", low: 0.25, high: 12.25, first: 6, bent: true}, // drawn, a mean of 4.25 and a deviation of 2.03: as good as the same
		{name: "square about nothing", given: "a: {is: 0 ± 0.3}", is: "a ^ 2", low: 0, high: 0.09, bent: true, mean: 0.01, deviation: 0.01 * math.Sqrt2},
		{name: "product about nothing", given: "a: {is: 0 ± 3}, b: {is: 0 ± 6}", is: "a * b", low: -18, high: 18, bent: true, mean: 0, deviation: product(0, 1, 0, 2)},
		{name: "wide product of wide and even", given: "a: {is: 1 ± 3}, b: {is: 2 ± 3}", is: "a * b", low: -10, high: 20, first: math.Hypot(6, 3), bent: true},
		{name: "wide product", given: "a: {is: 2 ± 1.5}, b: {is: 2 ± 1.5}", is: "a * b", low: 0.25, high: 12.25, first: math.Hypot(3, 3), bent: true},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			report, r := run(t, "given: {"+c.given+"}\nfind: {y: "+c.is+"}\n", nil)
			got := report.Finds[0]
			spread, err := r.Spread("it.y")
			if err != nil {
				t.Fatal(err)
			}
			near := func(what string, is, want float64) {
				if math.Abs(is-want) > 1e-9*math.Max(1, math.Abs(want)) {
					t.Errorf("%s %.9g, want %.9g", what, is, want)
				}
			}
			near("low", got.Value.Low(), c.low)
			near("high", got.Value.High(), c.high)
			near("reach", (got.Statistical.Plus+got.Statistical.Minus)/2, c.first)
			near("middle", (got.Statistical.Plus-got.Statistical.Minus)/2, c.middle)
			if spread.Bent != c.bent {
				t.Errorf("bent: %v, want %v", spread.Bent, c.bent)
			}
			if c.mean == 0 && c.deviation == 0 {
				if got.Sampled != nil {
					t.Errorf("drawn %+v, and the first order says the same", got.Sampled)
				}
				return
			}
			if got.Sampled == nil {
				t.Fatal("what was drawn is not told")
			}
			// Chance: the mean is off by s/√n, the deviation by a few times s/√2n.
			drawn := got.Sampled.Value
			if off := math.Abs(drawn.SI - c.mean); off > 4*c.deviation/math.Sqrt(reckon.Draws) {
				t.Errorf("mean %g, want %g", drawn.SI, c.mean)
			}
			if off := math.Abs(drawn.Plus/3/c.deviation - 1); off > 0.1 {
				t.Errorf("deviation %g, want %g", drawn.Plus/3, c.deviation)
			}
		})
	}
}

// The ratio of two normals has, for a small share k of deviation in the divisor, the mean
// (m/n)(1 + k² + 3k⁴) and the variance (m/n)²(c² + k² + 3c²k² + 8k⁴), c being the share in
// the dividend (series of the moments of 1/x about its mean).
func TestRatioOfNormals(t *testing.T) {
	_, r := run(t, "given: {a: {is: 10 ± 3}, b: {is: 20 ± 6}}\nfind: {y: a / b}\n", nil)
	drawn, found := r.Sample(r.Plan.Calc("it")).Of("y")
	if !found {
		t.Fatal("not drawn")
	}
	c, k := 0.1, 0.1
	mean := 0.5 * (1 + k*k + 3*k*k*k*k)
	deviation := 0.5 * math.Sqrt(c*c+k*k+3*c*c*k*k+8*k*k*k*k)
	if math.Abs(drawn.Mean-mean) > 4*deviation/math.Sqrt(reckon.Draws) || math.Abs(drawn.Deviation/deviation-1) > 0.06 || drawn.Lost > 0 {
		t.Errorf("drawn %+v, want mean %g, deviation %g", drawn, mean, deviation)
	}
}

// Shares of the variance are those of the squares, and add up to all of it.
func TestDriverShares(t *testing.T) {
	report, _ := run(t, "given: {a: {is: 10 ± 0.3}, b: {is: 20 ± 0.4}}\nfind: {y: a + b}\n", nil)
	d := report.Finds[0].Drivers
	if len(d) != 2 || d[0].Name != "it.b" || math.Abs(d[0].Share-0.64) > 1e-12 || math.Abs(d[1].Share-0.36) > 1e-12 {
		t.Errorf("drivers %+v", d)
	}
}

// Certainties against the normal distribution; Φ(1) = 0.8413, Φ(2) = 0.9772.
func TestCertainty(t *testing.T) {
	cases := []struct {
		that   string
		want   float64
		within float64
		by     calc.Basis
	}{
		{"a > 9", 1, 0, calc.ByWorstCase},
		{"a > 9.7", 1, 0, calc.ByFirstOrder},
		{"a > 12", 0, 0, calc.ByWorstCase},
		{"a > 9.9", 0.8413, 1e-4, calc.ByFirstOrder},
		{"a < 10.2", 0.9772, 1e-4, calc.ByFirstOrder},
		{"9.9 < a", 0.8413, 1e-4, calc.ByFirstOrder},
		{"a >= 10.1", 0.1587, 1e-4, calc.ByFirstOrder},
		{"a - a >= 0", 1, 0, calc.ByWorstCase},
		{"2 * a > a + 9.9", 0.8413, 1e-4, calc.ByFirstOrder},
		{"uneven > 10", 0.8413, 1e-4, calc.ByFirstOrder},
		{"a > 9.9 and b > 19", 0.8413, 1e-4, calc.ByFirstOrder},
		{"a > 9.9 and b > 19.9", 0.8413 * 0.8413, 0.03, calc.BySampling},
		{"a > 9.9 and a < 10.1", 0.6827, 0.03, calc.BySampling},
		{"a > 9.9 or b > 19.9", 1 - 0.1587*0.1587, 0.03, calc.BySampling},
		{"not (a > 9.9)", 0.1587, 0.03, calc.BySampling},
		{"zero ^ 2 < 0.01", 0.6827, 0.03, calc.BySampling},
		{"zero * b > -1", 1 - 0.3085, 0.03, calc.ByFirstOrder},
		{"a = 10", 0, 0, calc.ByFirstOrder},
		{"a != 10", 1, 0, calc.ByFirstOrder},
		{"exact > 4", 1, 0, calc.ByWorstCase},
		{"exact > 5 or exact > 6", 0, 0, calc.ByWorstCase},
	}
	for _, c := range cases {
		t.Run(c.that, func(t *testing.T) {
			report, _ := run(t, "given: {a: {is: 10 ± 0.3}, b: {is: 20 ± 0.3}, zero: {is: 0 ± 0.3}, uneven: {is: 10 +0.4/-0.2}, exact: {is: 5}}\nfind: {y: a}\nrequire: [{that: "+c.that+"}]\n", nil)
			got := report.Requires[0]
			within := math.Max(c.within, 2e-3)
			if c.within > 0 {
				within = c.within
			}
			if !(math.Abs(got.Certainty-c.want) <= within) || got.By != c.by {
				t.Errorf("certainty %.4f by %s, want %.4f by %s", got.Certainty, got.By, c.want, c.by)
			}
		})
	}
}
