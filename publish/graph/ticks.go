package graph

import (
	"math"
	"strconv"
	"strings"
)

// A scale maps numbers of an axis to millimetres.
type scale struct {
	low, high float64 // of the axis
	step      float64 // between ticks: 1, 2 or 5 times a power of ten
	from, to  float64 // where low and high stand, mm
}

func (s scale) at(v float64) float64 {
	return s.from + (v-s.low)/(s.high-s.low)*(s.to-s.from)
}

// ticks are the numbers at which an axis is marked.
func (s scale) ticks() []float64 {
	const slack = 1e-6
	var out []float64
	for i := math.Ceil(s.low/s.step - slack); i*s.step <= s.high+slack*s.step && len(out) < 64; i++ {
		out = append(out, i*s.step)
	}
	return out
}

// label is a tick's number with the decimals that the step asks for.
func (s scale) label(v float64) string {
	decimals := max(0, -int(math.Floor(math.Log10(s.step)+1e-9)))
	if math.Abs(v) < s.step/2 {
		v = 0
	}
	var text string
	if decimals > 6 || math.Abs(s.high) >= 1e7 || math.Abs(s.low) >= 1e7 {
		text = strconv.FormatFloat(v, 'g', 4, 64)
	} else {
		text = grouped(strconv.FormatFloat(v, 'f', decimals, 64))
	}
	return strings.ReplaceAll(text, "-", "−")
}

// grouped puts narrow blanks between groups of three figures of five and more.
func grouped(text string) string {
	whole, rest, dotted := strings.Cut(text, ".")
	sign := ""
	if strings.HasPrefix(whole, "-") {
		sign, whole = "-", whole[1:]
	}
	if len(whole) > 4 {
		for i := len(whole) - 3; i > 0; i -= 3 {
			whole = whole[:i] + "\u202f" + whole[i:]
		}
	}
	if dotted {
		rest = "." + rest
	}
	return sign + whole + rest
}

// nice is the smallest of 1, 2, 5 times a power of ten that is not below v.
func nice(v float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(v)))
	for _, factor := range []float64{1, 2, 5} {
		if factor*power >= v*(1-1e-9) {
			return factor * power
		}
	}
	return 10 * power
}
