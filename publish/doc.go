// Package publish makes a whole publication from a checked plan: drawings, site,
// binder, lists, data and the plan's own files.
//
// In go the work and its findings; out come named contents, the same for the same
// plan, for package release to write. Nothing is decided here about the machine.
package publish
