package binder

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"plansheaf/publish/picture"
)

// A span of one face, ready to print: every character has a glyph in face, or
// the span is one symbol that is drawn.
type span struct {
	words  string
	face   face
	symbol bool // drawn as a path by package picture, no font having it
}

// noBreak is how a space that must not break a line is kept until lines are
// made; it prints as a plain space.
const noBreak = '\u00a0'

// cleaned makes text safe to print: composed (NFC), without control characters,
// invalid bytes and invisible formatting, each character in a face that has it.
// What no face has is printed as its code and reported.
func (c *composer) cleaned(text string, want face) []span {
	if allOrdinary(text) {
		if text == "" {
			return nil
		}
		return []span{{words: text, face: want}}
	}
	text = norm.NFC.String(c.valid(text))
	out := &spanWriter{now: want}
	start := 0
	for at, r := range text {
		if ordinary(r) || c.fonts.has(want, r) && !invisible(r) && !unicode.IsControl(r) && !joined(r) {
			continue
		}
		out.add(text[start:at], want)
		start = at + utf8.RuneLen(r)
		c.special(text, r, want, out)
	}
	out.add(text[start:], want)
	out.flush()
	return out.spans
}

// A spanWriter joins words of one face into spans.
type spanWriter struct {
	spans []span
	now   face
	words strings.Builder
}

func (w *spanWriter) add(words string, which face) {
	if words != "" && which != w.now {
		w.flush()
		w.now = which
	}
	w.words.WriteString(words)
}

func (w *spanWriter) flush() {
	if w.words.Len() > 0 {
		w.spans = append(w.spans, span{words: w.words.String(), face: w.now})
		w.words.Reset()
	}
}

// symbol adds a sign that is drawn.
func (w *spanWriter) symbol(r rune, which face) {
	w.flush()
	w.spans = append(w.spans, span{words: string(r), face: which, symbol: true})
}

// special prints a character that needs a second look.
func (c *composer) special(text string, r rune, want face, out *spanWriter) {
	switch {
	case r == '\n' || r == '\t' || r == '\r' || r == '\u2028' || r == '\u2029':
		out.add(" ", want)
	case r == '\u200b' || r == '\u00ad': // places where a word may be broken
		out.add(string(breakHere), want)
	case invisible(r):
	case unicode.IsControl(r):
		c.report(LostBytes, r, text)
		out.add(string(utf8.RuneError), want)
	case r > 0xFFFF:
		c.missing(text, r, want, out)
	default:
		if joined(r) {
			c.report(Script, r, text)
		}
		for _, other := range []face{want, fixedly[want], regular, mono} {
			if c.fonts.has(other, r) {
				out.add(string(r), other)
				return
			}
		}
		if picture.HasSymbol(r) {
			out.symbol(r, want)
			return
		}
		c.missing(text, r, want, out)
	}
}

// missing prints a character's code and reports it.
func (c *composer) missing(text string, r rune, want face, out *spanWriter) {
	c.report(MissingGlyph, r, text)
	out.add(fmt.Sprintf("[U+%04X]", r), want)
}

// valid replaces invalid bytes by U+FFFD and reports them.
func (c *composer) valid(text string) string {
	if utf8.ValidString(text) {
		return text
	}
	text = strings.ToValidUTF8(text, "\ufffd")
	c.report(LostBytes, utf8.RuneError, text)
	return text
}

// breakHere marks a place where a word may be broken without a hyphen.
const breakHere = '\u200b'

// ordinary characters are in every face.
func ordinary(r rune) bool { return r >= ' ' && r < 0x7f }

// allOrdinary reports whether text holds nothing but ordinary characters.
func allOrdinary(text string) bool {
	for _, b := range []byte(text) {
		if b < ' ' || b >= 0x7f {
			return false
		}
	}
	return true
}

// invisible characters only steer programs that shape text: marks of direction
// and joining, variation selectors, byte order marks.
func invisible(r rune) bool {
	return unicode.Is(unicode.Cf, r) || r >= 0xFE00 && r <= 0xFE0F || r >= 0xE0100 && r <= 0xE01EF
}

// joined reports whether r belongs to a script that is written from right to
// left or whose letters join or stack, which gofpdf cannot do.
func joined(r rune) bool {
	return r >= 0x0590 && unicode.In(r, unicode.Hebrew, unicode.Arabic, unicode.Syriac, unicode.Thaana, unicode.Nko,
		unicode.Devanagari, unicode.Bengali, unicode.Gurmukhi, unicode.Gujarati, unicode.Oriya, unicode.Tamil,
		unicode.Telugu, unicode.Kannada, unicode.Malayalam, unicode.Sinhala, unicode.Tibetan, unicode.Myanmar,
		unicode.Khmer, unicode.Thai, unicode.Lao)
}

// around is a short stretch of text with r in it, for a report.
func around(text string, r rune) string {
	const before, after = 16, 24
	runes := []rune(text)
	for i, have := range runes {
		if have == r {
			return string(runes[max(0, i-before):min(len(runes), i+after)])
		}
	}
	return excerpt(text)
}

// excerpt is the start of text, for a report.
func excerpt(text string) string {
	const most = 40
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return text
}

// line is text as one line without any marks, for titles, bookmarks and
// metadata.
func line(text string) string {
	text = norm.NFC.String(strings.ToValidUTF8(text, "\ufffd"))
	text = strings.Map(func(r rune) rune {
		switch {
		case invisible(r):
			return -1
		case unicode.IsControl(r), r == noBreak, r == '\u2028', r == '\u2029':
			return ' '
		}
		return r
	}, text)
	return strings.Join(strings.Fields(text), " ")
}
