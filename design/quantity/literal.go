package quantity

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
)

// A SyntaxError says where and why a text is no quantity.
type SyntaxError struct {
	Offset, Length int // in characters of the text
	Message        string
	Remedy         string // may be empty
}

// Error returns the message.
func (e *SyntaxError) Error() string { return e.Message }

// A Literal is a quantity found at the start of a longer text.
type Literal struct {
	Value  Value
	Length int  // characters that the literal takes up
	Signed bool // begins with a sign
	Bare   bool // a spread without a value: "± 0.1 mm"
}

// Parse reads a text that is one literal and nothing else: "412 mm",
// "-3/8 in", "2 ft 6 in", "0.30 ± 0.05", "8 mm +0.015/-0 mm", "12 mm H7",
// "± 0.1 mm". The error is *SyntaxError. A formula is read by package formula.
func Parse(text string) (Value, error) {
	runes := []rune(text)
	start := skipBlanks(runes, 0)
	literal, failed := Scan(runes[start:])
	if failed != nil {
		failed.Offset += start
		return Value{}, failed
	}
	end := skipBlanks(runes, start+literal.Length)
	if end == len(runes) {
		return literal.Value, nil
	}
	failed = &SyntaxError{Offset: end, Length: len(runes) - end,
		Message: fmt.Sprintf("%q follows the quantity %q", clip(runes[end:]), string(runes[start:start+literal.Length]))}
	switch {
	case runes[end] == ',':
		failed.Message = "a comma stands in a number"
		failed.Remedy = "write decimals with a point, and thousands without a mark"
	case isDigit(runes[end]):
		failed.Remedy = "write thousands without a blank"
	}
	return Value{}, failed
}

// Scan reads the literal at the start of text, with its unit, spread and fit,
// and says how long it is. A sign may stand before it. Blanks at the start are
// not skipped. A ± that no number follows is left unread.
func Scan(text []rune) (Literal, *SyntaxError) {
	s := scanner{text: text}
	if spread, found, err := s.spread(); err != nil {
		return Literal{}, err
	} else if found {
		v, err := bareSpread(spread)
		if err != nil {
			return Literal{}, s.fail(0, s.at, err.Error(), "")
		}
		return Literal{Value: v, Length: s.at, Bare: true}, nil
	}
	sign := 1.0
	if s.at < len(text) && (isMinus(text[s.at]) || text[s.at] == '+') {
		if isMinus(text[s.at]) {
			sign = -1
		}
		s.at = skipBlanks(text, s.at+1)
	}
	signed := s.at > 0
	v, err := s.quantity(sign)
	if err != nil {
		return Literal{}, err
	}
	if v, err = s.tail(v); err != nil {
		return Literal{}, err
	}
	return Literal{Value: v, Length: s.at, Signed: signed}, nil
}

// scanner reads literals from text; at is the next character.
type scanner struct {
	text []rune
	at   int
}

func (s *scanner) fail(start, length int, message, remedy string) *SyntaxError {
	return &SyntaxError{Offset: start, Length: length, Message: message, Remedy: remedy}
}

// tail reads spread and fit after a value.
func (s *scanner) tail(v Value) (Value, *SyntaxError) {
	for range 2 { // a fit may stand before or after the spread
		start := s.at
		s.at = skipBlanks(s.text, s.at)
		at := s.at
		if fit, n := ScanFit(s.text[s.at:]); n > 0 && v.Fit == "" {
			if !v.Is(Length) || v.Unit == "" {
				return v, s.fail(at, n, fmt.Sprintf("the fit %s follows %s; a fit belongs to a diameter", fit, v.Dim.Article()), "write a length before it, such as 12 mm "+fit)
			}
			s.at += n
			v.Fit = fit
			continue
		}
		spread, found, err := s.spread()
		if err != nil {
			return v, err
		}
		if !found || v.HasSpread() {
			s.at = start
			return v, nil
		}
		wide, failed := spread.literally(v)
		if failed != nil {
			return v, s.fail(at, s.at-at, failed.Error(), "")
		}
		v = wide
	}
	return v, nil
}

// quantity reads number and unit, and a second pair after feet, pounds, hours.
func (s *scanner) quantity(sign float64) (Value, *SyntaxError) {
	x, err := s.number(true)
	if err != nil {
		return Value{}, err
	}
	unit, err := s.unit()
	if err != nil {
		return Value{}, err
	}
	if partner, found := partners[unit.Text]; found {
		if y, small, found := s.second(partner.small); found {
			total := x*unit.Factor + y*small.Factor
			keep, _ := ParseUnit(partner.keep) // from our own table: always a unit
			v := keep.value(0)
			v.SI = sign * total
			return s.finite(v)
		}
	}
	return s.finite(unit.value(sign * x))
}

