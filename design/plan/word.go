package plan

import (
	"sort"
	"strings"
	"unicode/utf8"

	"plansheaf/design/finding"
	"plansheaf/design/formula"
)

// A Word is a short text with its place: an id, a reference, a word from a list.
// The zero Word is one that the author did not give.
type Word struct {
	Text string
	At   finding.Span
}

// Given reports whether the author gave the word.
func (w Word) Given() bool { return w.At.Known() || w.Text != "" }

// String is the word's text.
func (w Word) String() string { return w.Text }

// Path splits a dotted reference: "frame.left_post.slot_left".
func (w Word) Path() []string { return strings.Split(w.Text, ".") }

// A Text is prose with its place. Pieces say where its lines stand in the file, in
// order; nil where the file's text and Value do not correspond character by character
// (escaped text).
type Text struct {
	Value  string
	At     finding.Span
	Pieces []Piece
}

// A Piece is a stretch of a Text's Value, from byte Offset on, that stands in the file
// on one line as it is.
type Piece struct {
	Offset int
	At     finding.Span
}

// Given reports whether the author gave the text.
func (t Text) Given() bool { return t.At.Known() }

// Place is the span of length bytes from byte offset of Value, as far as it stands on
// one line; the text's whole place where the exact one is not known.
func (t Text) Place(offset, length int) finding.Span {
	i := sort.Search(len(t.Pieces), func(i int) bool { return t.Pieces[i].Offset > offset }) - 1
	if i < 0 || offset > len(t.Value) || length < 0 {
		return t.At
	}
	piece := t.Pieces[i]
	start := piece.At.Column + utf8.RuneCountInString(t.Value[piece.Offset:offset])
	end := start + utf8.RuneCountInString(t.Value[offset:min(offset+length, len(t.Value))])
	start = min(start, piece.At.EndColumn)
	return finding.OnLine(piece.At.File, piece.At.Line, start, min(end, piece.At.EndColumn)-start)
}

// A Formula is a quantity as the author wrote it. Expr is nil where none was given
// or where it could not be read (a finding then says so).
type Formula struct {
	Expr  *formula.Expr
	At    finding.Span
	Start finding.Span // where the first character of Expr's source stands; unknown: At
}

// Given reports whether there is a formula to work out.
func (f Formula) Given() bool { return f.Expr != nil }

// Place is the span of length characters from character offset of the formula.
func (f Formula) Place(offset, length int) finding.Span {
	if !f.Start.Known() || length <= 0 {
		return f.At
	}
	return finding.OnLine(f.Start.File, f.Start.Line, f.Start.Column+offset, length)
}

// A Choosable is a value that may depend on one of the plan's choices:
// {by: tile, small: 90 mm, large: 150 mm}. By is not given when Plain holds always.
type Choosable[T any] struct {
	Plain   T
	By      Word
	Options []Alternative[T]
	At      finding.Span
}

// An Alternative is the value for one option of a choice.
type Alternative[T any] struct {
	Option Word
	Value  T
}

// Given reports whether the author gave the value.
func (c Choosable[T]) Given() bool { return c.At.Known() }

// Pick is the value under the options of sel; ok is false where sel has no
// answer for the choice.
func (c Choosable[T]) Pick(sel Selection) (value T, ok bool) {
	if !c.By.Given() {
		return c.Plain, c.Given()
	}
	for _, alt := range c.Options {
		if alt.Option.Text == sel[c.By.Text] {
			return alt.Value, true
		}
	}
	return value, false
}

// All is every value that may be picked.
func (c Choosable[T]) All() []T {
	if !c.By.Given() {
		if !c.Given() {
			return nil
		}
		return []T{c.Plain}
	}
	all := make([]T, len(c.Options))
	for i, alt := range c.Options {
		all[i] = alt.Value
	}
	return all
}

type (
	// Quantity is a formula, or one by choice.
	Quantity = Choosable[Formula]
	// Reference is the id of a part or assembly, or one by choice.
	Reference = Choosable[Word]
	// Wording is a text, or one by choice.
	Wording = Choosable[Text]
)

// A Point is two or three quantities: a place in an outline, on a face or in space.
type Point struct {
	Of []Quantity
	At finding.Span
}

// Given reports whether the author gave the point.
func (p Point) Given() bool { return p.At.Known() }
