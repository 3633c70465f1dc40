package check

import (
	"math"
	"testing"
)

func TestLiterals(t *testing.T) {
	for _, test := range []struct {
		name, text string
		want       []string
		si         []float64
	}{
		{name: "length", text: "saw it to 412 mm.", want: []string{"412 mm"}, si: []float64{0.412}},
		{name: "two", text: "4.31 kN at 160 rpm", want: []string{"4.31 kN", "160 rpm"}, si: []float64{4310, 160 * 2 * math.Pi / 60}},
		{name: "inches", text: "about 3/8 in deep", want: []string{"3/8 in"}, si: []float64{0.009525}},
		{name: "designation", text: "M8x25 and 12×28×8 mm and ISO 4762"},
		{name: "no unit", text: "two of 12 screws, 30 percent"},
		{name: "share", text: "30 % of it"},
		{name: "words behind", text: "5 minutes later", want: nil},
		{name: "date and version", text: "2026-05-02, 1.2.3"},
	} {
		t.Run(test.name, func(t *testing.T) {
			got := literals(test.text)
			if len(got) != len(test.want) {
				t.Fatalf("got %d quantities in %q, want %d", len(got), test.text, len(test.want))
			}
			for i, l := range got {
				if words := test.text[l.offset : l.offset+l.length]; words != test.want[i] || math.Abs(l.value.SI-test.si[i]) > 1e-9*math.Abs(test.si[i]) {
					t.Errorf("got %q = %g, want %q = %g", words, l.value.SI, test.want[i], test.si[i])
				}
			}
		})
	}
}

func TestBlankedKeepsPlaces(t *testing.T) {
	text := "Bolt {head_plate} and `M8x30` down; see [it](files/a.txt) ä ```\n412 mm\n```\n1. four posts"
	got := blanked(text)
	if len(got) != len(text) {
		t.Fatalf("%d bytes became %d", len(text), len(got))
	}
	for i := range len(got) {
		if got[i] != text[i] && got[i] != ' ' {
			t.Errorf("byte %d: %q became %q", i, text[i], got[i])
		}
	}
	if l := literals(got); len(l) != 0 {
		t.Errorf("code is read as prose: %v", l)
	}
}

func FuzzTexts(f *testing.F) {
	for _, seed := range []string{"saw it to 412 mm", "the eight M8 screws", "3/8 in ± 1 %", "{a}`b`", "12×28×8", "5\u00a0mm", "é4 kN"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		plain := blanked(text)
		if len(plain) != len(text) {
			t.Fatalf("%d bytes became %d", len(text), len(plain))
		}
		for _, l := range literals(plain) {
			if l.offset < 0 || l.length <= 0 || l.offset+l.length > len(plain) {
				t.Fatalf("a quantity outside the text: %+v", l)
			}
			start, end := sentenceAt(text, l.offset)
			if start > l.offset || end < l.offset {
				t.Fatalf("a sentence %d to %d without its number at %d", start, end, l.offset)
			}
		}
	})
}
