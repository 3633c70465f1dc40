// Package changes writes a comparison of two revisions (package change) for people and
// programs: as text, as Markdown for a review, as one page of HTML that opens offline,
// as JSON with its schema, and as a draft of the release notes for a plan's history.
//
// It also draws a changed part as it was and as it is, laid over each other: what went
// is dashed, what came is solid and wide, what stays is thin, so that colour is not the
// only sign.
//
// What a plan says is hostile until proven otherwise: nothing of it reaches a form as
// anything but words.
package changes
