package picture

import (
	"math"
	"sort"
	"strings"
	"sync"
	"unicode/utf8"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"plansheaf/themes"
)

// Face is one of the fonts that pictures are lettered in.
type Face int

// The faces.
const (
	Sans Face = iota
	SansBold
	SansOblique
	SansBoldOblique
	Mono
	MonoBold
)

// capital is the height of a capital letter in ems, the same in all DejaVu Sans
// faces (1493 of 2048 units).
const capital = 1493.0 / 2048

// How far letters reach below the baseline, in ems, measured on DejaVu Sans with
// a little to spare: figures and capitals, brackets and commas, letters with a
// tail.
const (
	flatDescent    = 0.02
	bracketDescent = 0.15
	tailDescent    = 0.25
)

// emDescent is how far words reach below the baseline, in ems.
func emDescent(words string) float64 {
	deep := flatDescent
	for _, r := range words {
		switch {
		case r >= 'A' && r <= 'Z' && r != 'Q', r >= '0' && r <= '9', strings.ContainsRune(" .:+-×⌀°±=″′abcdefhiklmnorstuvwxz", r):
		case strings.ContainsRune("[](),;/Q↧⌴⌵", r):
			deep = max(deep, bracketDescent)
		default:
			return tailDescent
		}
	}
	return deep
}

// Descent is how far the line reaches below its baseline, in millimetres.
func (t Text) Descent() float64 { return emDescent(t.Words) * FontSize(t.Height) }

// unitsPerEm of every DejaVu face.
const unitsPerEm = 2048

// denseRunes are looked up once; rarer ones each time.
const denseRunes = 0x3000

// metrics holds a face's glyphs. advance is in font units; -1 where the face has
// no glyph.
type metrics struct {
	font    *sfnt.Font
	advance [denseRunes]int16
}

// data returns the font file; the slice is shared and must not be written to.
func (f Face) data() []byte {
	switch f {
	case SansBold:
		return themes.SansBold
	case SansOblique:
		return themes.SansOblique
	case SansBoldOblique:
		return themes.SansBoldOblique
	case Mono:
		return themes.Mono
	case MonoBold:
		return themes.MonoBold
	}
	return themes.Sans
}

// loaded holds each face's metrics once it was asked for.
var loaded = func() (faces [MonoBold + 1]func() *metrics) {
	for f := range faces {
		faces[f] = sync.OnceValue(func() *metrics { return load(Face(f)) })
	}
	return faces
}()

func load(f Face) *metrics {
	parsed, err := sfnt.Parse(f.data())
	if err != nil {
		panic("picture: embedded font does not parse: " + err.Error())
	}
	m := &metrics{font: parsed}
	var buf sfnt.Buffer
	for r := range m.advance {
		m.advance[r] = glyphAdvance(parsed, &buf, rune(r))
	}
	return m
}

// glyphAdvance is the rune's advance in font units, -1 without a glyph.
func glyphAdvance(f *sfnt.Font, buf *sfnt.Buffer, r rune) int16 {
	glyph, err := f.GlyphIndex(buf, r)
	if err != nil || glyph == 0 {
		return -1
	}
	advance, err := f.GlyphAdvance(buf, glyph, fixed.I(unitsPerEm), font.HintingNone)
	if err != nil {
		return -1
	}
	return int16(advance.Round())
}

// of is the rune's advance in font units, -1 without a glyph.
func (m *metrics) of(r rune) int16 {
	if r >= 0 && r < denseRunes {
		return m.advance[r]
	}
	if r > 0xFFFF { // the PDF writer cannot set it
		return -1
	}
	var buf sfnt.Buffer
	return glyphAdvance(m.font, &buf, r)
}

// metrics of the face; an unknown face is Sans.
func (f Face) metrics() *metrics {
	if f < Sans || f > MonoBold {
		f = Sans
	}
	return loaded[f]()
}

// MissingGlyphs lists the runes of text, each once and in order, that no output
// can show: those that DejaVu Sans lacks and that are not drawn as symbols,
// control characters, invalid UTF-8 (as U+FFFD).
func MissingGlyphs(text string) []rune {
	var missing []rune
	seen := map[rune]bool{}
	for i, r := range text {
		_, size := utf8.DecodeRuneInString(text[i:])
		invalid := r == utf8.RuneError && size == 1
		if seen[r] || !invalid && shows(Sans, r) {
			continue
		}
		seen[r] = true
		missing = append(missing, r)
	}
	return missing
}

// shows reports whether the face, or a symbol of ours, shows the rune.
func shows(f Face, r rune) bool {
	if r < ' ' || r >= 0x7f && r < 0xa0 {
		return false
	}
	return HasSymbol(r) || f.metrics().of(r) >= 0
}

