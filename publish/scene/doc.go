// Package scene draws assemblies: put together, and as they stand at each step of
// the work, what is new in the accent colour.
//
// In goes a layout; out come pictures in millimetres on paper, line art as it is
// seen, nothing hidden drawn.
package scene
