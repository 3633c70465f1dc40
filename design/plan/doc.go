// Package plan holds what a plan says: parts, assemblies, joints, steps,
// calculations, drawings, hazards, prose, choices. Every field knows the file,
// line and column that it was read from.
//
// Nothing is worked out here: a length is still the formula that the author
// wrote, a reference is still a name. Collections keep the order of the files,
// so that everything made from a plan is the same each time. A plan is built by
// package source and not changed afterwards.
package plan
