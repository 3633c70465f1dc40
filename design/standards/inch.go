package standards

import (
	"math"
	"strconv"
	"strings"
)

// inch is the international inch in millimetres, exact since 1959.
// Source: NIST SP 811, appendix B.
const inch = 25.4

// parseInches reads a length in inches: "3/8", "1 1/4", "1-1/4", "0.75", "2".
// It reports false for anything else, for a zero denominator and for values
// that no fastener has.
func parseInches(text string) (float64, bool) {
	text = strings.TrimSuffix(strings.TrimSuffix(strings.TrimSpace(text), "in"), "\"")
	whole, part, mixed := strings.Cut(strings.TrimSpace(text), " ")
	if !mixed {
		whole, part, mixed = strings.Cut(whole, "-")
	}
	if !mixed {
		return parseFraction(whole)
	}
	part = strings.TrimSpace(part)
	first, err := strconv.ParseUint(whole, 10, 16)
	if err != nil || !strings.Contains(part, "/") {
		return 0, false
	}
	second, ok := parseFraction(part)
	if !ok || second >= 1 {
		return 0, false
	}
	return float64(first) + second, true
}

func parseFraction(text string) (float64, bool) {
	over, under, fraction := strings.Cut(text, "/")
	if !fraction {
		return parseDecimal(text)
	}
	numerator, errOver := strconv.ParseUint(over, 10, 16)
	denominator, errUnder := strconv.ParseUint(under, 10, 16)
	if errOver != nil || errUnder != nil || denominator == 0 || numerator == 0 {
		return 0, false
	}
	return float64(numerator) / float64(denominator), true
}

// parseDecimal reads plain digits with at most one point. strconv alone would
// also take exponents, hexadecimal, "inf" and "nan".
func parseDecimal(text string) (float64, bool) {
	if text == "" || len(text) > 12 || strings.Trim(text, "0123456789.") != "" {
		return 0, false
	}
	value, err := strconv.ParseFloat(text, 64)
	if err != nil || value <= 0 {
		return 0, false
	}
	return value, true
}

// formatInches prints inches as a fraction of at most 64ths, "1 1/4", or as a
// decimal where no such fraction is exact.
func formatInches(value float64) string {
	sixtyFourths := value * 64
	if math.Abs(sixtyFourths-math.Round(sixtyFourths)) > 1e-9 {
		return strconv.FormatFloat(value, 'f', -1, 64)
	}
	n := int(math.Round(sixtyFourths))
	whole, over, under := n/64, n%64, 64
	for over > 0 && over%2 == 0 {
		over, under = over/2, under/2
	}
	switch {
	case over == 0:
		return strconv.Itoa(whole)
	case whole == 0:
		return strconv.Itoa(over) + "/" + strconv.Itoa(under)
	}
	return strconv.Itoa(whole) + " " + strconv.Itoa(over) + "/" + strconv.Itoa(under)
}

// formatMillimetres prints a length without trailing zeros: "25", "2.5".
func formatMillimetres(value float64) string {
	return strconv.FormatFloat(value, 'f', -1, 64)
}
