package page

// Halfway tells a builder who is in the middle of an earlier revision what to do, however
// far the work has come. It holds the answers for all states of the work at once, each
// word once, with the states that it is true for: those from 1 to the number of Reached,
// by the last step done in the order of work, and further ones that Reached names.
type Halfway struct {
	ID       string // begins the anchors of the states: "done-frame.square_up"
	Revision string // the earlier one
	Reached  []Reached
	About    []Inline // what it tells
	Chapters []Chapter
	OnPaper  []Inline // where to look, in place of it all
}

// Reached is a step of the earlier revision that may be the last one done.
type Reached struct {
	ID    string // "frame.square_up"
	Group string // the assembly's title
	Title string
	Only  Only
	// State is when all that stands above it is done, too. Alone is when only what it needs
	// and what stands above it in its assembly is; 0 where that is the same.
	State, Alone int
}

// A Chapter is a part of what Halfway says.
type Chapter struct {
	About ChapterKind
	Title []Inline
	At    Spans // of all that it holds
	Lists []Doings
}

// A ChapterKind says what a chapter is about.
type ChapterKind string

// The kinds of chapters, in their order; of OneStep there may be many.
const (
	TakenAsDone ChapterKind = "done"
	UndoFirst   ChapterKind = "first"
	OneStep     ChapterKind = "step"
	GoOn        ChapterKind = "next"
	MayStay     ChapterKind = "stay"
)

// Doings are things to do of one kind.
type Doings struct {
	Label []Inline // "Cut"; empty where the chapter's title says it
	Items []Doing
}

// A Doing is one thing to do, and in which states of the work.
type Doing struct {
	Words []Inline
	Only  Only
	At    Spans
}

// A Span is states from one to another, both among them.
type Span struct{ From, To int }

// Spans are states, rising.
type Spans []Span

// Holds reports whether a state is among them.
func (s Spans) Holds(state int) bool {
	for _, one := range s {
		if one.From <= state && state <= one.To {
			return true
		}
	}
	return false
}

// And adds a state, which is no less than any that is there.
func (s Spans) And(state int) Spans {
	if n := len(s); n > 0 && s[n-1].To >= state-1 {
		s[n-1].To = max(s[n-1].To, state)
		return s
	}
	return append(s, Span{state, state})
}

func (Halfway) block() {}
