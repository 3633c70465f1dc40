package change

import (
	"fmt"
	"strings"
)

// A Deed is what a task asks for.
type Deed string

// The deeds. Their words stand in phrases.
const (
	Open     Deed = "open"
	TakeOff  Deed = "take off"
	TakeOut  Deed = "take out"
	Buy      Deed = "buy"
	Make     Deed = "make"
	Shorten  Deed = "shorten"
	Drill    Deed = "drill"
	DoStep   Deed = "do the step"
	PutIn    Deed = "put in"
	PutMore  Deed = "put in more"
	PutBack  Deed = "put back"
	Set      Deed = "set anew"
	Join     Deed = "join"
	JoinBack Deed = "join again"
	Tighten  Deed = "tighten"
	Measure  Deed = "measure"
	Read     Deed = "read"
)

// A Task is one thing that a builder half way does.
type Task struct {
	Do     Deed      `json:"do" about:"open, take off, take out, buy, make, shorten, drill, do the step, put in, put in more, put back, set anew, join, join again, tighten, measure or read"`
	Say    string    `json:"say" about:"all of it in English words"`
	On     Subject   `json:"on,omitzero" about:"the use or joint that it is done to"`
	With   []Subject `json:"with,omitempty" about:"what stays on it meanwhile"`
	Holes  []Boring  `json:"holes,omitempty" about:"holes to drill"`
	Lines  []Field   `json:"fields,omitempty" about:"what the plan says of its place, before and after"`
	Was    string    `json:"was,omitempty" about:"of a torque, the old one"`
	Is     string    `json:"is,omitempty" about:"the length to cut to, the torque, what to measure"`
	Within string    `json:"within,omitempty" about:"how near a measure must come"`
}

// A Subject is a use or a joint with what it holds or takes; one without a name is only
// what it holds.
type Subject struct {
	Name  string `json:"name,omitempty" about:"as assembly.use or assembly.joint, in the names of the revision that has it so"`
	Joint bool   `json:"joint,omitempty" about:"it is a joint"`
	Old   bool   `json:"old,omitempty" about:"as the old revision has it"`
	Items []Item `json:"items,omitempty"`
}

// An Item is a number of one part.
type Item struct {
	Part  string `json:"part"`
	Title string `json:"title"`
	Count int    `json:"count"`
}

// String is an item in words: "4 × Washer M6".
func (i Item) String() string { return fmt.Sprintf("%d × %s", i.Count, i.Title) }

// A Boring is what is done to a pattern of holes: made anew, or made wider or deeper.
type Boring struct {
	Holes    string `json:"holes" about:"the name of the holes in the part"`
	Diameter string `json:"diameter,omitempty"`
	Depth    string `json:"depth,omitempty"`
}

// Words are words in which each %s stands for pieces joined by commas. What follows a
// bar in the phrase tells alike phrases apart and is not shown.
type Words struct {
	Phrase string
	Pieces [][]Piece
}

// A Piece is what stands in words: a subject, an item, what changed, words again, or a
// text of the plan.
type Piece struct {
	Subject *Subject
	Item    *Item
	Field   *Field
	Words   *Words
	Text    string
}

// phrases are what tasks say, by what is done; variants stand behind a bar.
var phrases = map[string]string{
	"open": "open %s", "take out": "take out %s", "put in": "put in %s", "put in more": "put in %s besides",
	"take off": "take off %s, put on since", "take off|with": "take off %s, put on since, with %s on it",
	"put back": "put back %s", "put back|with": "put back %s with %s on it",
	"set anew": "set %s anew: %s", "join": "join %s", "join again": "join %s again",
	"tighten": "tighten %s to %s; it was %s", "tighten|new": "tighten %s to %s",
	"measure": "measure again: %s", "measure|within": "measure again: %s, within %s", "read": "read its text again: it says something else now", "do the step": "do the step",
	"shorten": "%s: to %s, at its far end", "drill": "%s: %s|holes to drill",
	"holes": "the holes %s", "holes|wider": "the holes %s to a diameter of %s", "holes|deeper": "the holes %s to a depth of %s",
}