func (s *scanner) finite(v Value) (Value, *SyntaxError) {
	if !v.Finite() {
		return v, s.fail(0, s.at, "the number is too large", "")
	}
	if v.belowZero() {
		return v, s.fail(0, s.at, "the temperature lies below absolute zero", "")
	}
	return v, nil
}

// partners are the units that a smaller one may follow, and the one that the
// sum is remembered in.
var partners = map[string]struct{ small, keep string }{
	"ft": {"in", "in"}, "lb": {"oz", "lb"}, "h": {"min", "h"}, "min": {"s", "min"}, "deg": {"'", "deg"}, "°": {"'", "°"},
}

// second reads the smaller part of "2 ft 6 in"; nothing when there is none.
func (s *scanner) second(unit string) (float64, Unit, bool) {
	start := s.at
	s.at = skipBlanks(s.text, s.at)
	if s.at > start && s.at < len(s.text) && isDigit(s.text[s.at]) {
		x, err := s.number(true)
		if err == nil {
			if found, err := s.unit(); err == nil && found.Text == unit {
				return x, found, true
			}
		}
	}
	s.at = start
	return 0, Unit{}, false
}

// number reads 12, 0.5, .5, 1e-3, 1.2×10⁻⁵, 12 000 with narrow blanks, and,
// when a unit follows, the fractions 3/8 and 1 9/16.
func (s *scanner) number(fractions bool) (float64, *SyntaxError) {
	start := s.at
	whole := s.digits()
	if fractions && whole != "" {
		if x, found, err := s.fraction(start, whole); err != nil || found {
			return x, err
		}
	}
	digits := whole
	if s.at < len(s.text) && s.text[s.at] == '.' && (s.at+1 < len(s.text) && isDigit(s.text[s.at+1]) || whole != "" && !s.nameAfterPoint()) {
		s.at++
		digits += "." + s.digits()
	}
	if digits == "" {
		if start >= len(s.text) {
			return 0, s.fail(start, 0, "a number is missing", "")
		}
		return 0, s.fail(start, 1, fmt.Sprintf("%q is no number", clip(s.text[start:])), "")
	}
	digits += s.exponent()
	x, err := strconv.ParseFloat(digits, 64)
	if err != nil || math.IsInf(x, 0) {
		return 0, s.fail(start, s.at-start, "the number is too large", "")
	}
	return x, nil
}

// nameAfterPoint tells the end of a sentence or a name from a decimal point.
func (s *scanner) nameAfterPoint() bool {
	return s.at+1 < len(s.text) && (unicode.IsLetter(s.text[s.at+1]) || s.text[s.at+1] == '.')
}

// digits reads a run of digits, grouped by narrow blanks or not.
func (s *scanner) digits() string {
	var out strings.Builder
	for s.at < len(s.text) {
		r := s.text[s.at]
		if (r == groupBlank || r == '\u2009') && out.Len() > 0 && s.three(s.at+1) {
			s.at++
			continue
		}
		if !isDigit(r) {
			break
		}
		out.WriteRune(r)
		s.at++
	}
	return out.String()
}

// three reports whether exactly three digits stand at i.
func (s *scanner) three(i int) bool {
	for k := range 3 {
		if i+k >= len(s.text) || !isDigit(s.text[i+k]) {
			return false
		}
	}
	return i+3 >= len(s.text) || !isDigit(s.text[i+3])
}

// exponent reads e-3 or ×10⁻³ as "e-3"; empty when there is none.
func (s *scanner) exponent() string {
	i := s.at
	if i < len(s.text) && (s.text[i] == 'e' || s.text[i] == 'E') {
		i++
		sign := ""
		if i < len(s.text) && (isMinus(s.text[i]) || s.text[i] == '+') {
			if isMinus(s.text[i]) {
				sign = "-"
			}
			i++
		}
		from := i
		for i < len(s.text) && isDigit(s.text[i]) {
			i++
		}
		if i == from {
			return ""
		}
		s.at = i
		return "e" + sign + string(s.text[from:i])
	}
	if i+2 < len(s.text) && string(s.text[i:i+3]) == "×10" {
		i += 3
		out := "e"
		if i < len(s.text) && s.text[i] == '⁻' {
			out += "-"
			i++
		}
		from := i
		for i < len(s.text) && superscriptDigit(s.text[i]) >= 0 {
			out += strconv.Itoa(superscriptDigit(s.text[i]))
			i++
		}
		if i > from {
			s.at = i
			return out
		}
	}
	return ""
}

