package wording

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"

	"plansheaf/themes"
)

// English is the language of the keys, which every plan can fall back to.
const English = "en"

// A Phrase is English words, perhaps with verbs of package fmt for what is put in and
// a remark behind a bar.
type Phrase string

// plain is the phrase without its remark.
func (p Phrase) plain() string {
	words, _, _ := strings.Cut(string(p), "|")
	return words
}

// A Table is the words of one language.
type Table struct {
	language string
	said     map[Phrase]string // nil for English
}

// tables are all languages' tables, by their tags, read once from the one file.
var tables = sync.OnceValues(func() (map[string]*Table, error) { return read(themes.Words) })

// read reads a table of words: a row a phrase, English first, a column a language,
// named by its tag in the first row.
func read(data []byte) (map[string]*Table, error) {
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("read the table of words: %w", err)
	}
	if len(rows) == 0 || rows[0][0] != English {
		return nil, fmt.Errorf("read the table of words: its first column must be %q", English)
	}
	all := map[string]*Table{}
	for i, language := range rows[0] {
		t := &Table{language: language}
		if i > 0 {
			t.said = make(map[Phrase]string, len(rows))
		}
		for _, row := range rows[1:] {
			if i > 0 && row[i] != "" {
				t.said[Phrase(row[0])] = row[i]
			}
		}
		all[language] = t
	}
	return all, nil
}

// For is the table for a BCP 47 language tag, by its primary language; known is false
// where there is none and the words are English.
func For(tag string) (t *Table, known bool) {
	english := &Table{language: English}
	all, err := tables()
	if err != nil {
		return english, false
	}
	primary, _, _ := strings.Cut(strings.ToLower(tag), "-")
	if t, known := all[primary]; known {
		return t, true
	}
	return english, false
}

// Languages are the tags of the languages that there are words in, sorted.
func Languages() []string {
	all, err := tables()
	if err != nil {
		return []string{English}
	}
	return slices.Sorted(maps.Keys(all))
}

// Language is the tag of the table's language.
func (t *Table) Language() string { return t.language }

// Say is a phrase in the table's language with values put in for its verbs.
func (t *Table) Say(p Phrase, values ...any) string {
	words, known := t.said[p]
	if !known {
		words = p.plain()
	}
	if len(values) == 0 {
		return words
	}
	return fmt.Sprintf(words, values...)
}

// Count is a number with what is counted: one for a single thing, and many, whose
// verb stands for the number.
func (t *Table) Count(n int, one, many Phrase) string {
	if n == 1 {
		return t.Say(one)
	}
	return t.Say(many, n)
}
