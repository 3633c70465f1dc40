package site

import (
	"fmt"
	"html/template"
	"slices"
	"strings"
	"unicode/utf8"

	"plansheaf/publish/page"
)

// words is running text as HTML. Everything that comes from the plan is escaped
// here; addresses go through target.
func (w *pageWriter) words(words []page.Inline) template.HTML {
	var b strings.Builder
	w.write(&b, words)
	return template.HTML(b.String())
}

func (w *pageWriter) write(b *strings.Builder, words []page.Inline) {
	wrap := func(tag string, inner []page.Inline) {
		b.WriteString("<" + tag + ">")
		w.write(b, inner)
		b.WriteString("</" + tag + ">")
	}
	for _, word := range words {
		switch word := word.(type) {
		case page.Text:
			b.WriteString(escape(string(word)))
		case page.Strong:
			wrap("strong", word.Words)
		case page.Emphasis:
			wrap("em", word.Words)
		case page.Verbatim:
			b.WriteString("<code>" + breakable.Replace(escape(string(word))) + "</code>")
		case page.Formula:
			writeFormula(b, word.Is)
		case page.Measure:
			writeMeasure(b, word)
		case page.Varies:
			w.writeVaries(b, word)
		case page.Link:
			w.writeLink(b, word)
		case page.NoteRef:
			w.writeNoteRef(b, int(word))
		case page.Newline:
			b.WriteString("<br>")
		}
	}
}

// breakable lets the long names of a plan break after their words, not within them.
var breakable = strings.NewReplacer("_", "_<wbr>")

// shortMeasure is how many characters a quantity may have that must stay on one
// line.
const shortMeasure = 14

// writeMeasure shows both texts; the style sheet hides one when the reader asks
// for a single system.
func writeMeasure(b *strings.Builder, m page.Measure) {
	if m.Second == "" {
		b.WriteString(escape(glued(m.First)))
		return
	}
	class := "two"
	if utf8.RuneCountInString(m.First) > shortMeasure {
		class = "two long" // three lengths and the like may break
	}
	fmt.Fprintf(b, `<span class="%s"><span class="u1">%s</span> <span class="u2"><span class="b">(</span>%s<span class="b">)</span></span></span>`,
		class, escape(glued(m.First)), escape(glued(m.Second)))
}

// glued keeps a short quantity's number and unit on one line.
func glued(text string) string {
	if utf8.RuneCountInString(text) > shortMeasure {
		return text
	}
	return strings.ReplaceAll(text, " ", "\u00a0")
}

// writeVaries writes every variant: the one for the default choices first and
// plainly, the rest behind a mark that the script takes away. data-n keeps the
// order in which the variants are tried.
func (w *pageWriter) writeVaries(b *strings.Builder, v page.Varies) {
	standard := slices.IndexFunc(v.Variants, func(variant page.Variant) bool { return variant.When.Fits(w.standard) })
	b.WriteString(`<span class="varies">`)
	if standard >= 0 {
		variant := v.Variants[standard]
		fmt.Fprintf(b, `<span data-n="%d" data-when="%s">`, standard, escape(w.only(variant.When).Data))
		w.write(b, variant.Words)
		b.WriteString(`</span>`)
	}
	for i, variant := range v.Variants {
		if i == standard {
			continue
		}
		o := w.only(variant.When)
		fmt.Fprintf(b, `<span data-n="%d" data-when="%s" class="other">`, i, escape(o.Data))
		if len(variant.Words) > 0 {
			fmt.Fprintf(b, `<span class="no-script"> [%s: </span>`, escape(o.Names))
			w.write(b, variant.Words)
			b.WriteString(`<span class="no-script">]</span>`)
		}
		b.WriteString(`</span>`)
	}
	b.WriteString(`</span>`)
}

// writeLink writes words alone when the address may not be followed.
func (w *pageWriter) writeLink(b *strings.Builder, link page.Link) {
	address, out := w.target(link.To)
	switch {
	case address == "":
		w.write(b, link.Words)
		return
	case out:
		fmt.Fprintf(b, `<a class="out" rel="noopener noreferrer" href="%s">`, escape(string(address)))
	case link.To.File != "" && !opensSafely(link.To.File):
		fmt.Fprintf(b, `<a download href="%s">`, escape(string(address)))
	default:
		fmt.Fprintf(b, `<a href="%s">`, escape(string(address)))
	}
	w.write(b, link.Words)
	b.WriteString("</a>")
}

// writeNoteRef writes a reference to a footnote; the first one to a note can be
// gone back to.
func (w *pageWriter) writeNoteRef(b *strings.Builder, number int) {
	id := ""
	if !w.noteRefs[number] {
		w.noteRefs[number] = true
		id = fmt.Sprintf(` id="%sref-%d"`, ownMark, number)
	}
	fmt.Fprintf(b, `<sup><a%s href="#%snote-%d"><span class="quiet">%s </span>%d</a></sup>`, id, ownMark, number, escape(w.tongue.Say("Note|a footnote")), number)
}

func escape(s string) string { return template.HTMLEscapeString(s) }
