// Package sequence works out the order of work: which step comes before which, what
// is there when, whether every screw can be put in and turned and every part still has
// a way in at the moment its step comes, what each step takes, and which tools the
// work calls for.
//
// In go a reckoning and its layout; out come a [Graph] of the steps, a [Record] of
// the work at each assembly's bench with its obstructions, a [Card] for each step and
// the list of [Tool]s. Lengths are millimetres, angles radians, masses kilograms.
//
// Each assembly's work rests on a bench, on the face that its step says; what only the
// bench keeps from going is told with the faces on which it would go.
//
// What blocks a tool is found on the tool's envelope: stems and heads are cylinders
// about the screw's axis, handles are bars that swing about it. Both are compared with
// the triangles that stand for what is there, in the screw's own round coordinates:
// which angles about the axis are taken follows without trial. A belt stands in the way
// like any part; cables, hoses and wires are pushed aside and stand in nothing's way: a
// screw that sits in one is found by package clash. The package never
// reads files and decides nothing about joints.
package sequence
