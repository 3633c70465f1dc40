// Package quantity holds values with a dimension, a unit and a spread: it
// reads them from text, calculates with them, and prints them in metric and
// inch units.
//
// In goes text such as "412 mm", "1 9/16 in", "0.30 ± 0.05" or
// "8 mm +0.015/-0 mm"; out come Values, always held in SI base units (metre,
// kilogram, second, ampere, kelvin, radian, and the currency as written), and
// texts with sensible digits.
//
//	bore, err := quantity.Parse("12 mm H7")
//	bore.SI                              // 0.012
//	quantity.Text(bore, quantity.Inch)   // "0.472 in"
//	first, second := quantity.Both(bore, quantity.Metric) // "12 mm H7", "0.472 in"
//
// The package never panics on bad input, never rounds a value it holds, and
// knows no names: formulas are the business of package formula.
//
// Conversion factors are those of NIST Special Publication 811 (2008), or
// follow from exact definitions given there.
package quantity
