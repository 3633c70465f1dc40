package quantity

import (
	"math"
	"strings"
)

// Text prints v in the units of a system, with sensible digits: "412 mm",
// "3/8 in", "3.35 ± 0.25 kN", "8 +0.015/−0 mm", "12 mm H7", "90°".
//
// The unit that v was written in is kept when it is at home in the system;
// otherwise one in common use for its dimension and size is chosen. What has
// no usual unit in the system is printed in SI units. A spread decides the
// digits; without one there are about four, lengths going to 0.01 mm or 0.001
// in, and numbers of few digits are never rounded. Fractions of an inch are
// printed when they are exact to 1/64.
//
// A negative number has the sign U+2212, which is as wide as a plus and never
// parted from its number; five digits and more are grouped by U+202F, a narrow
// blank that does not break. Parse reads both. The blank before the unit is an
// ordinary one.
func Text(v Value, system System) string {
	chosen := choose(v, system)
	return textIn(v, chosen.unit)
}

// Both prints v in a system and beside it in the other. second is empty when
// it would say the same or nothing useful: angles, volts, money, zero, and what
// has no usual unit in the other system.
func Both(v Value, system System) (first, second string) {
	mine, theirs := choose(v, system), choose(v, system.Other())
	first = textIn(v, mine.unit)
	zero := v.SI == 0 && !v.Absolute && !v.HasSpread()
	if mine.unit.Text == theirs.unit.Text || theirs.makeshift || zero || !v.Finite() {
		return first, ""
	}
	v.Fit = "" // a fit has tables of its own for each system of units
	return first, textIn(v, theirs.unit)
}

// TextIn prints v in a unit. The error is that of In.
func TextIn(v Value, unit string) (string, error) {
	if _, err := v.In(unit); err != nil {
		return "", err
	}
	u, err := ParseUnit(unit)
	if err != nil {
		return "", err
	}
	return textIn(v, u), nil
}

// Parts returns what Text prints in two parts, for columns: the number with
// its spread, and the unit as printed. A fraction of an inch with a spread
// has its unit twice in Text, and once here.
func Parts(v Value, system System) (number, unit string) {
	chosen := choose(v, system).unit
	return numberText(v, chosen), UnitText(chosen.Text)
}

// SpreadText prints the spread of v alone, "± 0.1 mm" or "+0.015/−0 mm", for a
// tolerance; empty when there is none.
func SpreadText(v Value, system System) string {
	if !v.HasSpread() || !v.Finite() {
		return ""
	}
	unit := choose(v, system).unit
	_, spread := spreadDigits(v, unit)
	return spread + unitAfter(unit)
}

// UnitText returns a unit as it is printed: "N·m" for N*m, "mm⁴" for mm^4,
// "°C" for degC, "µm" for um.
func UnitText(unit string) string {
	if plainSymbol(unit) { // most are
		return printedSymbol(unit)
	}
	var out strings.Builder
	var symbol []rune
	flush := func() {
		out.WriteString(printedSymbol(string(symbol)))
		symbol = symbol[:0]
	}
	runes := []rune(unit)
	for i := 0; i < len(runes); i++ {
		switch r := runes[i]; {
		case r == '*' || r == '⋅':
			flush()
			out.WriteRune('·')
		case r == '^' && i+1 < len(runes):
			flush()
			for i+1 < len(runes) && (isMinus(runes[i+1]) || isDigit(runes[i+1])) {
				i++
				if isMinus(runes[i]) {
					out.WriteRune('⁻')
				} else {
					out.WriteRune(superscriptRunes[runes[i]-'0'])
				}
			}
		case isUnitRune(r):
			symbol = append(symbol, r)
		default:
			flush()
			out.WriteRune(r)
		}
	}
	flush()
	return out.String()
}

var printedSymbols = map[string]string{
	"deg": "°", "degC": "°C", "degF": "°F", "Ohm": "Ω", "'": "′", "L": "l", "rev": "turn",
}

// plainSymbol reports whether a unit is one symbol of plain letters.
func plainSymbol(unit string) bool {
	for i := range len(unit) {
		if c := unit[i] | 0x20; c < 'a' || c > 'z' {
			return false
		}
	}
	return true
}

func printedSymbol(symbol string) string {
	if !plainSymbol(symbol) {
		symbol = spellings.Replace(symbol)
	}
	if printed, found := printedSymbols[symbol]; found {
		return printed
	}
	if symbol == "'" {
		return "′"
	}
	if _, found := symbols[symbol]; found {
		return symbol
	}
	if rest, found := strings.CutPrefix(symbol, "u"); found {
		if _, known := symbols[rest]; known {
			return "µ" + printedSymbol(rest)
		}
	}
	if rest, found := strings.CutSuffix(symbol, "Ohm"); found {
		return rest + "Ω"
	}
	return symbol
}

// unitAfter is the unit as it follows a number, with the blank between; signs
// of angle follow at once.
func unitAfter(u Unit) string {
	switch printed := UnitText(u.Text); printed {
	case "":
		return ""
	case "°", "′":
		return printed
	default:
		return " " + printed
	}
}

func textIn(v Value, u Unit) string {
	if !v.Finite() {
		return odd(v.SI)
	}
	text := numberText(v, u) + unitAfter(u)
	if fraction, found := inchSpread(v, u); found {
		text = fraction
	}
	if u.Text == "%" && v.HasSpread() {
		// 30 % ± 2 %: points of a percentage; 30 ± 2 % is a part of 30.
		number, spread := spreadDigits(v, u)
		text = number + " % " + spread + " %"
	}
	if v.Fit != "" {
		text += " " + v.Fit
	}
	return text
}

// odd words what is no finite number.
func odd(x float64) string {
	switch {
	case math.IsInf(x, 1):
		return "infinitely large"
	case math.IsInf(x, -1):
		return "infinitely small"
	}
	return "not a number"
}

// inchSpread prints 3/8 in ± 1/32 in: the unit stands twice, for 3/8 ± 1/32 in
// would read as a division.
func inchSpread(v Value, u Unit) (string, bool) {
	if u.Text != "in" || !v.HasSpread() || v.Minus != v.Plus {
		return "", false
	}
	value, found := fractionText(u.number(v))
	spread, also := fractionText(v.Plus / u.Factor)
	if !found || !also || !strings.Contains(value+spread, "/") {
		return "", false
	}
	return value + " in ± " + spread + " in", true
}