// fraction reads the rest of 3/8 or 1 9/16, when a unit follows; otherwise
// the slash divides and is left to the formula.
func (s *scanner) fraction(start int, whole string) (float64, bool, *SyntaxError) {
	after := s.at
	base, above := 0.0, whole
	if next := skipBlanks(s.text, s.at); next > s.at && next < len(s.text) && isDigit(s.text[next]) {
		s.at = next
		base, _ = strconv.ParseFloat(whole, 64) // digits only: at worst infinite, refused later
		above = s.digits()
	}
	if s.at+1 < len(s.text) && s.text[s.at] == '/' && isDigit(s.text[s.at+1]) {
		s.at++
		below := s.digits()
		if s.unitFollows() {
			n, _ := strconv.ParseFloat(above, 64)
			d, _ := strconv.ParseFloat(below, 64)
			if d == 0 {
				return 0, true, s.fail(start, s.at-start, "a fraction has the denominator 0", "")
			}
			return base + n/d, true, nil
		}
	}
	s.at = after
	return 0, false, nil
}

// unitFollows reports whether a unit stands after the number just read.
func (s *scanner) unitFollows() bool {
	at := skipBlanks(s.text, s.at)
	if at >= len(s.text) || !isUnitRune(s.text[at]) {
		return false
	}
	word := unitWord(s.text[at:])
	return !isKeyword(word) && !s.fitAt(at)
}

// fitAt reports whether a fit stands at at. What could as well be a unit with
// its power written flat, the m2 of 3 m2, is taken for that mistake.
func (s *scanner) fitAt(at int) bool {
	fit, n := ScanFit(s.text[at:])
	return n > 0 && nearestUnit(fit) == ""
}

// unit reads the unit after a number: after any blanks, up to the next one.
func (s *scanner) unit() (Unit, *SyntaxError) {
	at := skipBlanks(s.text, s.at)
	inverse := at+2 < len(s.text) && s.text[at] == '1' && s.text[at+1] == '/' && isUnitRune(s.text[at+2]) && at > s.at
	if !inverse && !s.unitFollows() {
		return Unit{Factor: 1}, nil
	}
	end := unitEnd(s.text, at)
	text := string(s.text[at:end])
	unit, err := ParseUnit(text)
	if err != nil {
		remedy := ""
		var unknown *UnknownUnitError
		if errors.As(err, &unknown) {
			remedy = unknown.Remedy()
			if unknown.Part != "" && unknown.Part != text {
				remedy = strings.TrimPrefix(remedy+", or leave blanks around * and / between a value and a name", ", or ")
			}
		}
		return Unit{}, s.fail(at, end-at, err.Error(), remedy)
	}
	s.at = end
	return unit, nil
}

// unitEnd returns where the unit that starts at i ends: at the first
// character that can belong to none. An operator belongs to the unit only
// when another symbol follows it at once; a bracket only when what it holds
// is all units.
func unitEnd(text []rune, i int) int {
	if text[i] == '1' {
		i += 2
	}
	for {
		if text[i] == '(' {
			for text[i] != ')' {
				i++
			}
			i++
		} else {
			for i < len(text) && (isUnitRune(text[i]) || isDigit(text[i])) {
				i++
			}
		}
		i = powerEnd(text, i)
		if i+1 >= len(text) || !strings.ContainsRune("*/·⋅", text[i]) {
			return i
		}
		if !isUnitRune(text[i+1]) && !unitGroup(text[i+1:]) {
			return i
		}
		i++
	}
}

// powerEnd passes over ^2, ^-2 and superscripts.
func powerEnd(text []rune, i int) int {
	if i+1 < len(text) && text[i] == '^' {
		j := i + 1
		if isMinus(text[j]) {
			j++
		}
		if j < len(text) && isDigit(text[j]) {
			return j + 1
		}
		return i
	}
	for i < len(text) && (text[i] == '⁻' || superscriptDigit(text[i]) >= 0) {
		i++
	}
	return i
}

// unitGroup reports whether text starts with a bracket full of units.
func unitGroup(text []rune) bool {
	if len(text) == 0 || text[0] != '(' {
		return false
	}
	for i, r := range text {
		if i >= maxUnit {
			return false
		}
		if r == ')' {
			_, err := ParseUnit(string(text[1:i]))
			return i > 1 && err == nil
		}
	}
	return false
}

// unitWord is the run of symbol characters at the start of text.
func unitWord(text []rune) string {
	i := 0
	for i < len(text) && isUnitRune(text[i]) {
		i++
	}
	return string(text[:i])
}

func isKeyword(word string) bool { return word == "and" || word == "or" || word == "not" }

func skipBlanks(text []rune, i int) int {
	for i < len(text) && isBlank(text[i]) {
		i++
	}
	return i
}

// clip shortens text for a message.
func clip(text []rune) string {
	const most = 24
	if len(text) > most {
		return string(text[:most]) + "…"
	}
	return string(text)
}
