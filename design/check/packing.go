package check

import "math"

// roundRatios are the least diameters of a circle that n equal circles of diameter 1 fit
// into, by n - 1, each proven and rounded down (arrangements: S. Kravitz, Packing
// cylinders into cylindrical containers, Mathematics Magazine 40, 1967; proofs up to 7
// by R. L. Graham, to 10 by U. Pirl, 11 by H. Melissen, 12 and 13 by F. Fodor).
var roundRatios = []float64{
	1, 2, 1 + 2/math.Sqrt(3), 1 + math.Sqrt2, 1 + math.Sqrt(2+2/math.Sqrt(5)), 3, 3, 1 + 1/math.Sin(math.Pi/7),
	1 + math.Sqrt(4+2*math.Sqrt2), 3.8130, 1 + 1/math.Sin(math.Pi/9), 4.0296, 2 + math.Sqrt(5),
}

// roundFor is a diameter below which no round hole takes strands of the given
// diameters, the thickest first: exact for two and for up to 13 equal ones, for others
// possibly too small.
func roundFor(ds []float64) float64 {
	if len(ds) == 0 {
		return 0
	}
	least, squares := ds[0], 0.0
	if len(ds) > 1 {
		least = ds[0] + ds[1]
	}
	for i, d := range ds { // so many are at least so thick
		squares += d * d
		least = math.Max(least, d*roundRatio(i+1))
	}
	return math.Max(least, math.Sqrt(squares)) // their areas are in its own
}

// roundRatio is a diameter below which no circle takes n of diameter 1.
func roundRatio(n int) float64 {
	if n <= len(roundRatios) {
		return roundRatios[n-1]
	}
	// Solved for the diameter of the circle in which the middles lie.
	a, b := olerArea*math.Pi/4, math.Pi/2
	return math.Max(roundRatios[len(roundRatios)-1], 1+(math.Sqrt(b*b+4*a*float64(n-1))-b)/(2*a))
}

// olerArea is the factor of the area in N. Oler's inequality (An inequality in the
// geometry of numbers, Acta Mathematica 105, 1961): a convex figure of area A and
// perimeter P holds at most 2/√3 A + P/2 + 1 points that lie 1 or more apart.
var olerArea = 2 / math.Sqrt(3)

// longFor is a length below which no hole with round ends, wide across, takes strands of
// the given diameters, the thickest first, none thicker than it is wide: exact for two,
// and for equal ones that lie in one row or one behind the other to and fro.
func longFor(ds []float64, wide float64) float64 {
	least := wide
	if len(ds) > 1 {
		least = math.Max(least, ds[0]+ds[1])
	}
	for i, d := range ds {
		if d > 0 {
			least = math.Max(least, d*longRatio(i+1, wide/d))
		}
	}
	return least
}

// longRatio is a length below which no hole with round ends, wide across, takes n
// circles of diameter 1.
func longRatio(n int, wide float64) float64 {
	e, more := math.Max(0, wide-1), float64(n-1)
	// By Oler's inequality for where the middles lie: a figure of the same straight
	// length with ends of diameter e.
	least := wide + math.Max(0, more-olerArea*math.Pi/4*e*e-math.Pi/2*e)/(olerArea*e+1)
	if e < 1 { // neighbours along the hole lie no more than e apart across it
		least = math.Max(least, 1+more*math.Sqrt(1-e*e))
	}
	return least
}
