// Package reckon works out a plan for one way of building it: what each formula
// comes to, how large and heavy each part is, how many of each the machine holds.
//
// In go a plan.Plan and a Case (an option for each choice, an end for each range
// that a builder may choose from); out come values in SI units, solids in
// millimetres, counts, and findings where the author's formulas or shapes cannot
// be worked out. Values are worked out when asked for, once, so that formulas may
// name each other across values, parts, calculations and roll-ups in any order; a
// circle is found and shown whole.
//
// The package knows nothing of where a part stands (layout) nor whether what it
// worked out is sensible (check).
package reckon
