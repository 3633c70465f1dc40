package check

import (
	"math"
	"math/rand"
	"slices"
	"testing"
)

// bestKnown are the largest radii of n equal circles in a circle of radius 1 that
// S. Kravitz, Packing cylinders into cylindrical containers, Mathematics Magazine 40
// (1967), 65-70, gives, by n - 1.
var bestKnown = []float64{
	1, 0.5, 0.4641016, 0.4142135, 0.3701908, 0.3333333, 0.3333333, 0.3025934, 0.2767685, 0.26222, 0.2548547,
	0.2482, 0.236068, 0.23105, 0.2211725, 0.21666, 0.20866, 0.2056046, 0.2056046, 0.19522,
}

func TestRoundForEqual(t *testing.T) {
	for i, r := range bestKnown {
		least, known := roundRatio(i+1), 1/r
		// Some were given a little too large, by less than their last digit.
		if least > known*(1+2e-4) || least < known*(1-2e-4) && i < 13 || least < 0.92*known {
			t.Errorf("%d: at least %.5f, known to fit into %.5f", i+1, least, known)
		}
	}
}

func TestFor(t *testing.T) {
	for _, c := range []struct {
		name       string
		ds         []float64
		wide, want float64 // wide 0: a round hole
	}{
		{"none", nil, 0, 0},
		{"one", []float64{6}, 0, 6},
		{"two", []float64{6, 4}, 0, 10},
		{"three", []float64{6, 6, 6}, 0, 12.9282},
		{"a thick one and seven thin ones", []float64{6, 3, 3, 3, 3, 3, 3, 3}, 0, math.Sqrt(99)},
		{"thin ones beside a thick one", []float64{6, 1, 1}, 0, 7},
		{"one in a slot", []float64{5}, 6, 6},
		{"two in a slot", []float64{6, 4}, 6, 10},
		{"a row", []float64{6, 6, 6, 6}, 6, 24},
		{"to and fro", []float64{5, 5, 5}, 9, 11}, // 3-4-5 triangles
		{"a wide slot takes them side by side", []float64{1, 1, 1, 1}, 6, 6},
	} {
		got := roundFor(c.ds)
		if c.wide > 0 {
			got = longFor(c.ds, c.wide)
		}
		if math.Abs(got-c.want) > 1e-4 {
			t.Errorf("%s: %g, expected %g", c.name, got, c.want)
		}
	}
}

// What lies in a hole without overlapping is never said to need a larger one.
func TestForNeverTooMuch(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	for range 400 {
		wide := 3 + 5*r.Float64()
		long := wide
		if r.Intn(3) > 0 {
			long += 8 * r.Float64()
		}
		type disc struct{ x, y, d float64 }
		var in []disc
		var ds []float64
		for range 300 {
			c := disc{x: (r.Float64() - 0.5) * long, y: (r.Float64() - 0.5) * wide, d: math.Min(wide, 0.6+2.4*r.Float64())}
			core := (long - wide) / 2
			if out := math.Hypot(math.Max(0, math.Abs(c.x)-core), c.y) + c.d/2; out > wide/2 {
				continue
			}
			if !slices.ContainsFunc(in, func(o disc) bool { return math.Hypot(c.x-o.x, c.y-o.y) < (c.d+o.d)/2 }) {
				in, ds = append(in, c), append(ds, c.d)
			}
		}
		slices.Sort(ds)
		slices.Reverse(ds)
		if need := longFor(ds, wide); need > long+1e-9 {
			t.Errorf("%v lie in %g by %g and are said to need %g", ds, long, wide, need)
		}
		if need := roundFor(ds); long == wide && need > wide+1e-9 {
			t.Errorf("%v lie in %g and are said to need %g", ds, wide, need)
		}
	}
}
