package quantity

import "math"

// Arithmetic carries spreads by interval: the result spans every result that
// values within the operands' spreads can give, the operands counting as
// independent. A value that meets itself (x - x) therefore spreads too far;
// package formula cures that by varying each input once.

// Add returns v + w. A difference may be added to a temperature on a scale;
// two of the latter may not. Dimensions or currencies that differ are
// ErrMismatch.
func (v Value) Add(w Value) (Value, error) {
	if err := v.Agree(w); err != nil {
		return Value{}, err
	}
	if v.Absolute && w.Absolute {
		return Value{}, mismatch("two temperatures on a scale cannot be added; one must be a difference in K")
	}
	sum := v.joined(w)
	sum.SI = v.SI + w.SI
	sum.Minus, sum.Plus = v.Minus+w.Minus, v.Plus+w.Plus
	if w.Absolute {
		sum.Absolute, sum.Unit = true, w.Unit
	}
	return sum.checked()
}

// Sub returns v - w. The difference of two temperatures on a scale is a
// difference in K. Dimensions or currencies that differ are ErrMismatch.
func (v Value) Sub(w Value) (Value, error) {
	if err := v.Agree(w); err != nil {
		return Value{}, err
	}
	if w.Absolute && !v.Absolute {
		return Value{}, mismatch("a temperature on a scale cannot be taken from a difference")
	}
	difference := v.joined(w)
	difference.SI = v.SI - w.SI
	difference.Minus, difference.Plus = v.Minus+w.Plus, v.Plus+w.Minus
	if v.Absolute && w.Absolute {
		difference.Absolute, difference.Unit = false, "K"
	}
	return difference.checked()
}

// Neg returns -v; a temperature on a scale has no negative.
func (v Value) Neg() (Value, error) {
	if v.Absolute {
		if err := v.relative("negated"); err != nil {
			return Value{}, err
		}
	}
	v.SI, v.Minus, v.Plus, v.Fit = -v.SI, v.Plus, v.Minus, ""
	return v, nil
}

// Mul returns v · w. The error is ErrMismatch for temperatures on a scale,
// ErrUndefined when the product is no finite number.
func (v Value) Mul(w Value) (Value, error) {
	product, err := v.product(w, Dimension.Mul, "multiplied")
	if err != nil {
		return Value{}, err
	}
	product.SI = v.SI * w.SI
	product.span(v.Low()*w.Low(), v.Low()*w.High(), v.High()*w.Low(), v.High()*w.High())
	return product.checked()
}

// Div returns v / w. It is ErrUndefined to divide by zero, or by a value
// whose spread reaches zero.
func (v Value) Div(w Value) (Value, error) {
	quotient, err := v.product(w, Dimension.Div, "divided")
	if err != nil {
		return Value{}, err
	}
	if w.SI == 0 {
		return Value{}, undefined("division by zero")
	}
	if w.Low() <= 0 && w.High() >= 0 {
		return Value{}, undefined("the spread of the divisor reaches zero")
	}
	quotient.SI = v.SI / w.SI
	quotient.span(v.Low()/w.Low(), v.Low()/w.High(), v.High()/w.Low(), v.High()/w.High())
	return quotient.checked()
}

// Pow returns v to the power w, a plain number. Where v has a dimension w may
// carry no spread, for the dimension would spread with it.
func (v Value) Pow(w Value) (Value, error) {
	if err := v.relative("raised to a power"); err != nil {
		return Value{}, err
	}
	if !w.Is(Pure) {
		return Value{}, mismatch("an exponent must be a plain number, not %s", w.Dim.Article())
	}
	if w.HasSpread() && !v.Is(Pure) {
		return Value{}, mismatch("%s cannot be raised to an exponent with a spread", v.Dim.Article())
	}
	if v.Currency != "" && w.SI != 1 {
		return Value{}, mismatch("money cannot be raised to a power")
	}
	d, err := v.Dim.Pow(w.SI)
	if err != nil {
		return Value{}, err
	}
	if v.Low() <= 0 && v.High() >= 0 && w.Low() < 0 {
		return Value{}, undefined("zero to a negative power divides by zero")
	}
	power := Value{SI: math.Pow(v.SI, w.SI), Dim: d, Currency: v.Currency}
	ends := []float64{
		math.Pow(v.Low(), w.Low()), math.Pow(v.Low(), w.High()),
		math.Pow(v.High(), w.Low()), math.Pow(v.High(), w.High()),
	}
	if v.Low() < 0 && v.High() > 0 {
		ends = append(ends, math.Pow(0, w.SI)) // an even power turns round at zero
	}
	power.span(ends...)
	return power.checked()
}

