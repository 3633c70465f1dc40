// Package source reads a plan directory into a plan.Plan and says what is wrong
// with its text: unknown and doubled keys, missing and mistaken values, names
// that nothing answers to, files that cannot be used.
//
// It is the only code that touches the plan's files. It takes a file system
// (from Open, which confines reading to one directory) and gives the model and
// findings; a Go error comes back only where reading itself fails. One fault
// hides no other: what cannot be read is left out and reading goes on.
//
// The format of every file is described once, by the forms of the format_*.go
// files. A form both reads its piece of YAML into the model and describes it to
// Schema, so that an editor's completion cannot disagree with the reader.
//
// To add a key: give the model a field (package plan), and the form of its map a line
// that names the key, the form of its value, the field and a description. Reader,
// schema and their tests follow. A name of another thing is read by ref, with the
// target that says how it is looked up.
//
// Nothing is worked out here. The names inside formulas are left to the packages
// that evaluate them.
package source
