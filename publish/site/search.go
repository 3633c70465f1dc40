package site

import (
	"encoding/json"
	"fmt"
	"strings"
	"unicode"

	"plansheaf/publish/page"
)

// A searchEntry is a place that the search can find, as the script reads it.
type searchEntry struct {
	Title string `json:"t"`
	Kind  string `json:"k"`
	Href  string `json:"h"` // from the publication's root
	Note  string `json:"n,omitempty"`
	Words string `json:"w"` // all words of it, each once, lower case
	Only  string `json:"o,omitempty"`
}

// addScriptData writes what the script needs to know of other pages. They are
// scripts and not JSON files, since a page opened from a folder may load the one
// but not the other.
func (b *builder) addScriptData() error {
	for _, data := range []struct {
		file, name string
		value      any
	}{
		{"search-data.js", "searchData", b.searchEntries()},
		{"steps-data.js", "stepsData", b.stepsData()},
	} {
		text, err := json.Marshal(data.value)
		if err != nil {
			return fmt.Errorf("write %s: %w", data.file, err)
		}
		b.add("assets/"+data.file, []byte("self."+data.name+" = "+string(text)+";\n"))
	}
	return nil
}

func (b *builder) stepsData() []stepEntry {
	if b.steps == nil {
		return []stepEntry{}
	}
	return b.steps
}

// searchEntries are all pages, steps and sections.
func (b *builder) searchEntries() []searchEntry {
	entries := []searchEntry{}
	for _, p := range b.doc.Pages {
		w := &pageWriter{builder: b, page: p}
		own := newBag()
		own.take(p.Title, p.Summary, p.ID)
		var inner []searchEntry
		collect(p.Blocks, own, func(s page.Step) {
			words := newBag()
			words.take(s.ID)
			collectStep(s, words)
			inner = append(inner, searchEntry{
				Title: s.Number + " " + s.Title, Kind: "Step in " + p.Title,
				Href: string(w.rootHref(p.ID+".html", s.Anchor)), Words: words.String(),
				Only: b.only(append(p.Only[:len(p.Only):len(p.Only)], s.Only...)).Data,
			})
		})
		entries = append(entries, searchEntry{
			Title: p.Title, Kind: kindNames[p.Kind], Href: string(w.rootHref(p.ID+".html", "")),
			Note: p.Summary, Words: own.String(), Only: b.only(p.Only).Data,
		})
		entries = append(entries, inner...)
	}
	return entries
}

// rootHref is an address from the publication's root, to which the script adds
// the way there.
func (w *pageWriter) rootHref(path, anchor string) string {
	top := &pageWriter{builder: w.builder, page: &page.Page{}}
	return strings.TrimPrefix(string(top.href(path, anchor)), "./")
}

// collect gathers the words of blocks; steps are handed to step instead.
func collect(blocks []page.Block, into *bag, step func(page.Step)) {
	for _, block := range blocks {
		if s, ok := block.(page.Step); ok {
			step(s)
			continue
		}
		for _, words := range wordsOf(block) {
			into.take(plain(words))
		}
		for _, inner := range within(block) {
			collect(inner, into, step)
		}
	}
}

// collectStep gathers all words of a step.
func collectStep(s page.Step, into *bag) {
	for _, words := range wordsOf(s) {
		into.take(plain(words))
	}
	for _, inner := range within(s) {
		collect(inner, into, func(s page.Step) { collectStep(s, into) })
	}
}

// A bag holds words, each once, in order of first use.
type bag struct {
	seen  map[string]bool
	words []string
}

func newBag() *bag { return &bag{seen: map[string]bool{}} }

// take adds the words of texts, in lower case. A word keeps the dots, hyphens
// and signs inside it: "iso", "m8x25", "12.5", "4×".
func (b *bag) take(texts ...string) {
	for _, text := range texts {
		for _, word := range strings.FieldsFunc(strings.ToLower(text), between) {
			word = strings.Trim(word, ".-'’/")
			if word != "" && !b.seen[word] {
				b.seen[word] = true
				b.words = append(b.words, word)
			}
		}
	}
}

// between reports whether a character stands between words.
func between(r rune) bool {
	return unicode.IsSpace(r) || strings.ContainsRune(`,;:!?()[]{}"“”„«»=|<>`, r)
}

func (b *bag) String() string { return strings.Join(b.words, " ") }
