package source_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"plansheaf/design/source"
	"plansheaf/design/source/fixture"
)

// TestSyntaxFaults breaks YAML in the ways that people do and checks which words are
// marked and what is said.
func TestSyntaxFaults(t *testing.T) {
	for _, test := range []struct{ name, text, covers, says string }{
		{name: "colon in a one-line map", text: "a: {made: cut, title: clay: stiff}\n", covers: "clay: stiff", says: `write title: "clay: stiff"`},
		{name: "brackets in a one-line map", text: "a: {made: cut, title: 5 mm [approx], mass: 3 kg}\n", covers: "5 mm [approx]", says: `write title: "5 mm [approx]"`},
		{name: "reserved first character", text: "a: {made: cut, title: @x}\n", covers: "@x", says: `write title: "@x"`},
		{name: "colon in a text", text: "a:\n  title: Post: left\n", covers: "Post: left", says: `write title: "Post: left"`},
		{name: "quote within quotes", text: "a:\n  title: 'it's here'\n  made: cut\n", covers: "'it's here'", says: "other kind of quotes"},
		{name: "quote left open", text: "a:\n  title: \"x\n  made: cut\nb: {made: cut}\n", covers: `"`, says: "close it"},
		{name: "brace too many", text: "a: {made: cut, title: x}}\n", covers: "}", says: "put the text in quotes"},
		{name: "brace left open", text: "a: {made: cut\nb: {made: cut}\n", covers: "{", says: "close it"},
		{name: "too little indented", text: "a:\n  title: T\n made: cut\n", covers: "title: T", says: "mend the line"},
		{name: "too deeply indented", text: "a:\n  title: T\n   made: cut\n", covers: "made: cut", says: "mend the line"},
		{name: "tab", text: "a:\n\ttitle: T\n", covers: "\t", says: "indent with blanks"},
	} {
		t.Run(test.name, func(t *testing.T) {
			fsys := fixture.Complete(fstest.MapFS{"parts/a.yaml": {Data: []byte(test.text)}})
			_, found, err := source.Read(fsys, source.DefaultLimits())
			if err != nil {
				t.Fatal(err)
			}
			if len(found) != 1 || found[0].Rule != "yaml-syntax" {
				t.Fatalf("got %v, want one fault of syntax", found)
			}
			if got := fixture.Covered(fsys, found[0].At); got != test.covers {
				t.Errorf("covers %q, want %q", got, test.covers)
			}
			if !strings.Contains(found[0].Remedy, test.says) {
				t.Errorf("remedy %q, want %q", found[0].Remedy, test.says)
			}
		})
	}
}
