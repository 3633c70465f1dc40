// Package record brings the records of a plan up to date: the results of calculations
// with what they were made from, and the screws that fits chose.
//
//	edits, refused, err := record.Edits(work, read, nil) // what would change, nothing written
//	err = record.Write(root, edits[0])
//
// Only the records change; the rest of a file keeps its bytes (see package rewrite). A
// file is written beside the old one and moved into its place; nothing is written outside
// of the plan's directory, nor through a symbolic link, nor over a file that somebody has
// changed since it was read.
package record
