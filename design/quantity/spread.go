package quantity

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// A Spread is how far a value may lie below and above what is written, as
// written: amounts not below zero, each with its own unit.
type Spread struct{ Minus, Plus Value }

// ScanSpread reads the spread at the start of text: "± 0.1 mm", "+/- 1 %",
// "+0.015/-0 mm", "-0/+0.2 mm". It returns how many characters it takes up, 0
// when there is none: a ± that no number follows is left to the caller, and a
// single + or - is arithmetic.
func ScanSpread(text []rune) (Spread, int, *SyntaxError) {
	s := scanner{text: text}
	spread, _, err := s.spread()
	return spread, s.at, err
}

func (s *scanner) spread() (Spread, bool, *SyntaxError) {
	start := s.at
	switch rest := s.text[s.at:]; {
	case len(rest) >= 1 && rest[0] == '±':
		s.at++
	case len(rest) >= 3 && rest[0] == '+' && rest[1] == '/' && isMinus(rest[2]):
		s.at += 3
	default:
		return s.unequal()
	}
	s.at = skipBlanks(s.text, s.at)
	if s.at >= len(s.text) || !isDigit(s.text[s.at]) && s.text[s.at] != '.' {
		s.at = start
		return Spread{}, false, nil
	}
	amount, err := s.quantity(1)
	if err != nil {
		return Spread{}, false, err
	}
	return Spread{Minus: amount, Plus: amount}, true, nil
}

// unequal reads +0.015/-0 mm and -0/+0.2 mm. No blank may stand between a
// sign and its number nor about the slash, so that no sum is mistaken for it.
func (s *scanner) unequal() (Spread, bool, *SyntaxError) {
	start := s.at
	first, up, ok := s.signedAmount()
	if !ok || s.at >= len(s.text) || s.text[s.at] != '/' {
		s.at = start
		return Spread{}, false, nil
	}
	s.at++
	second, upToo, ok := s.signedAmount()
	if !ok || up == upToo {
		s.at = start
		return Spread{}, false, nil
	}
	spread := Spread{Plus: first, Minus: second}
	if upToo {
		spread = Spread{Plus: second, Minus: first}
	}
	spread.Plus = shareUnit(spread.Plus, spread.Minus)
	spread.Minus = shareUnit(spread.Minus, spread.Plus)
	return spread, true, nil
}

// signedAmount reads a sign with a number and unit right after it.
func (s *scanner) signedAmount() (amount Value, up, ok bool) {
	if s.at+1 >= len(s.text) || !(isMinus(s.text[s.at]) || s.text[s.at] == '+') {
		return Value{}, false, false
	}
	up = s.text[s.at] == '+'
	if next := s.text[s.at+1]; !isDigit(next) && next != '.' {
		return Value{}, false, false
	}
	s.at++
	x, err := s.number(false)
	if err != nil {
		return Value{}, false, false
	}
	unit, err := s.unit()
	if err != nil {
		return Value{}, false, false
	}
	return unit.value(x), up, true
}

// shareUnit returns v with the unit of w when v has none: the 8 of 8 ± 0.1 mm.
func shareUnit(v, w Value) Value {
	if v.Unit != "" || v.Dim != Pure || w.Unit == "" {
		return v
	}
	unit, err := ParseUnit(w.Unit)
	if err != nil {
		return v
	}
	shared := unit.value(v.SI)
	shared.Fit = v.Fit
	return shared
}

// literally puts the spread on a literal: a unit written once serves both. A
// % after the spread alone is a part of the value, as in 0.3 ± 5 %.
func (spread Spread) literally(v Value) (Value, error) {
	if spread.Plus.Unit != "%" {
		v = shareUnit(v, spread.Plus)
	}
	spread.Plus, spread.Minus = shareUnit(spread.Plus, v), shareUnit(spread.Minus, v)
	return v.WithSpread(spread)
}

// bareSpread is the value 0 with a spread.
func bareSpread(spread Spread) (Value, error) {
	unit, err := ParseUnit(spread.Plus.Unit)
	if err != nil {
		return Value{}, err
	}
	v := unit.value(0)
	if unit.Absolute {
		return v, mismatch("a spread without a value cannot be on a temperature scale; write it in K")
	}
	return v.WithSpread(spread)
}

// WithSpread returns v with a spread added to the one it has. An amount in %
// is a part of v, unless v itself is written in %: then it is points. The
// amounts must measure what v measures (ErrMismatch) and not be negative
// (ErrUndefined).
func (v Value) WithSpread(spread Spread) (Value, error) {
	minus, err := v.amount(spread.Minus)
	if err != nil {
		return Value{}, err
	}
	plus, err := v.amount(spread.Plus)
	if err != nil {
		return Value{}, err
	}
	v.Minus += minus
	v.Plus += plus
	return v.checked()
}

// amount returns how far an amount of spread reaches, in SI units.
func (v Value) amount(w Value) (float64, error) {
	amount := w.SI
	if w.Absolute {
		// 20 degC ± 2 degC: the 2 is a difference, whatever its unit says.
		unit, err := ParseUnit(w.Unit)
		if err != nil {
			return 0, err
		}
		amount -= unit.Zero
	}
	if w.Unit == "%" && w.Dim == Pure && v.Unit != "%" {
		if v.Absolute {
			return 0, mismatch("a temperature on a scale has no spread in %%; write it in K")
		}
		if amount < 0 {
			return 0, errNegativeSpread
		}
		return amount * max(v.SI, -v.SI), nil
	}
	if !v.Is(w.Dim) || v.Currency != w.Currency {
		return 0, mismatch("%s has a spread that is %s", v.Dim.Article(), w.Dim.Article())
	}
	if amount < 0 {
		return 0, errNegativeSpread
	}
	return amount, nil
}

// fitLetters and fitPairs are the fundamental deviations of ISO 286-1; I, L, O,
// Q and W are left out there lest they be misread.
const (
	fitLetters = "ABCDEFGHJKMNPRSTUVXYZ"
	fitPairs   = "CD EF FG JS ZA ZB ZC"
)

// ScanFit reads a tolerance class of ISO 286 at the start of text, "H7",
// "js6", "za10". It returns how many characters it takes up, 0 when there is
// none.
func ScanFit(text []rune) (string, int) {
	i := 0
	for i < len(text) && unicode.IsLetter(text[i]) {
		i++
	}
	letters := string(text[:i])
	upper := strings.ToUpper(letters)
	switch {
	case letters != upper && letters != strings.ToLower(letters):
		return "", 0
	case len(letters) == 1 && !strings.Contains(fitLetters, upper):
		return "", 0
	case len(letters) == 2 && !slices.Contains(strings.Fields(fitPairs), upper):
		return "", 0
	case len(letters) != 1 && len(letters) != 2:
		return "", 0
	}
	from := i
	for i < len(text) && isDigit(text[i]) {
		i++
	}
	if !fitGrades[string(text[from:i])] || i < len(text) && (unicode.IsLetter(text[i]) || text[i] == '_') {
		return "", 0
	}
	return string(text[:i]), i
}

// fitGrades are the tolerance grades of ISO 286-1: 01, 0, 1 to 18.
var fitGrades = func() map[string]bool {
	grades := map[string]bool{"01": true, "0": true}
	for g := 1; g <= 18; g++ {
		grades[fmt.Sprint(g)] = true
	}
	return grades
}()
