package binder

import (
	"strings"
	"unicode"

	"plansheaf/publish/notation"
	"plansheaf/publish/page"
	"plansheaf/publish/picture"
)

// A run is words of one look, or a symbol, a page number to come, or a forced
// line end.
type run struct {
	words   string
	style   style
	link    destination // where the run leads; zero: nowhere
	symbol  rune        // drawn instead of words
	page    string      // anchor whose page number stands here
	newline bool
	rise    float64 // mm above the baseline
}

// leads reports whether the run is a link.
func (r run) leads() bool { return r.link.anchorOrURL() }

// symbolWidth is the advance of a drawn symbol in millimetres.
func symbolWidth(r rune, size float64) float64 {
	return picture.TextWidth(string(r), capitalHeight(size), picture.Sans)
}

// capitalHeight is the height in millimetres of capitals set in size points.
func capitalHeight(size float64) float64 {
	return size * mmPerPoint / picture.FontSize(1)
}

// runs flattens inlines for printing in the look st. References inside running
// prose get the page number of where they lead, since paper cannot be clicked.
// The runs hold until others are asked for.
func (c *composer) runs(words []page.Inline, st style, prose bool) []run {
	w := &writer{composer: c, prose: prose, out: c.scratch.runs[:0]}
	w.inlines(words, st, destination{}, 0)
	c.scratch.runs = w.out
	return w.out
}

// A writer collects runs.
type writer struct {
	*composer
	prose bool
	out   []run
}

// deepestWords bounds nested emphasis and links; deeper ones are printed flat.
const deepestWords = 64

func (w *writer) inlines(words []page.Inline, st style, link destination, depth int) {
	if depth > deepestWords {
		return
	}
	for _, word := range words {
		w.inline(word, st, link, depth+1)
	}
}

func (w *writer) inline(word page.Inline, st style, link destination, depth int) {
	switch word := word.(type) {
	case page.Text:
		w.text(string(word), st, link)
	case page.Strong:
		st.face = strong[st.face]
		w.inlines(word.Words, st, link, depth)
	case page.Emphasis:
		st.face = slanted[st.face]
		w.inlines(word.Words, st, link, depth)
	case page.Verbatim:
		st.face, st.size = fixedly[st.face], st.size*monoScale
		w.text(string(word), st, link)
	case page.Formula:
		w.formula(word.Is, st, link)
	case page.Measure:
		w.measure(word, st, link)
	case page.Varies:
		w.inlines(word.Pick(w.choices), st, link, depth)
	case page.Link:
		w.link(word, st, link, depth)
	case page.NoteRef:
		w.noteRef(int(word), st)
	case page.Newline:
		w.out = append(w.out, run{newline: true, style: st})
	}
}

// monoScale makes fixed-width words look as large as the others.
const monoScale = 0.94

func (w *writer) text(text string, st style, link destination) {
	for _, s := range w.cleaned(text, st.face) {
		r := run{words: s.words, style: st, link: link}
		r.style.face = s.face
		if s.symbol {
			r.symbol, r.words = []rune(s.words)[0], ""
		}
		w.out = append(w.out, r)
	}
}

// measure prints both texts of a quantity; neither is broken inside.
func (w *writer) measure(m page.Measure, st style, link destination) {
	glued := func(text string) string { return strings.ReplaceAll(text, " ", string(noBreak)) }
	w.text(glued(m.First), st, link)
	if m.Second != "" {
		w.text(" ("+glued(m.Second)+")", st, link)
	}
}

// link prints words that lead elsewhere. An outside address or a file is spelled
// out in prose where the words do not say it already.
func (w *writer) link(l page.Link, st style, outer destination, depth int) {
	to, inside := w.target(l.To)
	if !to.anchorOrURL() {
		w.inlines(l.Words, st, outer, depth)
		if l.To.File != "" && !strings.Contains(plain(l.Words, w.choices), l.To.File) && w.prose {
			st.face, st.size = fixedly[st.face], st.size*monoScale
			w.text(" ("+l.To.File+")", st, outer)
		}
		return
	}
	lit := st
	lit.ink = linkInk
	w.inlines(l.Words, lit, to, depth)
	small := style{regular, st.size * 0.8, faintInk}
	switch {
	case !w.prose:
	case inside:
		w.out = append(w.out, run{words: string(noBreak), style: small, link: to},
			run{page: to.anchor, style: small, link: to})
	case !strings.Contains(plain(l.Words, w.choices), strings.TrimPrefix(to.url, "mailto:")):
		w.text(" ("+strings.TrimPrefix(l.To.URL, "mailto:")+")", small, to)
	}
}

func (d destination) anchorOrURL() bool { return d.anchor != "" || d.url != "" }

func (w *writer) noteRef(number int, st style) {
	st.size *= 0.7
	raised := run{words: itoa(number), style: st, rise: st.size * mmPerPoint * 0.45}
	raised.style.ink = linkInk
	raised.link = destination{anchor: w.noteAnchor(number)}
	w.out = append(w.out, raised)
}

// plain is the words alone, as chosen by c.
func plain(words []page.Inline, c page.Combination) string {
	var b strings.Builder
	plainInto(&b, words, c, 0)
	return b.String()
}

func plainInto(b *strings.Builder, words []page.Inline, c page.Combination, depth int) {
	if depth > deepestWords {
		return
	}
	for _, word := range words {
		switch word := word.(type) {
		case page.Text:
			b.WriteString(string(word))
		case page.Verbatim:
			b.WriteString(string(word))
		case page.Strong:
			plainInto(b, word.Words, c, depth+1)
		case page.Emphasis:
			plainInto(b, word.Words, c, depth+1)
		case page.Link:
			plainInto(b, word.Words, c, depth+1)
		case page.Varies:
			plainInto(b, word.Pick(c), c, depth+1)
		case page.Formula:
			b.WriteString(notation.Words(word.Is))
		case page.Measure:
			b.WriteString(word.First)
			if word.Second != "" {
				b.WriteString(" (" + word.Second + ")")
			}
		case page.Newline:
			b.WriteByte(' ')
		}
	}
}

// spaceLike reports whether r is a space at which a line may end.
func spaceLike(r rune) bool {
	return r != noBreak && r != '\u202f' && r != '\u2007' && (r == ' ' || unicode.Is(unicode.Zs, r))
}
