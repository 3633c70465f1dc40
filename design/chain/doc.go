// Package chain works out tolerance chains: how far a gap between two features of the
// placed machine may lie off, since no size of the parts between them is exact.
//
// In go a reckoning, its layout and its joints, and a calculation of the plan that is
// a chain; out comes, in millimetres, the chain link by link as it is measured on the
// placed parts, each size with its tolerance and where that stands, the gap at its
// worst (all sizes at their worst limits at once) and statistically (root of the sum
// of squares), the contributors ranked by what they do to both, and what the chain's
// requirements come to. What keeps a chain from closing is a fault with its place.
//
// A chain is one-dimensional, as on paper: it runs along one direction from face to
// face, and across it from axis to axis. Forms, angles and flatness count where the
// plan adds them to the chain by hand. The package places nothing and draws nothing.
//
// # Where a tolerance comes from
//
// The size between two features of a part is taken from what the drawing dimensions:
// the shortest way through dimensions that the plan's drawing of the part gives, and
// through sizes that stand with a spread of their own in the plan (a part's length, a
// stock's thickness, a hole's place). Where no such way exists it counts as one
// dimension of its own, with the plan's general tolerance (ISO 2768-1). Diameters have
// their spread, their fit (ISO 286), the drawing's, or the general tolerance.
//
// # Play
//
// Where a screw goes through clearance holes, or a shaft stands in a hole, one part may
// stand off the other by half of what the hole is wider, to either side. That is the
// assembly shift of B. R. Fischer, Mechanical Tolerance Stackup and Analysis: a size of
// its own, nominally nothing, taken at the largest hole and the smallest shaft. A chain
// that says that its parts stand centred has none.
//
// # Statistics
//
// Sizes count as independent and normal, their limits at three standard deviations
// about the middle of their tolerance, and so does the gap. (P. Drake, Dimensioning and
// Tolerancing Handbook, chapter 9: the root sum of squares model.)
package chain
