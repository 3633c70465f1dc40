package chain_test

import (
	"math"
	"testing"

	"plansheaf/design/chain"
)

// A size of a published stack: its sense, nominal value and limits.
type size struct{ sense, nominal, lower, upper float64 }

func contributors(sizes []size) (nominal float64, list []chain.Contributor) {
	for _, s := range sizes {
		nominal += s.sense * s.nominal
		list = append(list, chain.Contributor{Size: s.nominal, Sense: s.sense, Lower: s.lower, Upper: s.upper})
	}
	return nominal, list
}

// Published stacks to their printed digits.
func TestPublishedStacks(t *testing.T) {
	cases := []struct {
		source                   string
		sizes                    []size
		mean, worst, spread      float64
		low, high                float64 // worst case; NaN where not printed
		within, withinStatistics float64
	}{
		{
			source: "Shigley's Mechanical Engineering Design, 9th ed., example 1-3 (the statistical one is worked out here)",
			sizes:  []size{{1, 1.750, -0.003, 0.003}, {-1, 0.750, -0.001, 0.001}, {-1, 0.120, -0.005, 0.005}, {-1, 0.875, -0.001, 0.001}},
			mean:   0.005, worst: 0.010, spread: 0.006, low: -0.005, high: 0.015, within: 5e-7, withinStatistics: 5e-7,
		},
		{
			// Its mean is printed as 0.020; exactly it is 0.0199.
			source: "Chase, shaft and bearing assembly with retaining ring, Brigham Young University (numbers from memory)",
			sizes: []size{{-1, 0.0505, -0.0015, 0.0015}, {1, 8.000, -0.008, 0.008}, {-1, 0.5093, -0.0025, 0.0025}, {1, 0.400, -0.002, 0.002},
				{-1, 7.711, -0.006, 0.006}, {1, 0.400, -0.002, 0.002}, {-1, 0.5093, -0.0025, 0.0025}},
			mean: 0.0199, worst: 0.0245, spread: 0.01108, low: math.NaN(), high: math.NaN(), within: 5e-7, withinStatistics: 5e-6,
		},
		{
			source: "Drake, Dimensioning and Tolerancing Handbook, chapter 9: motor assembly, as quoted by the tests of two open programs",
			sizes: []size{{-1, 0.375, -0.031, 0}, {1, 0.032, -0.002, 0.002}, {1, 0.060, -0.003, 0.003}, {1, 0.438, -0.015, 0}, {1, 0.120, -0.005, 0.005},
				{1, 1.500, -0.004, 0.010}, {1, 0.120, -0.005, 0.005}, {1, 0.438, -0.015, 0}, {1, 0.450, -0.007, 0.007}, {-1, 3.019, 0, 0.012}, {1, 0.300, -0.030, 0.030}},
			mean: 0.0615, worst: 0.0955, spread: 0.0381, low: -0.034, high: 0.157, within: 5e-7, withinStatistics: 5e-5,
		},
		{
			source: "Shaft, bearings, sleeves, case and ring, in mm, as quoted by the test of an open program",
			sizes:  []size{{1, 208, -0.036, 0.036}, {-1, 1.75, -0.06, 0}, {-1, 23, -0.12, 0}, {1, 20, -0.026, 0.026}, {-1, 200, -0.145, 0.145}, {1, 20, -0.026, 0.026}, {-1, 23, -0.12, 0}},
			mean:   0.4, worst: 0.383, spread: 0.17825, low: 0.017, high: 0.783, within: 5e-7, withinStatistics: 5e-6,
		},
	}
	for _, c := range cases {
		t.Run(c.source, func(t *testing.T) {
			nominal, list := contributors(c.sizes)
			g := chain.Sum(nominal, list)
			for _, v := range []struct {
				what              string
				got, want, within float64
			}{
				{"mean", g.Mean, c.mean, c.within}, {"worst case", (g.High - g.Low) / 2, c.worst, c.within}, {"root sum square", g.Spread, c.spread, c.withinStatistics},
				{"least", g.Low, c.low, c.within}, {"largest", g.High, c.high, c.within},
			} {
				if !math.IsNaN(v.want) && math.Abs(v.got-v.want) > v.within {
					t.Errorf("%s: %.6f, want %g", v.what, v.got, v.want)
				}
			}
			shares(t, list)
		})
	}
}

// shares fails where the shares of contributors do not add up, or are not ranked.
func shares(t *testing.T, list []chain.Contributor) {
	t.Helper()
	worst, variance, before := 0.0, 0.0, math.Inf(1)
	for _, c := range list {
		worst += c.Worst
		variance += c.Variance
		if c.Worst > before+1e-12 {
			t.Errorf("%s has a larger share of the worst case than what stands before it", c.Name())
		}
		before = c.Worst
	}
	if math.Abs(worst-1) > 1e-9 || math.Abs(variance-1) > 1e-9 {
		t.Errorf("the shares add up to %g and %g", worst, variance)
	}
}
