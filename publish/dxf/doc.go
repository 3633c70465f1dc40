// Package dxf writes drawings for CAD programs and contours for machines that cut
// sheet, as DXF: the AC1015 text form (the DXF reference of release 2000), which
// every later reader takes.
//
// Picture writes a whole drawing: millimetres on paper, y up, the sheet's
// bottom-left corner at the origin, on layers named for what lines mean. Cutting
// writes the contours that cut one sheet part out of its sheet: millimetres at
// true size, and nothing else.
//
// Lines, circles, arcs and ellipses are exact, Béziers are splines of the same
// control points. The same picture or solid gives the same bytes: no clock, no
// names of users. The package writes no files and knows nothing of plans.
package dxf
