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
		{c.say("Title"), line(c.doc.Title), 0},
		{c.say("Section"), l.section, 0},
		{c.say("Revision"), c.doc.Revision, 17},
		{c.say("Date"), c.doc.Date, 24},
		{c.say("Page"), itoa(number) + " / " + itoa(total), 22},
	}
	if c.doc.Draft {
		fields[2].label = c.say("Revision – %s", draftWord)
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
		says := c.oneLine(f.value, value, x+1.4, top+7.4, f.width-2.8)
		if i == len(fields)-1 {
			for n, m := range says {
				says[n] = apartMark{m}
			}
		}
		marks = append(marks, says...)
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
		right += c.say("Revision %s", line(c.doc.Revision)) + "  ·  " + itoa(number) + " / " + itoa(total)
	}
	marks := []mark{ruleMark{left, y - 3.6, left + width, y - 3.6, 0.12, hairInk, false}}
	rightWords := c.oneLineText(right, st, width*0.5)
	marks = append(marks, c.lineMarks(rightWords, left+width-rightWords.width, y)...)
	return append(marks, c.oneLine(c.chosen(), st, left, y, width-rightWords.width-6)...)
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

// oneLine sets text on one line that is at most width long.
func (c *composer) oneLine(text string, st style, x, y, width float64) []mark {
	return c.lineMarks(c.oneLineText(text, st, width), x, y)
}

// oneLineText is text as one line, shortened by an ellipsis where it is longer
// than width.
func (c *composer) oneLineText(text string, st style, width float64) textLine {
	const ellipsis, most = "…", 300
	text = line(text)
	if runes := []rune(text); len(runes) > most {
		text = string(runes[:most])
	}
	w := &writer{composer: c}
	w.text(text, st, destination{})
	whole := 0.0
	for i, r := range w.out {
		w.out[i].words = strings.ReplaceAll(r.words, string(breakHere), "")
		whole += c.runWidth(&w.out[i])
	}
	if whole <= width {
		return textLine{w.out, whole}
	}
	end := run{words: ellipsis, style: st}
	now := textLine{}
	room := width - c.runWidth(&end)
	for _, r := range w.out {
		pieces := []string{""}
		if r.words != "" {
			pieces = clusters(r.words)
		}
		for _, cluster := range pieces {
			p := r
			p.words = cluster
			long := c.runWidth(&p)
			if now.width+long > room+tolerance {
				return textLine{append(now.runs, end), now.width + c.runWidth(&end)}
			}
			now.runs, now.width = append(now.runs, p), now.width+long
		}
	}
	return now
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
