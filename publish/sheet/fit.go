package sheet

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"plansheaf/design/standards"
)

// fit is a tolerance class with its limit deviations behind it in brackets, the upper
// first (ISO 129-1, values of ISO 286-1): "H7 (+0.018/0)", in the system's unit. A
// class that the tables do not hold stands alone.
func (s System) fit(mm float64, class string) string {
	if class == "" {
		return ""
	}
	lower, upper, err := standards.Limits(mm, class)
	if err != nil {
		return class
	}
	if math.Abs(lower+upper) < 1e-9 {
		return fmt.Sprintf("%s (±%s)", class, strings.TrimPrefix(s.deviation(upper), "+"))
	}
	return fmt.Sprintf("%s (%s/%s)", class, s.deviation(upper), s.deviation(lower))
}

// deviation prints a deviation with its sign: thousandths of a millimetre, halves of
// them too, or ten-thousandths of an inch; nought without either.
func (s System) deviation(mm float64) string {
	value, places := mm, 3
	switch {
	case s == Inch:
		value, places = mm/inch, 4
	case math.Abs(mm*1e3-math.Round(mm*1e3)) > 1e-6:
		places = 4
	}
	words := strconv.FormatFloat(math.Abs(value), 'f', places, 64)
	switch {
	case strings.Trim(words, "0.") == "":
		return "0"
	case value < 0:
		return "−" + words
	}
	return "+" + words
}
