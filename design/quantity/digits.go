package quantity

import (
	"math"
	"strconv"
	"strings"

	"golang.org/x/text/currency"
)

const (
	significant  = 4   // digits of a number that nothing else decides
	shortDigits  = 6   // a number of no more digits is printed as it is
	largest      = 1e9 // at and beyond this, powers of ten are printed
	smallest     = 1e-4
	mostDecimals = 9
	// negligible spreads, as a part of the value, are the noise of float64.
	negligible = 1e-11
)

// numberText prints v's number in a unit, with its spread.
func numberText(v Value, u Unit) string {
	if !v.Finite() {
		return odd(v.SI)
	}
	x := u.number(v)
	if math.Max(v.Minus, v.Plus) > negligible*math.Abs(v.SI) {
		number, spread := spreadDigits(v, u)
		return number + " " + spread
	}
	if u.Text == "in" {
		if text, found := fractionText(x); found {
			return text
		}
	}
	places := decimals(x, u)
	if v.Fit != "" && u.Text == "in" {
		places = 4 // fits are held in ten-thousandths of an inch
	}
	return fixed(x, places, moneyDecimals(u))
}

// spreadDigits prints the number and the spread of v with the digits that the
// spread deserves: two, or all three of a length's down to 0.001, for
// tolerances have them.
// The number shows as many decimals as an equal spread.
func spreadDigits(v Value, u Unit) (number, spread string) {
	x, below, above := u.number(v), v.Minus/u.Factor, v.Plus/u.Factor
	places, kept := moneyDecimals(u), 2
	crooked := false // a spread that is rounded shows its zeros: ± 0.10
	if u.Dim == Length {
		kept = 3
	}
	for _, amount := range []float64{below, above} {
		if amount == 0 {
			continue
		}
		if short, n := shortDecimals(amount, kept); short && n <= max(kept, placesFor(amount, 2)) {
			places = max(places, n)
		} else {
			places = max(places, placesFor(amount, 2))
			crooked = true
		}
	}
	// A nominal size is not rounded away because its tolerance is coarse.
	short, n := shortDecimals(x, shortDigits)
	if short && n <= 4 {
		places = max(places, n)
	}
	if places > mostDecimals || math.Abs(x) >= largest {
		// Too fine to stand in a row of decimals: each by its own power of ten.
		return scientific(x), amounts(scientific(below), scientific(above))
	}
	least := places
	if below != above && short {
		least = moneyDecimals(u) // 8 +0.015/−0 as the trade writes it
	}
	spreadLeast := moneyDecimals(u)
	if crooked && below == above {
		spreadLeast = places
	}
	write := func(x float64) string { return rounded(x, places, spreadLeast) }
	return rounded(x, places, least), amounts(write(below), write(above))
}

// amounts writes a spread without its unit.
func amounts(below, above string) string {
	if below == above {
		return "± " + above
	}
	return "+" + above + "/" + string(minus) + below
}

// decimals is how many decimals x of a unit is printed with.
func decimals(x float64, u Unit) int {
	most := 6
	switch u.Text {
	case "mm":
		most = 3
	case "in":
		most = 4
	}
	if u.Currency != "" {
		// Prices are rounded to whole cents, but a short one is as written.
		if short, n := shortDecimals(x, 4); short && n <= most || math.Abs(x) < 1 {
			return max(n, placesFor(x, 2), moneyDecimals(u))
		}
		return moneyDecimals(u)
	}
	if short, n := shortDecimals(x, shortDigits); short && n <= most {
		return n
	}
	size := math.Abs(x)
	switch {
	case u.Text == "mm" && size >= 1:
		return 2
	case u.Text == "in" && size >= 0.1:
		return 3
	case u.Dim == Length && (u.Text == "mm" || u.Text == "in"):
		return placesFor(x, 3)
	}
	return placesFor(x, significant)
}

// placesFor is the number of decimals that show so many significant digits;
// digits before the point are never rounded away.
func placesFor(x float64, digits int) int {
	if x == 0 {
		return 0
	}
	return max(0, digits-1-int(math.Floor(math.Log10(math.Abs(x)))))
}

