package prose

// A Document is a text taken apart.
type Document struct {
	Blocks     []Block
	References []Reference // all of them, in the order of the text
	Links      []Link      // all of them, pictures' files included, in the order of the text
}

// A Block is a vertical piece of text.
type Block interface{ block() }

// A Heading has a level from 1, the highest, to 6.
type Heading struct {
	Level  int
	Words  []Inline
	Offset int
}

// A Paragraph is running text.
type Paragraph struct {
	Words  []Inline
	Offset int
}

// A List is bulleted or numbered from Start.
type List struct {
	Ordered bool
	Start   int
	Items   []Item
	Offset  int
}

// An Item is one entry of a List. Task says that it begins with a tick box, Done
// that the box is ticked.
type Item struct {
	Blocks     []Block
	Task, Done bool
}

// A Quote is quoted text.
type Quote struct {
	Blocks []Block
	Offset int
}

// Code is text to show as it stands.
type Code struct {
	Text, Language string
	Offset         int
}

// A Break is a thematic break.
type Break struct{ Offset int }

// Align says how a table's column stands.
type Align int

// The alignments.
const (
	Left Align = iota
	Right
	Centre
)

// A Table has one head row. Every row has as many cells as there are columns.
type Table struct {
	Columns []Column
	Rows    [][][]Inline // rows of cells of words
	Offset  int
}

// A Column is a table's column.
type Column struct {
	Head  []Inline
	Align Align
}

// Notes are the text's footnotes, those that nothing points to left out.
type Notes struct{ Notes []Note }

// A Note is one footnote; NoteRefs point to its Number.
type Note struct {
	Number int
	Blocks []Block
}

// An Inline is a piece of running text.
type Inline interface{ inline() }

// Text is plain words; Verbatim is text in fixed width.
type (
	Text     string
	Verbatim string
)

// Strong and Emphasis stress words.
type (
	Strong   struct{ Words []Inline }
	Emphasis struct{ Words []Inline }
)

// A Reference is a name in braces. Offset and Length cover the name alone, without
// braces and without the word picture.
type Reference struct {
	Name           string
	Picture        bool
	Offset, Length int
}

// A Link leads elsewhere; of a picture, To is its file and Words are what to read
// instead of it. Offset and Length cover To where the text shows it as it is, else
// the link's first character.
type Link struct {
	To             string
	Image          bool
	Words          []Inline
	Offset, Length int
}

// A NoteRef points to a footnote by its number.
type NoteRef int

// A Newline is a hard line break.
type Newline struct{}

func (Heading) block()   {}
func (Paragraph) block() {}
func (List) block()      {}
func (Quote) block()     {}
func (Code) block()      {}
func (Break) block()     {}
func (Table) block()     {}
func (Notes) block()     {}

func (Text) inline()      {}
func (Verbatim) inline()  {}
func (Strong) inline()    {}
func (Emphasis) inline()  {}
func (Reference) inline() {}
func (Link) inline()      {}
func (NoteRef) inline()   {}
func (Newline) inline()   {}
