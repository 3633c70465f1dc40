package picture

// A Picture is one drawing: its paper size, its words for those who cannot see
// it, and its marks in the order they are painted.
type Picture struct {
	Name        string  // file stem, unique in a publication: "drawings/head_plate"
	Title       string  // one line
	Description string  // what it shows, in words
	Width       float64 // mm
	Height      float64 // mm
	Group       float64 // ISO 128 line group: width of the wide line, mm; 0 means 0.5
	Marks       []Mark
}

// Add paints marks over what is there.
func (p *Picture) Add(marks ...Mark) { p.Marks = append(p.Marks, marks...) }

// LineGroup is the width of the wide line in millimetres.
func (p *Picture) LineGroup() float64 {
	if p.Group > 0 {
		return p.Group
	}
	return DefaultGroup
}

// DefaultGroup is the line group of A4 and A3 sheets: 0.5 mm wide lines and
// 0.25 mm narrow ones (ISO 128-2, ISO 128-3).
const DefaultGroup = 0.5

// A Mark is one thing painted: a Path, a Text, a Group or a Clip.
type Mark interface{ mark() }

// A Path is stroked, filled, or both. Curves that follow each other end to start
// form a run; a run that ends where it began is closed and joins itself. Fill
// uses the even-odd rule, so that a hole is a run inside another.
type Path struct {
	Curves []Curve
	Line   LineType // NoLine leaves the path unstroked
	Ink    Colour   // of the stroke; "" takes the line type's own
	Fill   Colour   // "" leaves the path unfilled
	Class  string   // for themes and scripts: letters, digits, hyphen
}

// Text is one line of words. Height is that of a capital letter, as in ISO 3098
// (1.8, 2.5, 3.5, 5, 7 ...). Symbols that no font has (see HasSymbol) are drawn
// as paths in their place in the line.
type Text struct {
	At     Point
	Words  string
	Height float64 // mm, of a capital letter
	Anchor Anchor  // which point of the line stands at At
	Rise   Rise    // which height of the line stands at At
	Turn   float64 // radians, counter-clockwise as seen on the paper, about At
	Face   Face    // Sans when zero
	Ink    Colour  // "" means Ink
	Halo   bool    // clears the paper around the letters, for words over lines
	Class  string  // for themes and scripts: letters, digits, hyphen
}

// A Group keeps marks together under an id that scripts and links can name, and
// may shift them.
type Group struct {
	ID    string // unique in the picture: letters, digits, hyphen, underscore, dot
	Class string
	Title string // what the group shows, in words; may be empty
	Shift Point  // moves the marks
	Marks []Mark
}

// Clip paints only what lies inside a closed outline.
type Clip struct {
	Outline []Curve
	Marks   []Mark
}

func (Path) mark()  {}
func (Text) mark()  {}
func (Group) mark() {}
func (Clip) mark()  {}

// Anchor says which point along a line of text stands at its place.
type Anchor int

// The anchors.
const (
	Start Anchor = iota
	Middle
	End
)

// Rise says which height of a line of text stands at its place.
type Rise int

// The rises: the baseline, the middle of the capitals, the top of the capitals.
const (
	Baseline Rise = iota
	MidCapital
	TopCapital
)
