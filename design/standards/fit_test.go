package standards

import (
	"fmt"
	"math"
	"testing"
)

// ISO 286-1:2010 and the limit tables of ISO 286-2, from memory, micrometres.
func TestLimits(t *testing.T) {
	for _, row := range []struct {
		diameter     float64
		class        string
		lower, upper float64
	}{
		{12, "H7", 0, 18}, {12, "g6", -17, -6}, {12, "f7", -34, -16}, {12, "h6", -11, 0}, {12, "js6", -5.5, 5.5},
		{12, "k6", 1, 12}, {12, "m6", 7, 18}, {12, "n6", 12, 23}, {12, "p6", 18, 29},
		{25, "H8", 0, 33}, {25, "e8", -73, -40}, {25, "d9", -117, -65}, {25, "s6", 35, 48}, {25, "r6", 28, 41},
		{25, "K7", -15, 6}, {25, "M7", -21, 0}, {25, "N7", -28, -7}, {25, "P7", -35, -14}, {25, "N9", -52, 0},
		{25, "F8", 20, 53}, {25, "G7", 7, 28}, {25, "D10", 65, 149}, {25, "JS7", -10.5, 10.5}, {25, "J7", -9, 12},
		{3, "H7", 0, 10}, {3, "g6", -8, -2}, {3, "K7", -10, 0}, {3, "N7", -14, -4}, {3, "P7", -16, -6}, {3, "N9", -29, -4},
		{50, "j6", -5, 11}, {50, "k6", 2, 18}, {50, "P7", -42, -17}, {50, "H11", 0, 160}, {50, "c11", -290, -130},
		{100, "u6", 124, 146}, {120, "u6", 144, 166}, {120, "H7", 0, 35}, {120, "g6", -34, -12},
		{18, "u6", 33, 44}, {18.5, "u6", 41, 54}, {0.5, "h5", -4, 0},
	} {
		name := fmt.Sprintf("%v %s", row.diameter, row.class)
		lower, upper, err := Limits(row.diameter, row.class)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if math.Abs(lower*1000-row.lower) > exact || math.Abs(upper*1000-row.upper) > exact {
			t.Errorf("%s: %v to %v, want %v to %v micrometres", name, lower*1000, upper*1000, row.lower, row.upper)
		}
	}
}

func TestLimitsRefuses(t *testing.T) {
	for _, row := range []struct {
		diameter float64
		class    string
	}{
		{0, "H7"}, {-5, "H7"}, {121, "H7"}, {math.NaN(), "H7"}, {math.Inf(1), "H7"},
		{12, ""}, {12, "H"}, {12, "7"}, {12, "H07"}, {12, "H99"}, {12, "H3"}, {12, "H7x"}, {12, "q6"}, {12, "Js7"},
		{12, "K9"}, {12, "J9"}, {12, "j8"}, {12, "H99999999999999999999"}, {12, "é7"},
	} {
		if lower, upper, err := Limits(row.diameter, row.class); err == nil {
			t.Errorf("Limits(%v, %q) = %v, %v", row.diameter, row.class, lower, upper)
		}
	}
}

func FuzzLimits(f *testing.F) {
	for _, class := range []string{"H7", "g6", "js6", "JS9", "K7", "N9", "é7", "H07", "h-6", ""} {
		f.Add(12.0, class)
	}
	f.Fuzz(func(t *testing.T, diameter float64, class string) {
		lower, upper, err := Limits(diameter, class)
		if err == nil && !(lower < upper && upper-lower < 1) {
			t.Errorf("Limits(%v, %q) = %v, %v", diameter, class, lower, upper)
		}
	})
}

// ISO 286-1 worked its grades out from i = 0.45 cbrt(D) + 0.001 D micrometres,
// D the geometric mean of the range, and rounded them.
func TestTolerancesByFormula(t *testing.T) {
	units := map[int]float64{5: 7, 6: 10, 7: 16, 8: 25, 9: 40, 10: 64, 11: 100, 12: 160, 13: 250, 14: 400}
	for _, r := range fitTables().grades {
		over, most := r.number("over_mm"), r.number("up_to_mm")
		if over == 0 {
			continue // the standard sets its first range by hand
		}
		mean := math.Sqrt(over * most)
		unit := 0.45*math.Cbrt(mean) + 0.001*mean
		for grade, factor := range units {
			got, _ := toleranceWidth(most, grade)
			// The rounding is up to a micrometre and a few percent.
			if want := factor * unit; math.Abs(got-want) > 1+0.05*want {
				t.Errorf("IT%d up to %v mm: %v, by the formula %.1f", grade, most, got, want)
			}
		}
	}
}