// Sqrt returns the square root of v; ErrUndefined when v, or the lower end of
// its spread, is negative.
func (v Value) Sqrt() (Value, error) {
	if v.SI < 0 {
		return Value{}, undefined("square root of a negative value")
	}
	if v.Low() < 0 {
		return Value{}, undefined("square root of a value whose spread goes below zero")
	}
	return v.Pow(Number(0.5))
}

// Compare returns -1, 0 or 1 as v is less than, equal to or greater than w,
// spreads left aside. Values closer than a part in 10¹² count as equal, so
// that 1 in equals 25.4 mm in spite of binary fractions.
func (v Value) Compare(w Value) (int, error) {
	if err := v.Agree(w); err != nil {
		return 0, err
	}
	if v.Absolute != w.Absolute {
		return 0, mismatch("a temperature on a scale cannot be compared with a difference")
	}
	gap := v.SI - w.SI
	if math.IsNaN(gap) {
		return 0, undefined("comparison of what is not a number")
	}
	const alike = 1e-12 // relative: a few thousand roundings of a float64
	switch {
	case math.Abs(gap) <= alike*math.Max(math.Abs(v.SI), math.Abs(w.SI)):
		return 0, nil
	case gap < 0:
		return -1, nil
	}
	return 1, nil
}

// Agree returns nil when v and w may be added or compared as far as dimension
// and currency go, otherwise an error that wraps ErrMismatch and names both.
func (v Value) Agree(w Value) error {
	if !v.Dim.Same(w.Dim) {
		return mismatch("%s does not go with %s", v.Dim.Article(), w.Dim.Article())
	}
	if v.Currency != w.Currency {
		return mismatch("%s does not go with %s without a rate", nameCurrency(v.Currency), nameCurrency(w.Currency))
	}
	return nil
}

// joined is what a sum keeps of its terms besides the number.
func (v Value) joined(w Value) Value {
	out := Value{Dim: v.Dim, Unit: v.Unit, Absolute: v.Absolute, Currency: v.Currency}
	if w.Dim.exponents[baseAngle] != 0 && v.Dim.exponents[baseAngle] == 0 {
		out.Dim, out.Unit = w.Dim, w.Unit
	}
	switch {
	case out.Dim == Pure && v.Unit != w.Unit:
		out.Unit = "" // 1 + 10 % is 1.1
	case out.Unit == "":
		out.Unit = w.Unit
	}
	return out
}

// product is what a product or quotient keeps of its operands besides the
// number. A factor without a dimension leaves the other's unit standing.
func (v Value) product(w Value, combine func(Dimension, Dimension) (Dimension, error), verb string) (Value, error) {
	for _, operand := range []Value{v, w} {
		if err := operand.relative(verb); err != nil {
			return Value{}, err
		}
	}
	d, err := combine(v.Dim, w.Dim)
	if err != nil {
		return Value{}, err
	}
	out := Value{Dim: d}
	switch {
	case w.Dim == Pure:
		out.Unit = v.Unit
	case v.Dim == Pure && d == w.Dim:
		out.Unit = w.Unit
	}
	if v.Currency != "" && w.Currency != "" && v.Currency != w.Currency {
		return Value{}, mismatch("%s and %s cannot be %s without a rate", v.Currency, w.Currency, verb)
	}
	if d.exponents[baseMoney] != 0 {
		out.Currency = v.Currency
		if out.Currency == "" {
			out.Currency = w.Currency
		}
	}
	return out, nil
}

// relative refuses temperatures on a scale, whose zero is a convention.
func (v Value) relative(verb string) error {
	if !v.Absolute {
		return nil
	}
	return mismatch("a temperature on a scale cannot be %s; take a difference first, such as t - 20 degC", verb)
}

// span sets the spread so that it reaches the ends.
func (v *Value) span(ends ...float64) {
	v.Minus, v.Plus = 0, 0
	for _, end := range ends {
		v.Minus = math.Max(v.Minus, v.SI-end)
		v.Plus = math.Max(v.Plus, end-v.SI)
	}
}

// checked refuses results that no number expresses.
func (v Value) checked() (Value, error) {
	if math.IsNaN(v.SI) {
		return Value{}, undefined("the result is not a number")
	}
	if !v.Finite() {
		return Value{}, undefined("the result is too large")
	}
	if v.belowZero() {
		return Value{}, undefined("the temperature lies below absolute zero")
	}
	return v, nil
}

// belowZero reports a temperature that cannot be; the allowance of a microkelvin
// is for rounding at absolute zero itself.
func (v Value) belowZero() bool { return v.Absolute && v.SI < -1e-6 }

func nameCurrency(code string) string {
	if code == "" {
		return "a value without currency"
	}
	return code
}
