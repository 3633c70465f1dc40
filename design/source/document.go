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
		return finding.OnLine(d.file, n.Line, n.Column, 1+runes(n.Value))
	default:
		return d.collectionSpan(n)
	}
}

// plainSpan of text without quotes ends where its last word stands, on whichever
// line.
func (d *document) plainSpan(n *yaml.Node) finding.Span {
	rest := d.from(n.Line, n.Column)
	if strings.HasPrefix(rest, n.Value) {
		return finding.OnLine(d.file, n.Line, n.Column, runes(n.Value))
	}
	at := finding.OnLine(d.file, n.Line, n.Column, runes(strings.TrimRight(rest, " \t")))
	words := strings.TrimPrefix(n.Value, strings.TrimRight(rest, " \t"))
	for line := n.Line + 1; line <= len(d.lines) && words != n.Value && strings.TrimSpace(words) != ""; line++ {
		words = strings.TrimLeft(words, " \n")
		text := strings.TrimRight(d.line(line), " \t")
		trimmed := strings.TrimLeft(text, " \t")
		if strings.HasPrefix(trimmed, words) {
			trimmed, text = words, text[:len(text)-len(trimmed)+len(words)]
		} else if !strings.HasPrefix(words, trimmed) {
			break
		}
		words = words[len(trimmed):]
		if trimmed != "" {
			at.EndLine, at.EndColumn = line, runes(text)+1
		}
	}
	return at
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
			return finding.Span{File: d.file, Line: n.Line, Column: n.Column, EndLine: line, EndColumn: column + runes(rest[:end]) + 1}
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
	return finding.Span{File: d.file, Line: first, Column: column, EndLine: last, EndColumn: runes(d.line(last)) + 1}
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
		at.EndColumn += runes(d.from(at.EndLine, at.EndColumn)[:closing]) + 1
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
	return finding.OnLine(d.file, n.Line, column, runes(n.Value)), true
}

// text is a scalar as prose, with the place of each of its lines where the file
// shows them as they are.
func (d *document) text(n *yaml.Node) plan.Text {
	return plan.Text{Value: n.Value, At: d.span(n), Pieces: d.pieces(n)}
}

// pieces matches a scalar's lines in the file with its value: what YAML changes
// between lines is nothing but blanks and line ends. It gives nil where more differs,
// as in text with escapes.
func (d *document) pieces(n *yaml.Node) []plan.Piece {
	if start, ok := d.inside(n); ok {
		return []plan.Piece{{At: start}}
	}
	at := d.span(n)
	if at.Line == at.EndLine && n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) == 0 {
		return nil // on one line and yet not as it stands: escapes
	}
	var pieces []plan.Piece
	cursor := 0
	for line := at.Line; line <= at.EndLine; line++ {
		text, column := d.shown(n, at, line)
		trimmed := strings.TrimLeft(text, " \t")
		column += len(text) - len(trimmed) // blanks and tabs are one byte each
		trimmed = strings.TrimRight(trimmed, " \t")
		if trimmed == "" {
			continue
		}
		cursor += len(n.Value[cursor:]) - len(strings.TrimLeft(n.Value[cursor:], " \t\n"))
		if rest := n.Value[cursor:]; strings.HasPrefix(trimmed, rest+" #") {
			trimmed = rest // a comment after the last line of plain text
		}
		if !strings.HasPrefix(n.Value[cursor:], trimmed) {
			return nil
		}
		pieces = append(pieces, plan.Piece{Offset: cursor, At: finding.OnLine(d.file, line, column, runes(trimmed))})
		cursor += len(trimmed)
	}
	return pieces
}

// shown is what a line shows of a scalar's text, without quotes, and the column where
// that begins.
func (d *document) shown(n *yaml.Node, at finding.Span, line int) (text string, column int) {
	text, column = d.line(line), 1
	if n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0 {
		return text, column
	}
	quoted := n.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle) != 0
	if quoted && line == at.EndLine {
		text = string([]rune(text)[:max(at.EndColumn-2, 0)])
	}
	if line > at.Line {
		return text, column
	}
	column = at.Column
	if quoted {
		column++
	}
	skipped := []rune(text)
	return string(skipped[min(column-1, len(skipped)):]), column
}

// textFrom is the document's text from line on, as prose.
func (d *document) textFrom(line int) plan.Text {
	lines := d.lines[min(line-1, len(d.lines)):]
	t := plan.Text{Value: strings.Join(lines, "\n"), At: finding.OnLine(d.file, line, 1, 1)}
	offset := 0
	for i, text := range lines {
		at := finding.OnLine(d.file, line+i, 1, runes(text))
		t.Pieces = append(t.Pieces, plan.Piece{Offset: offset, At: at})
		t.At.EndLine, t.At.EndColumn = at.EndLine, at.EndColumn
		offset += len(text) + 1
	}
	return t
}
