// Package picture holds the one vector picture: what a drawing, a cut plan or a
// step's view looks like, in millimetres on paper, before any file format.
//
// The same Picture is written as SVG, into the PDF and later as DXF, so the
// three cannot disagree. y grows downward from the top-left corner. The package
// knows nothing of plans, parts or solids.
//
// A picture is a list of marks: Path (straight lines, exact arcs, Béziers),
// Text, Group and Clip. A path is stroked by its line type (visible, hidden,
// centre ...), whose widths come from one ISO 128 line group, and coloured by
// meaning (Ink, Accent, Danger ...), never by number, so that a page's theme
// decides. Text is measured with the fonts that it is printed in.
//
//	plate := &picture.Picture{Name: "plate", Title: "Plate", Width: 60, Height: 40}
//	plate.Add(
//		picture.Path{Curves: picture.Rectangle(picture.Point{X: 10, Y: 10}, 40, 20), Line: picture.Visible},
//		picture.Text{At: picture.Point{X: 30, Y: 36}, Words: "4× ⌀5.5", Height: 2.5, Anchor: picture.Middle},
//	)
//	svg, err := picture.SVG(plate)
package picture