// shortDecimals reports whether x has at most so many significant digits, but
// for the noise of binary fractions, and how many of them are decimals.
func shortDecimals(x float64, digits int) (bool, int) {
	text := strconv.FormatFloat(math.Abs(x), 'e', 10, 64)
	mantissa, power, _ := strings.Cut(text, "e")
	mantissa = strings.TrimRight(strings.Replace(mantissa, ".", "", 1), "0")
	exponent, _ := strconv.Atoi(power) // strconv's own text
	if len(mantissa) > digits {
		return false, 0
	}
	return true, max(0, len(mantissa)-1-exponent)
}

// moneyDecimals is the number of decimals that an amount of money always has.
func moneyDecimals(u Unit) int {
	if u.Currency == "" {
		return 0
	}
	code, err := currency.ParseISO(u.Currency)
	if err != nil {
		return 0
	}
	scale, _ := currency.Standard.Rounding(code)
	return scale
}

// fixed prints x with at most so many decimals, and at least so many; by
// powers of ten where x is very large or small.
func fixed(x float64, most, least int) string {
	size := math.Abs(x)
	if size >= largest || size != 0 && size < smallest && least == 0 {
		return scientific(x)
	}
	return rounded(x, most, least)
}

// rounded prints x with at most so many decimals, and at least so many.
func rounded(x float64, most, least int) string {
	size := math.Abs(x)
	text := strconv.FormatFloat(size, 'f', max(most, least), 64)
	whole, part, _ := strings.Cut(text, ".")
	for len(part) > least && strings.HasSuffix(part, "0") {
		part = part[:len(part)-1]
	}
	text = group(whole)
	if part != "" {
		text += "." + part
	}
	if x < 0 && strings.Trim(text, "0.") != "" {
		return string(minus) + text
	}
	return text
}

func scientific(x float64) string {
	if x == 0 {
		return "0"
	}
	digits := significant
	if short, _ := shortDecimals(x, shortDigits); short {
		digits = shortDigits
	}
	text := strconv.FormatFloat(math.Abs(x), 'e', digits-1, 64)
	mantissa, power, _ := strings.Cut(text, "e")
	if strings.Contains(mantissa, ".") {
		mantissa = strings.TrimRight(strings.TrimRight(mantissa, "0"), ".")
	}
	exponent, _ := strconv.Atoi(power) // strconv's own text
	text = mantissa + "×10" + superscript(exponent)
	if x < 0 {
		return string(minus) + text
	}
	return text
}

// group parts five digits and more in threes. Source: ISO 80000-1, 7.3.1; it
// leaves four digits together.
func group(digits string) string {
	if len(digits) < 5 {
		return digits
	}
	var out strings.Builder
	for i, r := range digits {
		if i > 0 && (len(digits)-i)%3 == 0 {
			out.WriteRune(groupBlank)
		}
		out.WriteRune(r)
	}
	return out.String()
}

// fractionText prints inches that are exact to 1/64 as "3/8" or "1 9/16", and
// whole ones as they are; false for others.
func fractionText(x float64) (string, bool) {
	const finest = 64
	size := math.Abs(x) * finest
	parts := math.Round(size)
	// 1e-6 of 1/64 in is less than half a nanometre: noise, not size.
	if math.Abs(size-parts) > 1e-6 || parts > finest*1000 {
		return "", false
	}
	n, d := int(parts), finest
	whole := n / d
	n %= d
	for n%2 == 0 && d > 1 {
		n, d = n/2, d/2
	}
	sign := ""
	if x < 0 && parts > 0 {
		sign = string(minus)
	}
	switch {
	case n == 0:
		return sign + strconv.Itoa(whole), true
	case whole == 0:
		return sign + strconv.Itoa(n) + "/" + strconv.Itoa(d), true
	}
	return sign + strconv.Itoa(whole) + " " + strconv.Itoa(n) + "/" + strconv.Itoa(d), true
}

// Figures rounds a number to so many significant figures: 13.59 to two is 14.
func Figures(x float64, n int) float64 {
	if x == 0 || math.IsInf(x, 0) || math.IsNaN(x) {
		return x
	}
	step := math.Pow(10, math.Floor(math.Log10(math.Abs(x)))-float64(n-1))
	return math.Round(x/step) * step
}
