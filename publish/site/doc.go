// Package site turns the one document into a web site that opens from a folder:
// one HTML file a page, a style sheet, a script, and every picture as an SVG
// file of its own.
//
// In goes a page.Document; out come named contents, sorted by path, whose links
// are all relative. Nothing is fetched from anywhere: the pages work from
// file:// without a server, with scripts off, and better with them on. All
// options of all choices are in the pages; the script shows the ones picked.
//
// The package writes no file and decides nothing about the machine. Files of the
// plan itself (page.Image, page.Download) are linked to, not written: whoever
// writes the publication puts them at their paths beside the site.
package site
