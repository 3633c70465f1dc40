// Package sign draws safety signs: the shape and colours of ISO 3864-1 with
// symbols for the meanings registered in ISO 7010, drawn for this project.
//
// A sign is a picture, so the site and the binder show the same one. The symbols
// are SVG files in themes/signs, of which a small part of SVG is read: path (M L
// H V C A Z, absolute), circle and rect; filled, or stroked 5 or 2.5 wide; black
// for the symbol, white for the ground it stands on.
package sign
