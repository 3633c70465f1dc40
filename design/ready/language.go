package ready

import (
	"bytes"
	_ "embed" // words.csv
	"encoding/csv"
	"fmt"
	"strings"
	"sync"
)

//go:embed words.csv
var wordsFile []byte

// words are the texts of the library by language: English ones to those of each other
// column of words.csv, named by its tag in the first row.
var words = sync.OnceValues(readWords)

func readWords() (map[string]map[string]string, error) {
	rows, err := csv.NewReader(bytes.NewReader(wordsFile)).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("read the words of ready calculations: %w", err)
	}
	all := map[string]map[string]string{}
	for i, language := range rows[0] {
		if i == 0 {
			continue
		}
		said := make(map[string]string, len(rows))
		for _, row := range rows[1:] {
			said[row[0]] = row[i]
		}
		all[language] = said
	}
	return all, nil
}

// In returns the calculation with its texts in a language, "de" or "de-AT"; what that
// language lacks stays English, and so does the whole where there is no such language. Names,
// symbols, units and formulas are the same in all.
func (c *Calc) In(language string) *Calc {
	all, _ := words()
	language, _, _ = strings.Cut(language, "-")
	said, found := all[language]
	if !found {
		return c
	}
	say := func(text string) string {
		if other := said[text]; other != "" {
			return other
		}
		return text
	}
	told := *c
	told.Subject, told.Title, told.About, told.Source = say(c.Subject), say(c.Title), say(c.About), say(c.Source)
	told.Inputs, told.Finds, told.Assumes, told.Limits = nil, nil, nil, nil
	for _, in := range c.Inputs {
		in.About = say(in.About)
		told.Inputs = append(told.Inputs, in)
	}
	for _, f := range c.Finds {
		f.About = say(f.About)
		told.Finds = append(told.Finds, f)
	}
	for _, text := range c.Assumes {
		told.Assumes = append(told.Assumes, say(text))
	}
	for _, l := range c.Limits {
		l.Because = say(l.Because)
		told.Limits = append(told.Limits, l)
	}
	return &told
}
