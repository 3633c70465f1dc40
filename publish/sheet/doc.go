// Package sheet makes a finished drawing sheet of a part: views placed by first-
// or third-angle projection, dimensions, callouts, frame, title block.
//
// In goes a [Request]: a solid with named features and the words of the title
// block. Out comes a [Result]: a picture in millimetres on paper at a standard
// scale, the dimensions that it holds as plain values, and what the request
// asked for that could not be done. [Audit] says which features the dimensions
// leave without place or size, and which they fix twice.
//
// Every dimension is computed from the solid. The dimensions of each axis form a
// tree over the levels of that axis (the places where faces and hole centres
// lie), so that each level follows from the datum, the part's origin, in one way
// and no other; the scheme only ever adds a dimension that joins two pieces of
// that tree.
//
// Views are chosen by what they show: none without which nothing would go unseen.
// Inner forms are cut open (full, half and stepped sections), long parts broken
// where nothing changes, and what would be too small to read is shown in a detail.
//
// Nothing is drawn over words: each text takes a place on a board that knows all
// lines and texts, and where none is free the sheet is tried at a smaller scale
// or on larger paper.
//
// Standards: ISO 128 (lines, views), ISO 129-1 (dimensions), ISO 5455 (scales),
// ISO 5456-2 (projection), ISO 5457 (sheets), ISO 7200 (title block), ISO 3098
// (lettering), ISO 6410 (threads). The package reads no files and knows no plan.
package sheet
