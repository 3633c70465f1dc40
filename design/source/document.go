package source

import (
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// A document is one file's text, cut into lines without their ends. Columns count
// characters from 1, as in the spans that it gives.
type document struct {
	file    string
	lines   []string
	offsets map[int][]int32 // of long lines: the byte at which each character begins
}

func newDocument(file, text string) *document {
	return &document{file: file, lines: strings.Split(text, "\n"), offsets: map[int][]int32{}}
}

// line is the text of line number n, counted from 1; empty beyond the end.
func (d *document) line(n int) string {
	if n < 1 || n > len(d.lines) {
		return ""
	}
	return d.lines[n-1]
}

// longLine is the length from which a line's characters are indexed, so that a file
// written as one long line is still read in linear time.
const longLine = 512

// from is what stands on line n from column on.
func (d *document) from(n, column int) string {
	rest := d.line(n)
	if len(rest) >= longLine {
		return d.fromLong(n, column)
	}
	for i := 1; i < column && rest != ""; i++ {
		_, size := utf8.DecodeRuneInString(rest)
		rest = rest[size:]
	}
	return rest
}

func (d *document) fromLong(n, column int) string {
	text := d.line(n)
	offsets, known := d.offsets[n]
	if !known {
		offsets = make([]int32, 0, len(text))
		for i := range text {
			offsets = append(offsets, int32(i))
		}
		d.offsets[n] = offsets
	}
	if column > len(offsets) {
		return ""
	}
	return text[offsets[max(column, 1)-1]:]
}

// wholeLine is the span of line n's text without the blanks around it and without a
// comment at its end.
func (d *document) wholeLine(n int) finding.Span {
	text := d.line(n)
	if comment := strings.Index(text, " #"); comment >= 0 {
		text = text[:comment]
	}
	trimmed := strings.TrimLeft(text, " \t")
	indent := len(text) - len(trimmed)
	return finding.OnLine(d.file, n, indent+1, max(1, runes(strings.TrimRight(trimmed, " \t"))))
}

// span is the stretch of text that n was read from.
func (d *document) span(n *yaml.Node) finding.Span {
	switch {
	case n.Kind == yaml.ScalarNode && n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0:
		return d.blockSpan(n)
	case n.Kind == yaml.ScalarNode && n.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle) != 0:
		return d.quotedSpan(n)
	case n.Kind == yaml.ScalarNode:
		return d.plainSpan(n)
	case n.Kind == yaml.AliasNode:
		return finding.OnLine(d.file, n.Line, n.Column, 1+utf8.RuneCountInString(n.Value))
	default:
		return d.collectionSpan(n)
	}
}

func (d *document) plainSpan(n *yaml.Node) finding.Span {
	rest := d.from(n.Line, n.Column)
	if strings.HasPrefix(rest, n.Value) {
		return finding.OnLine(d.file, n.Line, n.Column, utf8.RuneCountInString(n.Value))
	}
	// Folded over several lines: mark what stands on the first.
	if cut := strings.Index(rest, " #"); cut >= 0 {
		rest = rest[:cut]
	}
	return finding.OnLine(d.file, n.Line, n.Column, utf8.RuneCountInString(strings.TrimRight(rest, " \t")))
}

// quotedSpan includes the quotes.
func (d *document) quotedSpan(n *yaml.Node) finding.Span {
	quote := byte('"')
	if n.Style&yaml.SingleQuotedStyle != 0 {
		quote = '\''
	}
	rest := d.from(n.Line, n.Column)
	column := n.Column + 1
	if rest != "" {
		rest = rest[1:]
	}
	for line := n.Line; line <= len(d.lines); line++ {
		if line > n.Line {
			rest, column = d.line(line), 1
		}
		if end, closed := closingQuote(rest, quote); closed {
			return finding.Span{File: d.file, Line: n.Line, Column: n.Column, EndLine: line, EndColumn: column + utf8.RuneCountInString(rest[:end]) + 1}
		}
	}
	return finding.OnLine(d.file, n.Line, n.Column, 1)
}

// closingQuote is the byte at which quoted text ends within one line.
func closingQuote(text string, quote byte) (at int, found bool) {
	for i := 0; i < len(text); i++ {
		switch {
		case quote == '"' && text[i] == '\\':
			i++
		case text[i] == quote && quote == '\'' && i+1 < len(text) && text[i+1] == quote:
			i++
		case text[i] == quote:
			return i, true
		}
	}
	return 0, false
}

