package cutplan

import (
	"math"
	"unicode/utf8"

	"plansheaf/design/bill"
	"plansheaf/publish/picture"
)

const lineHigh = 3.2 // mm from one line of a label to the next

// A line is words of a label; whole ones are left out where they would have to be
// shortened: half a size is a wrong one.
type line struct {
	words string
	whole bool
}

// label writes lines of words into a box, as many as it has room for, upwards in a
// box too narrow for the first of them, and returns where they stand.
func (d *drawer) label(lines []line, in picture.Box) picture.Box {
	wide, high := in.Width(), in.Height()
	turned := high > wide && picture.TextWidth(lines[0].words, letters, picture.Sans) > wide-1
	if turned {
		wide, high = high, wide
	}
	fits := int((high - 0.6) / lineHigh)
	if fits == 0 && high > letters+0.8 {
		fits = 1
	}
	var shown []string
	for _, l := range lines {
		words := fitting(l.words, wide-1)
		if words != "" && (words == l.words || !l.whole) && len(shown) < fits {
			shown = append(shown, words)
		}
	}
	var marks []picture.Mark
	for i, words := range shown {
		off := (float64(i) - float64(len(shown)-1)/2) * lineHigh
		text := picture.Text{At: in.Centre().Plus(picture.Point{Y: off}), Words: words, Height: letters, Anchor: picture.Middle, Rise: picture.MidCapital}
		if turned {
			text.At, text.Turn = in.Centre().Plus(picture.Point{X: off}), math.Pi/2
		}
		marks = append(marks, text)
	}
	d.pic.Add(marks...)
	return picture.Bounds(marks)
}

// fitting is words cut to a width, with a mark where something is left out; empty
// when not even three letters fit.
func fitting(words string, room float64) string {
	short := picture.Shortened(words, room, letters, picture.Sans)
	if short != words && utf8.RuneCountInString(short) < 4 {
		return ""
	}
	return short
}

// named are the lines that say which part a piece is: its id, which the lists
// have, and its title.
func named(c bill.Cut) []line {
	id, title := c.Part.Part.ID.Text, bill.Title(c.Part)
	if title == id {
		return []line{{words: id}}
	}
	return []line{{words: id}, {words: title}}
}
