// Package binder turns the document of package page into one PDF to print and
// clip in: cover, safety, contents with page numbers, then the document's pages
// in order, with every drawing on a leaf of its own size.
//
// A binder is for one combination of choices: what belongs to another is left
// out. Lengths are millimetres from a leaf's top-left corner, y growing
// downward; type sizes are points.
//
// The work runs in three passes. Layout breaks blocks into lines, rows and
// figures, and those into leaves, each a list of marks with known places; total
// and contents numbers are settled there. Painting writes the marks through
// gofpdf, one by one, with every string, number and image made safe first.
// Finishing adds what gofpdf gets wrong or lacks: bookmarks, page labels,
// metadata, viewer preferences, language, identity and embedded files.
//
// The package computes nothing about the machine, opens no file, reads no clock
// and keeps no state: the same document and options give the same bytes.
package binder
