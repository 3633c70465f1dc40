// Package scene draws assemblies: put together, with balloons that number what is
// seen, taken apart, and as they stand at each step of the work, what is new in the
// accent colour.
//
// In goes a layout; out come pictures in millimetres on paper, line art as it is
// seen, nothing hidden drawn. Which way things come apart is found, not told: each
// leaves along a straight way on which it meets nothing that is still there.
package scene
