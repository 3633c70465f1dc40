package sheet

import (
	"fmt"
	"slices"
	"strings"

	"plansheaf/publish/picture"
)

// noteStep is the distance between lines of notes, in letter heights.
const noteStep = 1.75

// notes are the words beside the views: stock sizes first, then what the author
// says.
func (l *layout) notes() []string {
	var list []string
	for i := range l.scheme.list {
		switch d := &l.scheme.list[i]; d.Kind {
		case Thickness:
			list = append(list, "Thickness "+d.Text+".")
		case Section:
			list = append(list, "Section "+d.Text+", as sold.")
		}
	}
	if l.part.meshed {
		list = append(list, "Shape after its file; overall sizes and holes are given here.")
	}
	if len(l.part.holes) > mostHoles {
		list = append(list, "Holes are too many to place here; their places are in the plan's data.")
	}
	if len(l.scheme.rows()) > 0 {
		list = append(list, "Hole table: measured from the ringed point.")
	}
	for _, note := range l.request.Notes {
		if note = strings.Join(strings.Fields(note), " "); note != "" && !slices.Contains(list, note) {
			list = append(list, note)
		}
	}
	return list
}

// noteLines wraps the notes to a width and numbers them when there are several.
func (l *layout) noteLines(width float64) []string {
	var lines []string
	notes := l.notes()
	for i, note := range notes {
		if len(notes) > 1 {
			note = fmt.Sprintf("%d  %s", i+1, note)
		}
		lines = append(lines, wrap(note, width, l.height)...)
	}
	return lines
}

// noteIndent stands before the second and further lines of a note, as wide as
// its number.
const noteIndent = "   "

// wrap breaks words into lines of a width at blanks; a word longer than a line
// is cut short.
func wrap(text string, width, height float64) []string {
	var lines []string
	line := ""
	for i, word := range strings.Fields(text) {
		longer := line + " " + word
		if i == 0 {
			longer = word
		} else if picture.TextWidth(longer, height, picture.Sans) > width {
			lines = append(lines, line)
			longer = noteIndent + word
		}
		if picture.TextWidth(longer, height, picture.Sans) > width {
			longer = picture.Shortened(longer, width, height, picture.Sans)
		}
		line = longer
	}
	return append(lines, line)
}

// paintNotes sets lines with the lower left corner of the block at a point, and
// takes their place.
func (l *layout) paintNotes(lines []string, corner point) {
	if len(lines) == 0 {
		return
	}
	g := picture.Group{ID: "notes", Title: "Notes"}
	for i, words := range lines {
		text := picture.Text{Words: words, Height: l.height,
			At: point{X: corner.X, Y: corner.Y - float64(len(lines)-1-i)*noteStep*l.height}}
		for strings.HasPrefix(text.Words, " ") { // the indent of a wrapped line
			text.Words = text.Words[1:]
			text.At.X += picture.TextWidth(" ", l.height, picture.Sans)
		}
		g.Marks = append(g.Marks, text)
		l.board.take(text.Bounds())
	}
	l.add(g)
}

// history paints the revision block above the title block, so many rows of it, and
// gives its height.
func (l *layout) history(block picture.Box, rows int) float64 {
	list := l.request.History[:rows]
	if len(list) == 0 || l.paper.width < 300 { // upright A4 needs the room for the part
		return 0
	}
	const step, index, date = 5.0, 12.0, 24.0
	top := block.Min.Y - step*float64(len(list))
	g := picture.Group{ID: "revisions", Title: "Revisions"}
	var rules []picture.Curve
	for i, r := range list {
		y := top + step*float64(i)
		rules = append(rules, picture.Line{A: point{X: block.Min.X, Y: y}, B: point{X: block.Max.X, Y: y}})
		at := point{X: block.Min.X + cellPad, Y: y + step - 1.5}
		g.Marks = append(g.Marks,
			fitted(r.Index, at, index-2*cellPad, 2.5, picture.SansBold, picture.Accent),
			fitted(r.Date, at.Plus(point{X: index}), date-2*cellPad+2, 2.5, picture.Sans, picture.Ink),
			fitted(r.Words, at.Plus(point{X: index + date}), blockWide-index-date-2*cellPad, 2.5, picture.Sans, picture.Ink))
	}
	for _, x := range []float64{0, index, index + date} {
		rules = append(rules, picture.Line{A: point{X: block.Min.X + x, Y: top}, B: point{X: block.Min.X + x, Y: block.Min.Y}})
	}
	g.Marks = append(g.Marks, picture.Path{Curves: rules, Line: picture.Thin})
	l.add(g)
	box := picture.Box{Min: point{X: block.Min.X, Y: top}, Max: point{X: block.Max.X, Y: block.Min.Y}}
	l.board.take(box)
	return box.Height()
}

// mostRevisions is how many revisions the sheet lists.
const mostRevisions = 3
