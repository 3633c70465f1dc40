package quantity

import (
	"strconv"
	"strings"
	"unicode"
)

// minus is the sign that printing uses: U+2212 is as wide as a plus and never
// breaks a line, as a hyphen may. Reading takes both.
const minus = '−'

// groupBlank parts thousands: a narrow blank that does not break a line.
const groupBlank = '\u202f'

const superscripts = "⁰¹²³⁴⁵⁶⁷⁸⁹"

var superscriptRunes = []rune(superscripts)

// superscript writes a whole number in raised digits.
func superscript(n int) string {
	var out strings.Builder
	for _, r := range strconv.Itoa(n) {
		if r == '-' {
			out.WriteRune('⁻')
			continue
		}
		out.WriteRune(superscriptRunes[r-'0'])
	}
	return out.String()
}

// superscriptDigit returns the digit that r raises, -1 when it is none.
func superscriptDigit(r rune) int {
	for digit, raised := range superscriptRunes {
		if r == raised {
			return digit
		}
	}
	return -1
}

// isUnitRune reports whether r may stand in a unit's symbol. Underscores and
// digits belong to names, so 2 m_x is seen as the mistake it is.
func isUnitRune(r rune) bool {
	switch r {
	case '%', '°', '\'', '′', '"', '″', '_', '€', '$', '£', 'µ':
		return true
	}
	return unicode.IsLetter(r)
}

func isDigit(r rune) bool { return r >= '0' && r <= '9' }

func isMinus(r rune) bool { return r == '-' || r == minus }

// isBlank holds for what parts words; the narrow blank that groups digits is
// none when a digit follows it, which the number reader sees to.
func isBlank(r rune) bool { return unicode.IsSpace(r) || r == groupBlank }

// replaceMoney puts a currency in the place of the general sign for money.
func replaceMoney(units, code string) string { return strings.ReplaceAll(units, "¤", code) }
