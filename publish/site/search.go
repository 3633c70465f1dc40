package site

import (
	"encoding/json"
	"fmt"
	"net/url"
	"strings"
	"unicode"

	"plansheaf/publish/page"
	"plansheaf/publish/wording"
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

// scriptData is what the script needs to know of other pages. They are
// scripts and not JSON files, since a page opened from a folder may load the one
// but not the other.
func (b *builder) scriptData() (files []File, err error) {
	for _, data := range []struct {
		file, name string
		value      any
	}{
		{"search-data.js", "searchData", b.searchEntries()},
		{"steps-data.js", "stepsData", b.stepsData()},
		{"words-data.js", "wordsData", b.scriptWords()},
	} {
		text, err := json.Marshal(data.value)
		if err != nil {
			return nil, fmt.Errorf("write %s: %w", data.file, err)
		}
		files = append(files, File{Path: "assets/" + data.file, Data: []byte("self." + data.name + " = " + string(text) + ";\n")})
	}
	return files, nil
}

// scriptWords are what the script says, by the names that it knows them by. Numbers
// and names are put in there.
func (b *builder) scriptWords() map[string]string {
	out := map[string]string{}
	for name, p := range map[string]wording.Phrase{
		"begin": "Begin with step %s", "goOn": "Go on with step %s", "notKept": "This browser keeps no ticks: its storage is off or full.",
		"nothing": "Nothing found.", "found": "%s found.", "foundMore": "%s found, the first %s shown.",
		"reached": "Done up to and with: %s. Steps to see to: %s. Steps that may stay: %s.",
	} {
		out[name] = b.tongue.Say(p)
	}
	return out
}

func (b *builder) stepsData() []stepEntry {
	if b.steps == nil {
		return []stepEntry{}
	}
	return b.steps
}

// searchEntries are all pages, all steps, and the rows that have an anchor but no
// page of their own.
func (b *builder) searchEntries() []searchEntry {
	entries := []searchEntry{}
	for _, p := range b.doc.Pages {
		own := newBag()
		own.take(p.Title, p.Summary, p.ID)
		var inner []searchEntry
		collect(p.Blocks, own, func(s page.Step) { inner = append(inner, b.stepSearch(p, s)) })
		walk(p.Blocks, func(block page.Block) {
			if table, ok := block.(page.Table); ok {
				inner = append(inner, b.rowSearch(p, table)...)
			}
		})
		entries = append(entries, searchEntry{
			Title: p.Title, Kind: b.tongue.Say(kindNames[p.Kind]), Href: rootHref(p, ""),
			Note: p.Summary, Words: own.String(), Only: b.only(p.Only).Data,
		})
		entries = append(entries, inner...)
	}
	return entries
}

func (b *builder) stepSearch(p *page.Page, s page.Step) searchEntry {
	words := newBag()
	words.take(s.ID)
	collectStep(s, words)
	return searchEntry{
		Title: s.Title, Kind: b.tongue.Say("Step in %s", p.Title), Href: rootHref(p, s.Anchor),
		Words: words.String(), Only: b.only(both(p.Only, s.Only)).Data,
	}
}

func (b *builder) rowSearch(p *page.Page, table page.Table) []searchEntry {
	var entries []searchEntry
	for _, row := range table.Rows {
		if row.ID == "" || row.Section || len(row.Cells) == 0 || leadsToPage(row.Cells[0].Words) {
			continue
		}
		words := newBag()
		words.take(row.ID)
		for _, cell := range row.Cells {
			words.take(plain(cell.Words))
		}
		entries = append(entries, searchEntry{
			Title: plain(row.Cells[0].Words), Kind: b.tongue.Say("In %s", p.Title), Href: rootHref(p, row.ID),
			Words: words.String(), Only: b.only(both(p.Only, row.Only)).Data,
		})
	}
	return entries
}

// both holds where a and b do.
func both(a, b page.Only) page.Only { return append(a[:len(a):len(a)], b...) }

// leadsToPage reports whether words hold a link to a page.
func leadsToPage(words []page.Inline) bool {
	found := false
	links(words, func(t page.Target) { found = found || t.Page != "" })
	return found
}

// rootHref is the address of a page from the publication's root, to which the
// script adds the way there.
func rootHref(p *page.Page, anchor string) string {
	return (&url.URL{Path: p.ID + ".html", Fragment: anchor}).String()
}

// collect gathers the words of blocks; steps are handed to step instead.
func collect(blocks []page.Block, into *bag, step func(page.Step)) {
	for _, block := range blocks {
		if s, ok := block.(page.Step); ok {
			step(s)
			continue
		}
		if _, is := block.(page.Halfway); is { // of all states at once
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
