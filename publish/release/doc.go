// Package release writes a publication to a folder in one move.
//
// In go named contents and a folder; the new publication is written in full beside
// it and then takes its place, so that an interrupted run leaves the old one whole.
// A list of every file with its SHA-256 is written with it. What the program did
// not write it never deletes: a folder that holds other people's files and no list
// is refused, and files added to a publication later are carried over.
package release
