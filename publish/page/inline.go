package page

import "plansheaf/publish/notation"

// An Inline is a piece of running text.
type Inline interface{ inline() }

// Text is plain words.
type Text string

// Strong is bold, Emphasis italic, Verbatim fixed-width text.
type (
	Strong   struct{ Words []Inline }
	Emphasis struct{ Words []Inline }
	Verbatim string
)

// Formula is a symbol or a formula set on a line of text.
type Formula struct{ Is *notation.Node }

// Measure is a printed quantity in the plan's own system and, where that differs
// and makes sense, in the other.
type Measure struct {
	First, Second string // Second may be empty
}

// Varies is text that depends on choices: the first Variant whose When fits is
// shown. Variants of one Varies cover every combination.
type Varies struct{ Variants []Variant }

// Variant is one text and when it holds.
type Variant struct {
	When  Only
	Words []Inline
}

// Pick is the words that hold under c.
func (v Varies) Pick(c Combination) []Inline {
	for _, variant := range v.Variants {
		if variant.When.Fits(c) {
			return variant.Words
		}
	}
	return nil
}

// Link leads elsewhere.
type Link struct {
	To    Target
	Words []Inline
}

// Target is where a link leads: a page of the document with an optional anchor,
// a file of the publication, or an outside address.
type Target struct {
	Page   string // a Page's ID
	Anchor string
	File   string // path within the publication
	URL    string // http, https or mailto only
}

// IsZero reports whether the target leads nowhere.
func (t Target) IsZero() bool { return t == Target{} }

// NoteRef points to a Footnote by number.
type NoteRef int

// Newline is a hard line break.
type Newline struct{}

func (Text) inline()     {}
func (Strong) inline()   {}
func (Emphasis) inline() {}
func (Verbatim) inline() {}
func (Formula) inline()  {}
func (Measure) inline()  {}
func (Varies) inline()   {}
func (Link) inline()     {}
func (NoteRef) inline()  {}
func (Newline) inline()  {}

// Words is text as inlines.
func Words(text string) []Inline {
	if text == "" {
		return nil
	}
	return []Inline{Text(text)}
}
