// Package ready holds the calculations that a plan calls by the name the trade knows
// them by: power_screw, column, bolt_joint. Each has its inputs with unit and meaning,
// its formulas in the plan's own language, what it takes for granted, within what it
// is valid, and the book or standard that it comes from.
//
// They stand in calcs/*.yaml, one file a subject, embedded and read at first use:
//
//	c, found := ready.Named("power_screw")
//	made := c.Plan(at) // a plan.Calc whose givens are the inputs with a default
//
// A fault in an embedded file is one of the program, not of a plan; the package's
// tests look for it, so that no run meets it. Texts are English; [Calc.In] gives them
// in another of the publication's languages.
package ready
