package binder

import (
	"fmt"

	"plansheaf/design/memo"
	"plansheaf/publish/page"
)

// Options says which binder of a document is wanted.
type Options struct {
	// Combination is the choices made; a choice that it leaves out takes the
	// document's default.
	Combination page.Combination
	// TwoSided puts the punched edge of even pages on the right, for printing
	// on both sides.
	TwoSided bool
	// Attachments are carried inside the PDF, in the order given.
	Attachments []Attachment
	// Kept holds what was drawn in earlier runs, and takes in what is drawn now; nil draws
	// everything anew. The binder is the same, byte for byte.
	Kept *memo.Store
}

// An Attachment is a file carried inside the PDF.
type Attachment struct {
	Name  string // file name without folders
	About string
	Type  string // media type; empty: application/octet-stream
	Data  []byte
}

// A ProblemKind says what could not be printed as it was meant.
type ProblemKind string

// The kinds of problem.
const (
	MissingGlyph ProblemKind = "glyph"   // no font has the character; its code is printed
	LostBytes    ProblemKind = "bytes"   // invalid UTF-8 or a control character; U+FFFD is printed
	Script       ProblemKind = "script"  // right-to-left or joined script: printed unshaped
	BadImage     ProblemKind = "image"   // an image that cannot be decoded or is too large
	BadPicture   ProblemKind = "picture" // a picture without a usable size, or that could not be drawn
	LostLink     ProblemKind = "link"    // a link to a page or anchor that this binder does not hold
	Shortened    ProblemKind = "long"    // a title, caption or label too long for its place; its end is left out
	BadBlock     ProblemKind = "block"   // a block of unknown kind, or nested too deeply
)

// A Problem is something of the document that the binder prints otherwise than
// meant. It is the author's to mend, never an error.
type Problem struct {
	Kind  ProblemKind
	Rune  rune   // the character, where there is one
	Text  string // the text it stands in (shortened), or what is wrong with the image
	Where string // id of the page, with "#" and the nearest anchor where there is one
}

// String says the problem in one line.
func (p Problem) String() string {
	switch p.Kind {
	case MissingGlyph:
		return fmt.Sprintf("%s: no font of the binder has U+%04X (%q in %q)", p.Where, p.Rune, p.Rune, p.Text)
	case LostBytes:
		return fmt.Sprintf("%s: text holds a byte or control character that is no text (in %q)", p.Where, p.Text)
	case Script:
		return fmt.Sprintf("%s: U+%04X belongs to a script that the binder cannot shape (in %q)", p.Where, p.Rune, p.Text)
	default:
		return fmt.Sprintf("%s: %s", p.Where, p.Text)
	}
}
