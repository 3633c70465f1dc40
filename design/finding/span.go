package finding

import "fmt"

// A Span is a stretch of one file's text. The zero Span is no place at all; a
// Span with a File and Line 0 is the file as a whole.
type Span struct {
	File      string `json:"file"`      // path from the plan's root, with forward slashes
	Line      int    `json:"line"`      // first line, from 1
	Column    int    `json:"column"`    // first character in it, from 1
	EndLine   int    `json:"endLine"`   // line of the end
	EndColumn int    `json:"endColumn"` // column just after the last character
}

// WholeFile is the Span of a file as a whole, for findings about a file that
// have no line, such as one that is missing or too large.
func WholeFile(file string) Span { return Span{File: file} }

// OnLine is the Span of length characters from line and column of file.
func OnLine(file string, line, column, length int) Span {
	return Span{File: file, Line: line, Column: column, EndLine: line, EndColumn: column + length}
}

// Known reports whether the span is a place.
func (s Span) Known() bool { return s.File != "" }

// String is file:line:column, or the file alone when no line is known.
func (s Span) String() string {
	if s.Line == 0 {
		return s.File
	}
	return fmt.Sprintf("%s:%d:%d", s.File, s.Line, s.Column)
}

// Before orders spans by file, line, column.
func (s Span) Before(t Span) bool {
	if s.File != t.File {
		return s.File < t.File
	}
	if s.Line != t.Line {
		return s.Line < t.Line
	}
	return s.Column < t.Column
}
