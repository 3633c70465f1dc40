// Package picture holds the one vector picture: what a drawing, a cut plan or a
// step's view looks like, in millimetres on paper, before any file format.
//
// The same Picture is written as SVG, into the PDF and later as DXF, so the
// three cannot disagree. y grows downward from the top-left corner. The package
// knows nothing of plans, parts or solids.
package picture
