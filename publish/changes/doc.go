// Package changes writes a comparison of two revisions (package change) for people and
// programs: as text, as Markdown for a review, as one page of HTML that opens offline,
// as JSON with its schema, and as a draft of the release notes for a plan's history.
//
// It also draws what looks otherwise as it was and as it is, laid over each other: what
// went is dashed, what came is solid and wide, what stays is thin, so that colour is not
// the only sign. Parts are drawn from three sides as if of glass, holes within them too;
// assemblies as their assembled pictures show them, what differs in them numbered, with a
// sign, and told in words: new, gone, moved and which way and how far, of another shape,
// another thing in its place. Pictures are for the plan's own choices, and for others
// where something differs under them alone; how many there are is bounded, and what is
// left out is told.
//
// What a plan says is hostile until proven otherwise: nothing of it reaches a form as
// anything but words.
package changes
