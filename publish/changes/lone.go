package changes

import (
	"strings"

	"plansheaf/publish/picture"
)

const (
	smaller = 2.5 // mm, height of capitals below a picture
	leading = 5.0 // mm from line to line
)

// Lone is the picture as it stands without a page around it: with its title, the
// choices that it is drawn for, and what differs, in words below.
func (d Drawn) Lone() *picture.Picture {
	p := *d.Picture
	p.Marks = append([]picture.Mark{}, d.Picture.Marks...)
	lines := []string{d.Picture.Title}
	if d.Case != "" {
		lines = append(lines, "With "+d.Case)
	}
	for _, text := range d.Legend {
		lines = append(lines, broken(text, p.Width-2*rim)...)
	}
	y := p.Height + leading
	for i, text := range lines {
		face := picture.Sans
		if i == 0 {
			face = picture.SansBold
		}
		text = picture.Shortened(text, p.Width-2*rim, smaller, face)
		p.Add(picture.Text{At: picture.Point{X: rim, Y: y}, Words: text, Height: smaller, Face: face})
		y += leading
	}
	p.Height = y - leading + rim
	return &p
}

// broken is a text in lines of a width in mm.
func broken(text string, width float64) []string {
	var out []string
	line := ""
	for _, word := range strings.Fields(text) {
		longer := strings.TrimSpace(line + " " + word)
		if line != "" && picture.TextWidth(longer, smaller, picture.Sans) > width {
			out = append(out, line)
			longer = word
		}
		line = longer
	}
	return append(out, line)
}
