package quantity

import "math"

// A Value is a number with its dimension. The zero Value is the plain number 0.
type Value struct {
	SI  float64   // in SI base units, angles in radians, money in its own currency
	Dim Dimension // what the number measures

	// Minus and Plus say how far the true value may lie below and above SI,
	// in SI units, neither negative.
	Minus, Plus float64

	Unit     string // as written, preferred for printing; may be empty
	Absolute bool   // a point on a temperature scale, not a difference
	Currency string // ISO 4217 code where money is part of Dim
	Fit      string // a tolerance class of ISO 286 after a diameter: "H7"
}

// Number returns a plain number.
func Number(x float64) Value { return Value{SI: x} }

// MM returns a length of x millimetres.
func MM(x float64) Value { return Value{SI: x / 1000, Dim: Length, Unit: "mm"} }

// New returns x of a unit, as Parse would read it ("kN", "N*m", "degC"). It
// is an *UnknownUnitError when nobody knows the unit.
func New(x float64, unit string) (Value, error) {
	u, err := ParseUnit(unit)
	if err != nil {
		return Value{}, err
	}
	return u.value(x), nil
}

// In returns the number that v is in a unit. A temperature converts on its
// scale: 40 degC is 313.15 in K and 104 in degF. The error is ErrMismatch or
// *UnknownUnitError.
func (v Value) In(unit string) (float64, error) {
	u, err := ParseUnit(unit)
	if err != nil {
		return 0, err
	}
	if !u.Dim.Same(v.Dim) {
		return 0, mismatch("%s cannot be given in %s, which measures %s", v.Dim.Article(), unit, u.Dim)
	}
	if u.Currency != v.Currency {
		return 0, mismatch("%s cannot be given in %s without a rate", nameCurrency(v.Currency), unit)
	}
	return u.number(v), nil
}

// Millimetres returns a length in millimetres; false when v is no length.
func (v Value) Millimetres() (float64, bool) {
	if !v.Is(Length) {
		return 0, false
	}
	return v.SI * 1000, true
}

// Is reports whether v measures d. Angle is passed over, so a plain number Is
// an angle and an angle Is a plain number.
func (v Value) Is(d Dimension) bool { return v.Dim.Same(d) }

// Low returns the lowest value that the spread allows, in SI units.
func (v Value) Low() float64 { return v.SI - v.Minus }

// High returns the highest value that the spread allows, in SI units.
func (v Value) High() float64 { return v.SI + v.Plus }

// HasSpread reports whether v carries a spread.
func (v Value) HasSpread() bool { return v.Minus != 0 || v.Plus != 0 }

// Nominal returns v without its spread.
func (v Value) Nominal() Value {
	v.Minus, v.Plus = 0, 0
	return v
}

// Finite reports whether value and spread are numbers that can be printed.
func (v Value) Finite() bool {
	return !math.IsNaN(v.SI-v.SI) && !math.IsNaN(v.Minus-v.Minus) && !math.IsNaN(v.Plus-v.Plus)
}
