package binder

import (
	"math"
	"strings"
)

// draftWord is what a draft says on every leaf.
const draftWord = "DRAFT"

// strip is the title strip at the head of every leaf, ruled like the title block
// of a drawing, and the line at its foot that says what the leaf is for.
func (c *composer) strip(l *leaf, left float64, number, total int) []mark {
	if l.bare {
		// The cover names the machine itself; it keeps its number.
		return c.foot(left, number, total)
	}
	width, top, high := c.paper.textWidth(), c.paper.stripTop, c.paper.stripHeight
	fields := []struct {
		label, value string
		width        float64
	}{
		{"Title", line(c.doc.Title), 0},
		{"Section", l.section, 0},
		{"Revision", c.doc.Revision, 17},
		{"Date", c.doc.Date, 24},
		{"Page", itoa(number) + " / " + itoa(total), 22},
	}
	if c.doc.Draft {
		fields[2].label = "Revision – " + draftWord
		fields[2].width = 27
	}
	rest := width
	for _, f := range fields {
		rest -= f.width
	}
	fields[0].width, fields[1].width = rest*0.5, rest*0.5
	edge := ink
	marks := []mark{boxMark{rect: rect{left, top, width, high}, ink: &edge, width: 0.3}}
	x := left
	for i, f := range fields {
		if i > 0 {
			marks = append(marks, ruleMark{x, top, x, top + high, 0.18, ink, false})
		}
		label := style{regular, labelSize, faintInk}
		if strings.HasSuffix(f.label, draftWord) {
			label = style{bold, labelSize, accentInk}
		}
		value := style{regular, 8, ink}
		if i == 0 || i == len(fields)-1 {
			value.face = bold
		}
		marks = append(marks, textMark{x + 1.4, top + 2.9, f.label, label})
		marks = append(marks, c.oneLine(f.value, value, x+1.4, top+7.4, f.width-2.8)...)
		x += f.width
	}
	return append(marks, c.foot(left, 0, 0)...)
}

// foot is the line at a leaf's foot: for which choices it holds, under which
// licence, and the number where the leaf has no title strip.
func (c *composer) foot(left float64, number, total int) []mark {
	y, width := c.paper.height-9, c.paper.textWidth()
	st := style{regular, 6.4, faintInk}
	right := line(c.doc.License)
	if total > 0 {
		right = strings.TrimPrefix(line(c.doc.Title)+"  ·  ", "  ·  ")
		right += "Revision " + line(c.doc.Revision) + "  ·  " + itoa(number) + " / " + itoa(total)
	}
	marks := []mark{ruleMark{left, y - 3.6, left + width, y - 3.6, 0.12, hairInk, false}}
	rightWords := c.oneLineText(right, st, width*0.5)
	long := rightWords.width(c.fonts)
	marks = append(marks, rightWords.at(left+width-long, y)...)
	return append(marks, c.oneLine(c.chosen(), st, left, y, width-long-6)...)
}

// chosen says for which choices the binder is.
func (c *composer) chosen() string {
	var parts []string
	for _, choice := range c.doc.Choices {
		if option := c.option(choice.ID); option != "" {
			parts = append(parts, line(choice.Title)+": "+option)
		}
	}
	return strings.Join(parts, "  ·  ")
}

// option is the title of the option taken for a choice.
func (c *composer) option(choice string) string {
	for _, have := range c.doc.Choices {
		if have.ID != choice {
			continue
		}
		for _, o := range have.Options {
			if o.ID == c.choices[choice] {
				return line(o.Title)
			}
		}
	}
	return ""
}

// A flatLine is safe text for one line, perhaps shortened by an ellipsis.
type flatLine struct {
	parts []textMark // x counted from the line's start
}

func (f flatLine) width(fonts *fonts) float64 {
	end := 0.0
	for _, p := range f.parts {
		end = p.x + fonts.width(p.words, p.style.face, p.style.size)
	}
	return end
}

func (f flatLine) at(x, y float64) []mark {
	var marks []mark
	for _, p := range f.parts {
		marks = append(marks, p.moved(x, y))
	}
	return marks
}

// oneLine sets text on one line that is at most width long.
func (c *composer) oneLine(text string, st style, x, y, width float64) []mark {
	return c.oneLineText(text, st, width).at(x, y)
}

func (c *composer) oneLineText(text string, st style, width float64) flatLine {
	const ellipsis, most = "…", 300
	if runes := []rune(line(text)); len(runes) > most {
		text = string(runes[:most])
	}
	spans := c.cleaned(line(text), st.face)
	room, whole := width, 0.0
	for _, s := range spans {
		whole += c.fonts.width(s.words, s.face, st.size)
	}
	if whole > width {
		room -= c.fonts.width(ellipsis, st.face, st.size)
	}
	var f flatLine
	x := 0.0
	for _, s := range spans {
		part, look, from := "", style{s.face, st.size, st.ink}, x
		for _, cluster := range clusters(strings.ReplaceAll(s.words, string(breakHere), "")) {
			w := c.fonts.width(cluster, s.face, st.size)
			if x+w > room+tolerance {
				f.parts = append(f.parts, textMark{from, 0, part, look}, textMark{x, 0, ellipsis, style{st.face, st.size, st.ink}})
				return f
			}
			part, x = part+cluster, x+w
		}
		f.parts = append(f.parts, textMark{from, 0, part, look})
	}
	return f
}

// edgeMarks are ticks at the punched edge: where the paper is folded for the
// punch, and where the holes come.
func (c *composer) edgeMarks(bound bool) []mark {
	x := c.paper.width
	inward := -1.0
	if bound {
		x, inward = 0, 1
	}
	middle := c.paper.height / 2
	marks := []mark{ruleMark{x + inward*5, middle, x + inward*8, middle, 0.12, hairInk, false}}
	const holeCentre, arm = 12.0, 0.8
	for _, hole := range c.paper.holes {
		y := middle + hole
		marks = append(marks,
			ruleMark{x + inward*holeCentre - arm, y, x + inward*holeCentre + arm, y, 0.1, hairInk, false},
			ruleMark{x + inward*holeCentre, y - arm, x + inward*holeCentre, y + arm, 0.1, hairInk, false})
	}
	return marks
}

// draftAcross is DRAFT in large pale letters from corner to corner.
func (c *composer) draftAcross(l *leaf) mark {
	w, h := l.width, l.height
	turn := math.Atan2(h, w)
	long := math.Hypot(w, h) * 0.55
	st := style{bold, 100, paleInk}
	st.size *= long / c.fonts.width(draftWord, st.face, st.size)
	capital := capitalHeight(st.size)
	sin, cos := math.Sincos(turn)
	// The middle of the letters is the middle of the leaf.
	x, y := w/2-long/2*cos+capital/2*sin, h/2+long/2*sin+capital/2*cos
	across, up := long*cos+capital*sin, long*sin+capital*cos
	over := rect{w/2 - across/2, h/2 - up/2, across, up}
	return watermark{textMark{x, y, draftWord, st}, turn * 180 / math.Pi, over}
}
