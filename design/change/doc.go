// Package change compares two revisions of a plan by what they mean.
//
// In go two plans worked out and checked (package check) with their findings; out
// comes a Comparison: what was added, removed, renamed, replaced and changed, each with
// the old and the new value, what follows from it in counts, cost, mass, cut plans,
// tools and margins, which findings are new and which are gone, and what deserves a
// look first. Halfway tells a builder who is in the middle of the old revision what
// to undo, buy, cut, drill and do again; Halfways answers that for whatever step was done
// last and whatever was chosen.
//
// Meaning counts, not text. A value that comes to the same in every case is the same
// however it is written; the order of parts in a file, which file of parts they
// stand in, blanks and line ends are nothing. The order of steps is meaning, and so are
// formulas of calculations and of motions. What was renamed is known by its shape and its use, and
// whatever names it is read with the new name before it is compared.
//
// Each value is compared in the plan's own case and in those that depart from it in
// one choice or in one end of one range; what only two choices together bring about is
// left to the comparison of findings, counts and costs.
//
// Comparing a plan with itself gives nothing, and comparing the other way round gives
// the mirror image (Comparison.Mirror). The package reads no files and writes none.
package change
