package binder

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"plansheaf/publish/page"
)

// sheetAnchor is the place of a page's n-th drawing sheet, counted from 0.
func sheetAnchor(id string, n int) string { return id + "#:sheet:" + itoa(n) }

// sheetFits reports whether a sheet can have a leaf of its own, and says why
// not.
func (c *composer) sheetFits(s page.Sheet) bool {
	return s.Picture != nil && s.Only.Fits(c.choices) && c.usable(s.Picture) && s.Picture.Width >= 30 && s.Picture.Height >= 30
}

// sheetTitle is what the outline calls a drawing.
func (c *composer) sheetTitle(p *page.Page, n int) string {
	title := line(p.Sheets[n].Picture.Title)
	if title == "" {
		title = line(p.Title)
	}
	return c.say("Drawing: %s", title)
}

// sheetLabel says what a drawing's leaf is.
func (c *composer) sheetLabel(s page.Sheet) string {
	parts := []string{c.say("Drawing")}
	for _, text := range []string{s.Size, s.Scale} {
		if text = line(text); text != "" {
			parts = append(parts, text)
		}
	}
	return strings.Join(parts, " · ")
}

// drawings gives each drawing of a chapter's pages a leaf as large as the
// drawing's own paper, where it stands at true size, so that its scale holds.
func (c *composer) drawings(ch chapter) []leaf {
	var leaves []leaf
	for _, p := range ch.pages {
		c.page, c.near = p.ID, ""
		for n, s := range p.Sheets {
			if !c.sheetFits(s) {
				continue
			}
			c.checkSize(s)
			leaves = append(leaves, leaf{
				width: s.Picture.Width, height: s.Picture.Height, section: line(p.Title), drawing: true,
				marks: []mark{
					anchorMark{0, sheetAnchor(p.ID, n)},
					pictureMark{0, 0, 1, s.Picture, false},
				},
			})
		}
	}
	return leaves
}

// sheetSizes are the papers that sheets may name, portrait, in millimetres (ISO
// 216; ANSI/ASME Y14.1 for letter and tabloid).
var sheetSizes = map[string][2]float64{
	"a4": {210, 297}, "a3": {297, 420}, "a2": {420, 594}, "a1": {594, 841}, "a0": {841, 1189},
	"letter": {215.9, 279.4}, "tabloid": {279.4, 431.8},
}

// checkSize reports a sheet whose picture is not as large as the paper it names:
// it is printed as large as the picture, since its scale counts.
func (c *composer) checkSize(s page.Sheet) {
	words := strings.Fields(strings.ToLower(s.Size))
	if len(words) == 0 {
		return
	}
	size, known := sheetSizes[words[0]]
	if !known {
		return
	}
	if len(words) > 1 && words[1] == "landscape" {
		size[0], size[1] = size[1], size[0]
	}
	const slack = 0.6
	if math.Abs(size[0]-s.Picture.Width) > slack || math.Abs(size[1]-s.Picture.Height) > slack {
		c.problem(Problem{Kind: BadPicture, Text: fmt.Sprintf("drawing %q is %.4g by %.4g mm and says %s",
			s.Picture.Name, s.Picture.Width, s.Picture.Height, s.Size)})
	}
}

// margin is the running head of a drawing's leaf: it runs up the filing margin,
// clear of the drawing's frame and of the punched holes.
func (c *composer) margin(l *leaf, number, total int) []mark {
	const x = 6.5
	st := style{regular, 6, faintInk}
	parts := []string{line(c.doc.Title), l.section, c.say("Revision %s", line(c.doc.Revision)), line(c.doc.Date), itoa(number) + " / " + itoa(total)}
	parts = slices.DeleteFunc(parts, func(s string) bool { return s == "" })
	if c.doc.Draft {
		parts = append([]string{draftWord}, parts...)
		st.ink = accentInk
	}
	var marks []mark
	for _, m := range c.oneLine(strings.Join(parts, "  ·  "), st, 0, 0, l.height-24) {
		// A sign that is drawn has no turned form; it is left out here.
		if words, ok := m.(textMark); ok {
			marks = append(marks, apartMark{sideMark{x, l.height - 12 - words.x, words.words, words.style}})
		}
	}
	return marks
}
