// Package compose builds the one document from a plan that was worked out and
// checked: which pages there are, what stands on them, in which words.
//
// In go the work, the findings left standing and the pictures; out comes a
// page.Document. The package decides nothing about the machine: every number is
// taken from the work and printed here once, for site and binder alike.
package compose
