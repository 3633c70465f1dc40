// Package view draws solids as an eye far away sees them: visible and hidden
// lines in the plane of the view.
//
// In goes a list of [Body] values (solids with their places) and a [Direction];
// out comes a [Drawing]: curves in millimetres at 1:1 on the paper, x to the
// right and y downward, the world's origin at the paper's origin, so that views
// of one machine line up with each other. Circles stay circles or become
// ellipses with exact parameters. Only curves in which two round surfaces meet
// become chains of chords, within [Options].Chord.
//
// Hidden lines are found exactly. Whether a line is seen can only change where
// it passes behind an outline of something nearer (an edge between a face that
// looks at the eye and one that does not, or the silhouette of a cylinder or
// cone), where a round face beside it turns away, or where it runs through a
// face of another body. All those places are worked out in closed form (roots
// of polynomials up to degree four; only curves of two round surfaces need
// closing in on), and each stretch in between is judged once, by the faces that
// a ray from its middle to the eye meets.
//
// Bodies that run into each other (a screw at its major diameter in the hole
// drilled for its thread, a press fit, a clash) look as if made one: the curve in
// which their faces meet is drawn as an edge, and each hides what of the other lies
// within it. Faces that coincide show their own edges.
//
// [Break] draws a long bar broken; [Plain] tells where that loses nothing. [Detail]
// is what lies within a circle, to be drawn larger.
//
// [Section] takes away what lies before one or more planes first, and also gives
// the regions of material that the planes run through.
//
// The work is spread over the processors; what comes out, and its order, does
// not depend on how many there are. The package reads no files, never alters a
// solid and does not panic on bodies that touch or run into each other.
package view