// Phrases are the phrases that Words of tasks hold, in no order, for who translates
// them.
func Phrases() []string {
	list := make([]string, 0, len(phrases))
	for _, p := range phrases {
		list = append(list, p)
	}
	return list
}

// Words are the task in words.
func (t Task) Words() Words {
	of := func(s Subject) []Piece { return []Piece{{Subject: &s}} }
	text := func(s string) []Piece { return []Piece{{Text: s}} }
	say := func(variant string, pieces ...[]Piece) Words {
		return Words{Phrase: phrases[string(t.Do)+variant], Pieces: pieces}
	}
	switch t.Do {
	case Buy, Make:
		return Words{Phrase: "%s", Pieces: [][]Piece{of(t.On)}}
	case TakeOff, PutBack:
		if len(t.With) > 0 {
			var riders []Piece
			for _, s := range t.With {
				riders = append(riders, of(s)...)
			}
			return say("|with", of(t.On), riders)
		}
	case Set:
		var lines []Piece
		for _, f := range t.Lines {
			lines = append(lines, Piece{Field: &f})
		}
		return say("", of(t.On), lines)
	case Tighten:
		if t.Was == "" {
			return say("|new", of(t.On), text(t.Is))
		}
		return say("", of(t.On), text(t.Is), text(t.Was))
	case Measure:
		if t.Within != "" {
			return say("|within", text(t.Is), text(t.Within))
		}
		return say("", text(t.Is))
	case Read, DoStep:
		return say("")
	case Shorten:
		return say("", of(t.On), text(t.Is))
	case Drill:
		var holes []Piece
		for _, b := range t.Holes {
			holes = append(holes, Piece{Words: b.words()})
		}
		return say("", of(t.On), holes)
	}
	return say("", of(t.On))
}

func (b Boring) words() *Words {
	name := []Piece{{Text: b.Holes}}
	switch {
	case b.Diameter != "":
		return &Words{phrases["holes|wider"], [][]Piece{name, {{Text: b.Diameter}}}}
	case b.Depth != "":
		return &Words{phrases["holes|deeper"], [][]Piece{name, {{Text: b.Depth}}}}
	}
	return &Words{phrases["holes"], [][]Piece{name}}
}

// String is the words in English.
func (w Words) String() string {
	var b strings.Builder
	phrase, _, _ := strings.Cut(w.Phrase, "|")
	for i, between := range strings.Split(phrase, "%s") {
		if i > 0 {
			for n, p := range w.Pieces[i-1] {
				if n > 0 {
					b.WriteString(", ")
				}
				b.WriteString(p.String())
			}
		}
		b.WriteString(between)
	}
	return b.String()
}

// String is the piece in English.
func (p Piece) String() string {
	switch {
	case p.Subject != nil:
		return p.Subject.String()
	case p.Item != nil:
		return p.Item.String()
	case p.Field != nil:
		return p.Field.say()
	case p.Words != nil:
		return p.Words.String()
	}
	return p.Text
}

// String is a subject in words: "frame.feet (4 × Washer M6)", of a use of one part
// "frame.left (Post)", of no name "4 × Washer M6".
func (s Subject) String() string {
	items := make([]string, len(s.Items))
	for i, one := range s.Items {
		items[i] = s.Shown(one)
	}
	held := strings.Join(items, ", ")
	switch {
	case s.Name == "":
		return held
	case held == "":
		return s.Name
	}
	return s.Name + " (" + held + ")"
}

// Shown is one of the subject's items as it is shown: a use of a single part by its
// title alone.
func (s Subject) Shown(i Item) string {
	if s.Name != "" && !s.Joint && i.Count == 1 {
		return i.Title
	}
	return i.String()
}

// said is a task with its words.
func said(t Task) Task {
	t.Say = t.Words().String()
	return t
}
