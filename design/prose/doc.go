// Package prose reads the Markdown of a plan's texts: CommonMark with tables,
// footnotes and task lists, and braces that reach into the plan, {head_plate} or
// {picture head_plate}.
//
//	doc, faults := prose.Parse("Bolt {head_plate} down.")
//
// A Document is a small tree of its own, so that nothing else need know the Markdown
// library. Offsets are bytes of the text, for plan.Text.Place to turn into a place
// in the file.
//
// HTML has no meaning here: tags are text like any other. Backslashes and entities
// are resolved. What would cost more than a page of text deserves (too long, too
// many marks, nested too deeply) is refused with a Fault before it is taken apart.
//
// The package does not know what the names in braces stand for, reads no files and
// never panics.
package prose
