package binder

import (
	"fmt"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"plansheaf/publish/picture"
	"plansheaf/themes"
)

// A face is one of the fonts that the binder's own words are set in.
type face int

const (
	regular face = iota
	bold
	italic
	boldItalic
	mono
	monoBold
	faceCount
)

// faceSpecs are the faces in the order of their constants. Package picture
// registers them, so that a drawing's letters and the text's are one font in the
// file.
var faceSpecs = [faceCount]struct {
	family, style string
	data          *[]byte
	picture       picture.Face
}{
	regular:    {picture.SansFamily, "", &themes.Sans, picture.Sans},
	bold:       {picture.SansFamily, "B", &themes.SansBold, picture.SansBold},
	italic:     {picture.SansFamily, "I", &themes.SansOblique, picture.SansOblique},
	boldItalic: {picture.SansFamily, "BI", &themes.SansBoldOblique, picture.SansBoldOblique},
	mono:       {picture.MonoFamily, "", &themes.Mono, picture.Mono},
	monoBold:   {picture.MonoFamily, "B", &themes.MonoBold, picture.MonoBold},
}

// strong and slanted are the faces of emphasis within another face. Mono has no
// slanted face.
var (
	strong  = [faceCount]face{regular: bold, bold: bold, italic: boldItalic, boldItalic: boldItalic, mono: monoBold, monoBold: monoBold}
	slanted = [faceCount]face{regular: italic, bold: boldItalic, italic: italic, boldItalic: boldItalic, mono: mono, monoBold: monoBold}
	fixedly = [faceCount]face{regular: mono, bold: monoBold, italic: mono, boldItalic: monoBold, mono: mono, monoBold: monoBold}
)

// mmPerPoint converts type sizes to millimetres.
const mmPerPoint = 25.4 / 72

// fonts measures text and knows which characters each face can print. It is
// made for one rendering and is not safe for several goroutines.
type fonts struct {
	parsed  [faceCount]*sfnt.Font
	buffer  sfnt.Buffer
	advance [faceCount]map[rune]float64     // in ems; negative: the face has no such glyph
	common  [faceCount][commonRunes]float64 // the same of the first runes; 0: not asked for yet
}

// commonRunes are looked up without a map: Latin, Greek, Cyrillic, punctuation, arrows and
// mathematical signs.
const commonRunes = 0x2300

// noAdvance stands for 0 among the common runes.
const noAdvance = 1e-300

// openFonts parses the embedded fonts. sfnt checks them, as gofpdf would only
// print a message for a bad one, or panic.
func openFonts() (*fonts, error) {
	f := &fonts{}
	for i, spec := range faceSpecs {
		parsed, err := sfnt.Parse(*spec.data)
		if err != nil {
			return nil, fmt.Errorf("read font %s%s: %w", spec.family, spec.style, err)
		}
		f.parsed[i], f.advance[i] = parsed, map[rune]float64{}
	}
	return f, nil
}

// emUnits is the size at which advances are asked for; large, so that rounding
// to 1/64 does not show.
const emUnits = 2048

// em is the advance of r in ems, or a negative number if the face has no glyph
// for it.
func (f *fonts) em(which face, r rune) float64 {
	if r >= 0 && r < commonRunes {
		advance := f.common[which][r]
		if advance == 0 {
			if advance = f.measured(which, r); advance == 0 {
				advance = noAdvance
			}
			f.common[which][r] = advance
		}
		return advance
	}
	advance, known := f.advance[which][r]
	if !known {
		advance = f.measured(which, r)
		f.advance[which][r] = advance
	}
	return advance
}

// measured is the advance of r as its font has it.
func (f *fonts) measured(which face, r rune) float64 {
	if glyph, err := f.parsed[which].GlyphIndex(&f.buffer, r); err == nil && glyph != 0 {
		if a, err := f.parsed[which].GlyphAdvance(&f.buffer, glyph, fixed.I(emUnits), font.HintingNone); err == nil {
			return float64(a) / 64 / emUnits
		}
	}
	return -1
}

// has reports whether the face can print r.
func (f *fonts) has(which face, r rune) bool { return r <= 0xFFFF && f.em(which, r) >= 0 }

// width is the length of words in millimetres. The words hold only characters
// that the face has.
func (f *fonts) width(words string, which face, size float64) float64 {
	ems := 0.0
	for _, r := range words {
		ems += max(0, f.em(which, r))
	}
	return ems * size * mmPerPoint
}
