package binder

import (
	"plansheaf/publish/page"
	"plansheaf/publish/sign"
	"plansheaf/publish/wording"
)

// A signalLook is how a signal word's panel looks, after ANSI Z535.6: white on
// red, black on orange, black on yellow, white italics on blue.
type signalLook struct {
	word        wording.Phrase
	fill, words colour
	face        face
	alert       bool // the safety alert symbol stands before the word
}

var signalLooks = map[page.Signal]signalLook{
	page.Danger:  {"DANGER", colour{0xb8, 0x12, 0x1b}, white, bold, true},
	page.Warning: {"WARNING", colour{0xf0, 0x7d, 0x00}, black, bold, true},
	page.Caution: {"CAUTION", colour{0xf9, 0xc8, 0x00}, black, bold, true},
	page.Notice:  {"NOTICE", colour{0x00, 0x4f, 0x9f}, white, boldItalic, false},
}

// lookOf is the look of a signal word; an unknown one warns.
func lookOf(s page.Signal) signalLook {
	look, known := signalLooks[s]
	if !known {
		look = signalLooks[page.Warning]
	}
	return look
}

// Sizes of caution boxes in millimetres.
const (
	signalHeight = 7.0
	signSize     = 15.0
	cautionPad   = 2.4
	generalSign  = "W001"
	noticeSign   = "M001"
)

// caution composes a warning: the signal word on its panel, the sign, the words.
// It is kept whole.
func (c *composer) caution(b page.CautionBox, col column) []atom {
	look := lookOf(b.Signal)
	atoms := []atom{c.signalPanel(look, col)}
	inner := column{col.x + signSize + 2*cautionPad, min(measure, col.width-signSize-3*cautionPad), col.size, col.depth + 1}
	var text []atom
	if len(b.Title) > 0 {
		text = c.set(c.runs(b.Title, style{bold, col.size + 0.5, ink}, false), inner)
		holding(text, glued)
	}
	if body := c.blocks(b.Blocks, inner); len(body) > 0 {
		if len(text) > 0 {
			text[len(text)-1].stay = glued
		}
		text = append(text, body...)
	}
	text = c.besideSign(b, text, col)
	text[len(text)-1].after = 0
	atoms = append(atoms, text...)
	edge := look.fill
	if b.Signal == page.Caution {
		edge = ink
	}
	atoms = framed(closed(atoms, cautionPad), &frame{pad: framePad, draw: func(top, bottom float64, _, _ bool) []mark {
		return []mark{boxMark{rect: rect{col.x, top, col.width, bottom - top}, ink: &edge, width: 0.5}}
	}})
	return spaced(together(atoms, c.paper.room()*0.8), 3.6)
}

// signalPanel is the coloured strip with the signal word.
func (c *composer) signalPanel(look signalLook, col column) atom {
	const letters = 11.5
	fill := look.fill
	marks := []mark{boxMark{rect: rect{col.x, 0, col.width, signalHeight}, fill: &fill}}
	x, base := col.x+cautionPad, signalHeight/2+capitalHeight(letters)/2
	if look.alert {
		marks = append(marks, alertSymbol(x, (signalHeight-4.8)/2, 4.8, look))
		x += 4.8*1.12 + 2
	}
	marks = append(marks, textMark{x, base, c.say(look.word), style{look.face, letters, look.words}})
	return atom{height: signalHeight, after: cautionPad, stay: glued, marks: marks}
}

// alertSymbol is the safety alert symbol: a triangle with an exclamation mark in
// the colour of the panel.
func alertSymbol(x, y, height float64, look signalLook) mark {
	return alertMark{rect{x, y, height * 1.12, height}, look.words, look.fill}
}

// besideSign puts the sign left of the text's first atoms, which stay with it.
func (c *composer) besideSign(b page.CautionBox, text []atom, col column) []atom {
	code := b.Sign
	if code == "" {
		code = generalSign
		if b.Signal == page.Notice {
			code = noticeSign
		}
	}
	drawn, ok := sign.Picture(code, signSize)
	if !ok {
		c.problem(Problem{Kind: BadPicture, Text: "no sign " + code + " is drawn; the general one is printed"})
		drawn, ok = sign.Picture(generalSign, signSize)
	}
	if len(text) == 0 {
		text = []atom{{height: lineHeight(col.size)}}
	}
	text[0].before = cautionPad
	if ok {
		text[0].marks = append(text[0].marks, pictureMark{col.x + cautionPad, 0, signSize / drawn.Width, drawn, false})
	}
	// The atoms next to the sign stay with it; short ones are made as high.
	y, i := text[0].height, 0
	for ; y < signSize && i+1 < len(text); i++ {
		text[i].stay = glued
		y += max(text[i].after, text[i+1].before) + text[i+1].height
	}
	if y < signSize {
		text[i].stay, text[i].after = glued, 0
		text = append(text, atom{height: signSize - y})
	}
	return text
}
