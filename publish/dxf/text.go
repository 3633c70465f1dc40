package dxf

import (
	"fmt"
	"math"
	"strings"

	"plansheaf/publish/picture"
)

// A style is a font with a name.
type style struct {
	name, font string
	face       picture.Face
}

// standardStyle is the text style that every file has.
const standardStyle = "Standard"

// styles are the faces of pictures; a reader without the fonts takes its own, and
// text keeps its place and height.
var styles = []style{
	{"sans", "DejaVuSans.ttf", picture.Sans},
	{"sans-bold", "DejaVuSans-Bold.ttf", picture.SansBold},
	{"sans-oblique", "DejaVuSans-Oblique.ttf", picture.SansOblique},
	{"sans-bold-oblique", "DejaVuSans-BoldOblique.ttf", picture.SansBoldOblique},
	{"mono", "DejaVuSansMono.ttf", picture.Mono},
	{"mono-bold", "DejaVuSansMono-Bold.ttf", picture.MonoBold},
}

func styleOf(f picture.Face) string {
	for _, s := range styles {
		if s.face == f {
			return s.name
		}
	}
	return standardStyle
}

func (w *writer) styleTable(styles []style) {
	all := append([]style{{name: standardStyle, font: "txt"}}, styles...)
	table := w.table("STYLE", len(all))
	for _, s := range all {
		w.entry("STYLE", "AcDbTextStyleTableRecord", s.name, w.take(), table)
		w.integer(70, 0)
		w.number(40, 0) // each text says its height
		w.number(41, 1)
		w.number(50, 0)
		w.integer(71, 0)
		w.number(42, 2.5)
		w.text(3, s.font)
		w.text(4, "")
	}
	w.endTable()
}

// A label is a line of letters.
type label struct {
	words  string
	left   point // left end on the baseline
	at     point // what anchor and rise stand at
	anchor picture.Anchor
	rise   picture.Rise
	height float64 // of a capital
	turn   float64
	style  string
}

// justifyAcross and justifyUp are the format's numbers for where text is held.
var (
	justifyAcross = map[picture.Anchor]int{picture.Start: 0, picture.Middle: 1, picture.End: 2}
	justifyUp     = map[picture.Rise]int{picture.Baseline: 0, picture.MidCapital: 2, picture.TopCapital: 3}
)

func (f *file) label(p pen, l label) {
	across, up := justifyAcross[l.anchor], justifyUp[l.rise]
	f.entity("TEXT", p, "AcDbText")
	f.point(10, l.left)
	f.number(40, l.height)
	f.text(1, spelled(l.words))
	turn, _ := forward(l.turn, 0)
	f.number(50, degrees(turn))
	f.text(7, l.style)
	f.integer(72, across)
	if across != 0 || up != 0 {
		f.point(11, l.at)
	}
	f.text(100, "AcDbText")
	f.integer(73, up)
}

// spelled is text as the format has it. Two per cent signs begin a code, a caret a
// control character, \U+ a rune by number: where the words hold these themselves
// they are spelled so that they come out as they are. Signs that have a code of
// their own are written as such, since every reader's font shows those.
func spelled(words string) string {
	var b strings.Builder
	runes := []rune(words)
	for i, r := range runes {
		switch {
		case r == '⌀':
			b.WriteString("%%c")
		case r == '°':
			b.WriteString("%%d")
		case r == '±':
			b.WriteString("%%p")
		case r == '%' && percentNear(runes, i):
			b.WriteString("%%%")
		case r == '^':
			b.WriteString("^ ")
		case r == '\\' || r > '~':
			// A code holds four digits; picture.Shown has nothing beyond them.
			fmt.Fprintf(&b, `\U+%04X`, min(r, math.MaxUint16))
		case r < ' ':
			b.WriteByte(' ')
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// coded are the signs that spelled begins with two per cent signs.
const coded = "%⌀°±"

// percentNear tells whether a per cent sign stands beside another, or beside a sign
// that is written with some.
func percentNear(runes []rune, i int) bool {
	beside := func(k int) bool { return k >= 0 && k < len(runes) && strings.ContainsRune(coded, runes[k]) }
	return beside(i-1) || beside(i+1)
}
