// Package themes holds what dresses the output: fonts, and the page templates,
// style sheet, script and signs that are embedded in the program.
package themes