// Shown is text as an output can show it: runes without a glyph become the
// replacement character, tabs and line breaks become blanks.
func Shown(text string, face Face) string {
	clean := true
	for _, r := range text {
		clean = clean && r != utf8.RuneError && shows(face, r)
	}
	if clean {
		return text
	}
	runes := []rune(text)
	for i, r := range runes {
		switch {
		case r == '\t' || r == '\n' || r == '\r':
			runes[i] = ' '
		case !shows(face, r):
			runes[i] = utf8.RuneError
		}
	}
	return string(runes)
}

// TextWidth is the length of a line of words in millimetres, set in a face with
// capitals of a height in millimetres.
func TextWidth(words string, height float64, face Face) float64 {
	return emWidth(Shown(words, face), face) * height / capital
}

// emWidth is the length of words in ems.
func emWidth(words string, face Face) float64 {
	m := face.metrics()
	units, symbols := 0, 0.0
	for _, r := range words {
		if s, drawn := symbolOf(r, face); drawn {
			symbols += s.width * capital
			continue
		}
		if a := m.of(r); a > 0 {
			units += int(a)
		}
	}
	return float64(units)/unitsPerEm + symbols
}

// FontSize is the em in millimetres whose capitals have a height in millimetres.
func FontSize(height float64) float64 { return height / capital }

// Width is the length of the line in millimetres.
func (t Text) Width() float64 { return TextWidth(t.Words, t.Height, t.Face) }

// baseline is the left end of the text's baseline, before turning.
func (t Text) baseline() Point {
	at := t.At
	switch t.Anchor {
	case Middle:
		at.X -= t.Width() / 2
	case End:
		at.X -= t.Width()
	}
	switch t.Rise {
	case MidCapital:
		at.Y += t.Height / 2
	case TopCapital:
		at.Y += t.Height
	}
	return at
}

// Corners of the rectangle that the line fills, capitals' tops to the bottoms of
// descending letters, in order around it.
func (t Text) Corners() [4]Point {
	from := t.baseline()
	width, below := t.Width(), t.Descent()
	corners := [4]Point{
		{from.X, from.Y - t.Height}, {from.X + width, from.Y - t.Height},
		{from.X + width, from.Y + below}, {from.X, from.Y + below},
	}
	for i, c := range corners {
		corners[i] = t.At.Plus(turned(c.Minus(t.At), -t.Turn))
	}
	return corners
}

// Bounds is the smallest upright box around the line.
func (t Text) Bounds() Box {
	if t.Words == "" {
		return Nothing
	}
	corners := t.Corners()
	return BoxAround(corners[:]...)
}

// A piece is a run of letters, or one symbol, within a line of text.
type piece struct {
	offset float64 // mm from the line's left end
	words  string  // empty for a symbol
	symbol symbol
}

// pieces splits the line where symbols stand, since those are drawn as paths.
func (t Text) pieces() []piece {
	var list []piece
	words := Shown(t.Words, t.Face)
	offset, from := 0.0, 0
	flush := func(to int) {
		run := words[from:to]
		// SVG drops blanks at the ends of a text: stand them in the offset.
		if inner := strings.Trim(run, " "); inner != "" {
			lead := run[:strings.Index(run, inner)]
			list = append(list, piece{offset: offset + emWidth(lead, t.Face)*FontSize(t.Height), words: inner})
		}
		offset += emWidth(run, t.Face) * FontSize(t.Height)
	}
	for i, r := range words {
		s, drawn := symbolOf(r, t.Face)
		if !drawn {
			continue
		}
		flush(i)
		list = append(list, piece{offset: offset, symbol: s})
		offset += s.width * t.Height
		from = i + utf8.RuneLen(r)
	}
	flush(len(words))
	return list
}

// Upright is the turn of a line of text that runs along a direction on the paper
// and reads from below or from the right, as ISO 129-1 wants it: between -90
// degrees (exclusive) and +90 (inclusive), counter-clockwise.
func Upright(along Point) float64 {
	angle := math.Atan2(-along.Y, along.X)
	const slack = 1e-9
	switch {
	case angle > math.Pi/2+slack:
		angle -= math.Pi
	case angle <= -math.Pi/2+slack:
		angle += math.Pi
	}
	return angle
}

// Shortened is words cut to a width in millimetres, ending in an ellipsis where
// something is left out. Height and face are as for TextWidth.
func Shortened(words string, width, height float64, face Face) string {
	if TextWidth(words, height, face) <= width {
		return words
	}
	runes := []rune(words)
	n := sort.Search(len(runes), func(n int) bool { return TextWidth(string(runes[:n+1])+"…", height, face) > width })
	return strings.TrimRight(string(runes[:n]), " ") + "…"
}
