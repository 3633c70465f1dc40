// Package browser is test support: a tab of Chromium on a published folder, which
// keeps what the pages ask for and what the browser complains of.
//
// In go a folder and the names of its pages; out come values of expressions run in
// them, requests and faults. It is imported by tests only and never shows a window.
package browser
