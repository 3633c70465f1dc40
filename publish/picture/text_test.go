package picture

import (
	"math"
	"slices"
	"testing"

	"github.com/jung-kurt/gofpdf"
)

// TestTextWidthAgreesWithThePDF compares our measure with gofpdf's, which reads
// the font files by itself.
func TestTextWidthAgreesWithThePDF(t *testing.T) {
	pdf := gofpdf.New("P", "mm", "A4", "")
	RegisterFonts(pdf)
	for _, test := range []struct {
		name  string
		words string
	}{
		{name: "figures", words: "4× ⌀5.5 ↧12"},
		{name: "Latin", words: "Überwurfmutter für Ångström"},
		{name: "Cyrillic and Greek", words: "Жук µΩπ"},
		{name: "empty", words: ""},
	} {
		for face := Sans; face <= MonoBold; face++ {
			pdf.SetFont(pdfFonts[face].family, pdfFonts[face].style, FontSize(2.5)*72/25.4)
			got, want := TextWidth(test.words, 2.5, face), pdf.GetStringWidth(test.words)
			// gofpdf keeps widths in thousandths of an em, rounded.
			if slack := 0.001 * FontSize(2.5) * float64(1+len([]rune(test.words))); math.Abs(got-want) > slack {
				t.Errorf("%s, face %d: %.4f mm, gofpdf says %.4f", test.name, face, got, want)
			}
		}
	}
}

func TestMissingGlyphs(t *testing.T) {
	for _, test := range []struct {
		name string
		text string
		want []rune
	}{
		{name: "drawing signs", text: "⌀ ± ° × µ Ω ↧ ⌴ ⌵ ⌖ ⟂ ⏥ ∥ ☐ ☑ ⚠ ≤ ≥ →"},
		{name: "letters", text: "Ångström Łódź Ðæ Ελληνικά Кириллица"},
		{name: "Chinese", text: "a中文中", want: []rune{'中', '文'}},
		{name: "beyond the plane", text: "\U0001F527", want: []rune{0x1F527}},
		{name: "control", text: "a\x07b\tc", want: []rune{7, '\t'}},
		{name: "broken", text: "a\xffb", want: []rune{0xFFFD}},
	} {
		t.Run(test.name, func(t *testing.T) {
			if got := MissingGlyphs(test.text); !slices.Equal(got, test.want) {
				t.Errorf("missing %q, want %q", got, test.want)
			}
		})
	}
}

func TestTextBoundsFollowAnchorRiseAndTurn(t *testing.T) {
	base := Text{At: Point{50, 50}, Words: "120 [4.724]", Height: 2.5}
	width := base.Width()
	for _, test := range []struct {
		name string
		text Text
		want Point // middle of the capitals' box, before descent
	}{
		{name: "start", text: base, want: Point{50 + width/2, 48.75}},
		{name: "middle", text: Text{At: base.At, Words: base.Words, Height: 2.5, Anchor: Middle, Rise: MidCapital}, want: Point{50, 50}},
		{name: "end, top", text: Text{At: base.At, Words: base.Words, Height: 2.5, Anchor: End, Rise: TopCapital}, want: Point{50 - width/2, 51.25}},
		{name: "upright", text: Text{At: base.At, Words: base.Words, Height: 2.5, Anchor: Middle, Turn: math.Pi / 2}, want: Point{48.75, 50}},
	} {
		t.Run(test.name, func(t *testing.T) {
			c := test.text.Corners()
			below := test.text.Descent() / 2
			down := c[3].Minus(c[0])
			down = down.Times(1 / math.Hypot(down.X, down.Y))
			middle := c[0].Plus(c[2]).Times(0.5).Minus(down.Times(below))
			if middle.Distance(test.want) > 1e-9 {
				t.Errorf("middle %v, want %v", middle, test.want)
			}
		})
	}
}

func TestUpright(t *testing.T) {
	for _, test := range []struct {
		name  string
		along Point
		want  float64
	}{
		{name: "right", along: Point{1, 0}, want: 0},
		{name: "left", along: Point{-1, 0}, want: 0},
		{name: "up", along: Point{0, -1}, want: math.Pi / 2},
		{name: "down", along: Point{0, 1}, want: math.Pi / 2},
		{name: "falling", along: Point{1, 1}, want: -math.Pi / 4},
	} {
		if got := Upright(test.along); math.Abs(got-test.want) > 1e-9 {
			t.Errorf("%s: %v, want %v", test.name, got, test.want)
		}
	}
}
