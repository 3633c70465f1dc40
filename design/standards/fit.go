package standards

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"
)

// LargestFit is the largest diameter in millimetres for which [Limits] answers.
const LargestFit = 120

// Limits returns the lower and upper limit deviation in millimetres of a
// diameter in a tolerance class: an upper-case letter for a hole (H7, D10, JS9,
// N7), a lower-case one for a shaft (g6, h9, js6, p6). Letters are C to H, J, JS,
// K, M, N, P, R, S and U; grades are IT4 to IT14, diameters up to [LargestFit].
// Source: ISO 286-1:2010.
func Limits(diameter float64, class string) (lower, upper float64, err error) {
	if !(diameter > 0 && diameter <= LargestFit) {
		return 0, 0, fmt.Errorf("limits of %s: diameter %v mm is not between 0 and %d mm", class, diameter, LargestFit)
	}
	split := strings.IndexAny(class, "0123456789")
	if split < 1 || class[split] == '0' {
		return 0, 0, fmt.Errorf("%q is no tolerance class such as H7 or g6", class)
	}
	letter := class[:split]
	grade, errGrade := strconv.Atoi(class[split:])
	width, known := toleranceWidth(diameter, grade)
	if errGrade != nil || !known {
		return 0, 0, fmt.Errorf("tolerance class %q: the grade is not one of IT4 to IT14", class)
	}
	deviations := deviationsOf(diameter)
	var low, high float64
	switch {
	case letter == "js" || letter == "JS":
		low, high, known = -width/2, width/2, true
	case letter == strings.ToLower(letter):
		low, high, known = shaftLimits(deviations, letter, grade, width)
	default:
		low, high, known = holeLimits(deviations, diameter, letter, grade, width)
	}
	if !known {
		return 0, 0, fmt.Errorf("tolerance class %q is not in the tables for %v mm", class, diameter)
	}
	const micrometre = 1e-3
	return roundNanometre(low * micrometre), roundNanometre(high * micrometre), nil
}

// roundNanometre rids a sum of table values of what binary fractions add.
func roundNanometre(millimetres float64) float64 {
	return math.Round(millimetres*1e6) / 1e6
}

// shaftLimits returns the deviations of a shaft in micrometres.
func shaftLimits(deviations row, letter string, grade int, width float64) (low, high float64, known bool) {
	switch letter {
	case "c", "d", "e", "f", "g", "h":
		upper := -deviations.number(letter)
		return upper - width, upper, true
	case "k":
		if grade < 4 || grade > 7 {
			return 0, width, true
		}
		fallthrough
	case "m", "n", "p", "r", "s", "u":
		lower := deviations.number(letter)
		return lower, lower + width, true
	case "j":
		column := map[int]string{5: "shaft_j6", 6: "shaft_j6", 7: "shaft_j7"}[grade]
		if column == "" {
			return 0, 0, false
		}
		lower := -deviations.number(column)
		return lower, lower + width, true
	}
	return 0, 0, false
}

// holeLimits returns the deviations of a hole in micrometres, by the rules of
// ISO 286-1:2010, 4.3.2.5: a hole mirrors the shaft of its letter; from K on it
// is moved by the difference of two neighbouring grades so that a fit keeps its
// clearance or interference when hole and shaft change places.
func holeLimits(deviations row, diameter float64, letter string, grade int, width float64) (low, high float64, known bool) {
	shaft := strings.ToLower(letter)
	switch letter {
	case "C", "D", "E", "F", "G", "H":
		lower := deviations.number(shaft)
		return lower, lower + width, true
	case "J":
		if grade < 6 || grade > 8 {
			return 0, 0, false
		}
		upper := deviations.number(fmt.Sprintf("hole_j%d", grade))
		return upper - width, upper, true
	case "K", "M", "N", "P", "R", "S", "U":
	default:
		return 0, 0, false
	}
	small := diameter <= 3
	upper := -deviations.number(shaft)
	coarsest := 8 // of the moved grades, for K, M and N
	if letter >= "P" {
		coarsest = 7
	}
	switch {
	case letter == "K" && small:
		upper = 0
	case letter == "K" && grade > 8:
		return 0, 0, false
	case letter == "N" && grade > 8 && !small:
		upper = 0
	case grade <= coarsest && !small:
		finer, tabled := toleranceWidth(diameter, grade-1)
		if !tabled {
			return 0, 0, false
		}
		upper += width - finer
	}
	return upper - width, upper, true
}

// toleranceWidth returns the width in micrometres of a standard tolerance grade.
func toleranceWidth(diameter float64, grade int) (float64, bool) {
	r, found := rangeOf(fitTables().grades, diameter)
	column := fmt.Sprintf("it%d", grade)
	if _, tabled := r.columns[column]; !found || !tabled {
		return 0, false
	}
	return r.number(column), true
}

func deviationsOf(diameter float64) row {
	r, _ := rangeOf(fitTables().deviations, diameter)
	return r
}

// rangeOf finds the row whose range, over one diameter up to and including
// another, holds the value. An empty upper end has no limit.
func rangeOf(rows []row, value float64) (row, bool) {
	value = roundNanometre(value) // metres there and back must not pass a range's end
	for _, r := range rows {
		most := r.number("up_to_mm")
		if value > r.number("over_mm") && (most == 0 || value <= most) {
			return r, true
		}
	}
	return row{}, false
}

type fitRows struct{ grades, deviations []row }

var fitTables = sync.OnceValue(func() fitRows {
	return fitRows{readTable("tolerance-grades").rows, readTable("fundamental-deviations").rows}
})