// The formulas of ISO 286-1 for fundamental deviations, micrometres, D the
// geometric mean of the range in millimetres.
func TestDeviationsByFormula(t *testing.T) {
	formulas := map[string]func(d float64) float64{
		"d": func(d float64) float64 { return 16 * math.Pow(d, 0.44) },
		"e": func(d float64) float64 { return 11 * math.Pow(d, 0.41) },
		"f": func(d float64) float64 { return 5.5 * math.Pow(d, 0.41) },
		"g": func(d float64) float64 { return 2.5 * math.Pow(d, 0.34) },
		"n": func(d float64) float64 { return 5 * math.Pow(d, 0.34) },
	}
	for _, grade := range fitTables().grades {
		over, most := grade.number("over_mm"), grade.number("up_to_mm")
		if over == 0 {
			continue // the standard sets its first range by hand
		}
		mean := math.Sqrt(over * most)
		for letter, formula := range formulas {
			got := deviationsOf(most).number(letter)
			if want := formula(mean); math.Abs(got-want) > 1+0.05*want {
				t.Errorf("%s up to %v mm: %v, by the formula %.1f", letter, most, got, want)
			}
		}
		// m is the difference of IT7 and IT6, p is IT7 and up to 5 more.
		it6, _ := toleranceWidth(most, 6)
		it7, _ := toleranceWidth(most, 7)
		deviations := deviationsOf(most)
		if m := deviations.number("m"); math.Abs(m-(it7-it6)) > 1 {
			t.Errorf("m up to %v mm: %v, IT7 - IT6 is %v", most, m, it7-it6)
		}
		if p := deviations.number("p"); p < it7 || p > it7+5 {
			t.Errorf("p up to %v mm: %v, IT7 is %v", most, p, it7)
		}
	}
}

// Deviations grow with the diameter, and a letter further on sits higher.
func TestDeviationsGrow(t *testing.T) {
	last := make(map[string]float64)
	for _, r := range fitTables().deviations {
		for _, letter := range []string{"c", "d", "e", "f", "g", "h", "k", "m", "n", "p", "r", "s", "u"} {
			value := r.number(letter)
			if value < last[letter] {
				t.Errorf("%s falls to %v over %v mm", letter, value, r.number("over_mm"))
			}
			last[letter] = value
		}
		previous := math.Inf(-1)
		for _, class := range []string{"c7", "d7", "e7", "f7", "g7", "h7", "k7", "m7", "n7", "p7", "r7", "s7", "u7"} {
			lower, upper, err := Limits(r.number("up_to_mm"), class)
			if err != nil || lower < previous || upper < lower {
				t.Errorf("%v %s: %v to %v after %v, %v", r.number("up_to_mm"), class, lower, upper, previous, err)
			}
			previous = lower
		}
	}
}

// ISO 286-1, 4.3.2.5: H7/p6 and P7/h6 grip alike, as do the other pairs of a
// hole one grade coarser than its shaft.
func TestFitsChangePlaces(t *testing.T) {
	for diameter := 3.5; diameter <= LargestFit; diameter += 3.5 {
		for _, letter := range []string{"k", "m", "n", "p", "r", "s"} {
			_, upperHole, _ := Limits(diameter, "H7")
			lowerShaft, _, _ := Limits(diameter, letter+"6")
			hole := string(letter[0]-'a'+'A') + "7"
			_, upper, err := Limits(diameter, hole)
			lower, _, _ := Limits(diameter, "h6")
			if err != nil || math.Abs((upperHole-lowerShaft)-(upper-lower)) > exact {
				t.Errorf("%v mm: H7/%s6 and %s/h6 differ: %v", diameter, letter, hole, err)
			}
		}
	}
}

// Sizes at the end of a range, as they come back from metres, keep to it: 18 mm H7 is
// +0.018 mm (ISO 286-1), 30 mm in class m ± 0.2 mm (ISO 2768-1).
func TestRangeEndsSurviveRounding(t *testing.T) {
	metres := 0.018
	if _, upper, err := Limits(metres*1000, "H7"); err != nil || upper != 0.018 {
		t.Errorf("18 mm H7: +%g, %v", upper, err)
	}
	metres = 0.030
	if got, known := GeneralTolerance("m", math.Nextafter(metres*1000, 31)); !known || got != 0.2 {
		t.Errorf("30 mm in class m: ± %g", got)
	}
}
