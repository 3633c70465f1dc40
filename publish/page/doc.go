// Package page holds the one document that a plan becomes: pages of headings,
// prose, tables, figures, cautions and steps, before any file format.
//
// It is built once from the worked-out plan; the site turns it into HTML and the
// binder into PDF, so both say the same words, numbers and pictures. Numbers
// arrive here already printed, in both systems of units.
package page
