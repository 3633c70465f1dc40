// Package graph draws a quantity against another: the curve, the point that the
// machine is at, the limits that it must keep, on axes with units.
//
// In goes a Request whose numbers are in the units of its axes; out comes a picture.
// Limits are told from the curve by their line and by strokes on the side that is
// forbidden, not by colour alone; where the curve has no value it is left open.
package graph