// block finds the content of a literal or folded text: its first and last line and
// the column where its lines begin.
func (d *document) block(n *yaml.Node) (first, last, column int) {
	first = n.Line + 1
	for first <= len(d.lines) && strings.TrimSpace(d.line(first)) == "" {
		first++
	}
	text := d.line(first)
	column = len(text) - len(strings.TrimLeft(text, " ")) + 1
	last = first
	for next := first; next <= len(d.lines); next++ {
		text := d.line(next)
		if strings.TrimSpace(text) == "" {
			continue
		}
		if len(text)-len(strings.TrimLeft(text, " ")) < column-1 {
			break
		}
		last = next
	}
	return first, last, column
}

func (d *document) blockSpan(n *yaml.Node) finding.Span {
	if strings.TrimSpace(n.Value) == "" {
		return finding.OnLine(d.file, n.Line, n.Column, 1)
	}
	first, last, column := d.block(n)
	return finding.Span{File: d.file, Line: first, Column: column, EndLine: last, EndColumn: utf8.RuneCountInString(d.line(last)) + 1}
}

func (d *document) collectionSpan(n *yaml.Node) finding.Span {
	at := finding.OnLine(d.file, n.Line, n.Column, 1)
	if len(n.Content) > 0 {
		end := d.span(n.Content[len(n.Content)-1])
		at.EndLine, at.EndColumn = end.EndLine, end.EndColumn
	}
	if n.Style&yaml.FlowStyle == 0 {
		return at
	}
	bracket := byte('}')
	if n.Kind == yaml.SequenceNode {
		bracket = ']'
	}
	if len(n.Content) == 0 {
		at.EndColumn++
	}
	if closing := strings.IndexByte(d.from(at.EndLine, at.EndColumn), bracket); closing >= 0 {
		at.EndColumn += utf8.RuneCountInString(d.from(at.EndLine, at.EndColumn)[:closing]) + 1
	}
	return at
}

// inside is where the first character of a scalar's value stands; ok is false
// where value and file do not agree character by character.
func (d *document) inside(n *yaml.Node) (at finding.Span, ok bool) {
	column := n.Column
	if n.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle) != 0 {
		column++
	}
	if n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0 || !strings.HasPrefix(d.from(n.Line, column), n.Value) {
		return finding.Span{}, false
	}
	return finding.OnLine(d.file, n.Line, column, utf8.RuneCountInString(n.Value)), true
}

// text is a scalar as prose, with the place of each of its lines where the file
// shows them as they are.
func (d *document) text(n *yaml.Node) plan.Text {
	t := plan.Text{Value: n.Value, At: d.span(n)}
	if n.Style&yaml.LiteralStyle != 0 {
		t.Starts = d.literalStarts(n)
	} else if start, ok := d.inside(n); ok {
		t.Starts = []finding.Span{start}
	}
	return t
}

func (d *document) literalStarts(n *yaml.Node) []finding.Span {
	// Blank lines before the first with text belong to the value.
	_, _, column := d.block(n)
	lines := strings.Split(n.Value, "\n")
	starts := make([]finding.Span, len(lines))
	for i, text := range lines {
		line := n.Line + 1 + i
		if text != "" && !strings.HasPrefix(d.from(line, column), text) {
			return nil // an indentation written out, such as |2
		}
		starts[i] = finding.OnLine(d.file, line, column, utf8.RuneCountInString(text))
	}
	return starts
}

// textFrom is the document's text from line on, as prose.
func (d *document) textFrom(line int) plan.Text {
	lines := d.lines[min(line-1, len(d.lines)):]
	starts := make([]finding.Span, len(lines))
	for i, text := range lines {
		starts[i] = finding.OnLine(d.file, line+i, 1, utf8.RuneCountInString(text))
	}
	at := finding.OnLine(d.file, line, 1, 1)
	if len(starts) > 0 {
		end := starts[len(starts)-1]
		at.EndLine, at.EndColumn = end.EndLine, end.EndColumn
	}
	return plan.Text{Value: strings.Join(lines, "\n"), At: at, Starts: starts}
}
