package wording_test

import (
	"encoding/csv"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"plansheaf/design/change"
	"plansheaf/publish/wording"
	"plansheaf/themes"
)

// sayers are the functions that are given phrases.
var sayers = []string{"say", "said", "told", "Say", "Count", "paragraph", "item", "head", "to"}

// inTemplates are the phrases that a page template names.
var inTemplates = regexp.MustCompile(`\b(?:say|fill) "([^"]*)"`)

// used are the phrases that the program's source says, with where it does: what is
// given to the sayers, what stands in values that hold phrases, and what functions of
// phrases return.
func used(t *testing.T) map[string]string {
	t.Helper()
	phrases := map[string]string{}
	for _, tool := range []string{"hex key", "hex driver", "hex bit", "spanner", "socket", "saw", "drill", "tap"} {
		phrases[tool] = "design/sequence"
	}
	for _, folder := range []string{"..", "../compose", "../site", "../binder", "../stackup"} {
		names, err := filepath.Glob(filepath.Join(folder, "*.go"))
		if err != nil || len(names) == 0 {
			t.Fatalf("no source in %s: %v", folder, err)
		}
		for _, name := range names {
			if strings.HasSuffix(name, "_test.go") {
				continue
			}
			f, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			ast.Inspect(f, func(n ast.Node) bool {
				for _, p := range phrasesOf(n) {
					phrases[p] = name
				}
				return true
			})
		}
	}
	for _, p := range change.Phrases() {
		phrases[p] = "design/change"
	}
	for _, word := range change.FieldWords() {
		phrases[word+"|a field"] = "design/change"
	}
	templates, err := filepath.Glob("../../themes/site/*.gohtml")
	if err != nil || len(templates) == 0 {
		t.Fatalf("no templates: %v", err)
	}
	for _, name := range templates {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range inTemplates.FindAllStringSubmatch(string(text), -1) {
			phrases[m[1]] = name
		}
	}
	return phrases
}

// phrasesOf are the phrases that a node itself holds.
func phrasesOf(n ast.Node) []string {
	switch n := n.(type) {
	case *ast.CallExpr:
		args := n.Args
		switch name := called(n.Fun); {
		case !slices.Contains(sayers, name):
			return nil
		case name == "to": // its first argument is a page
			args = args[1:]
		case tells(n.Fun):
			return nil
		}
		return literals(args, false)
	case *ast.CompositeLit:
		if ofPhrases(n.Type) {
			return literals(n.Elts, true)
		}
	case *ast.FuncDecl:
		if n.Type.Results == nil || len(n.Type.Results.List) != 1 || !ofPhrases(n.Type.Results.List[0].Type) {
			return nil
		}
		var out []string
		ast.Inspect(n.Body, func(in ast.Node) bool {
			if r, ok := in.(*ast.ReturnStmt); ok {
				out = append(out, literals(r.Results, false)...)
			}
			return true
		})
		return out
	}
	return nil
}

// tells reports whether a call tells the terminal how far the work is.
func tells(fun ast.Expr) bool {
	s, ok := fun.(*ast.SelectorExpr)
	if !ok {
		return false
	}
	x, ok := s.X.(*ast.Ident)
	return ok && x.Name == "o"
}

func called(fun ast.Expr) string {
	switch fun := fun.(type) {
	case *ast.Ident:
		return fun.Name
	case *ast.SelectorExpr:
		return fun.Sel.Name
	}
	return ""
}

// ofPhrases reports whether a type holds phrases.
func ofPhrases(typ ast.Expr) bool {
	found := false
	if typ != nil {
		ast.Inspect(typ, func(n ast.Node) bool {
			if s, ok := n.(*ast.SelectorExpr); ok && s.Sel.Name == "Phrase" {
				found = true
			}
			return !found
		})
	}
	return found
}

// literals are the texts among expressions that hold letters; deep goes into values
// within values, keys left out.
func literals(list []ast.Expr, deep bool) []string {
	var out []string
	for _, e := range list {
		switch e := e.(type) {
		case *ast.BasicLit:
			if text, err := strconv.Unquote(e.Value); err == nil && e.Kind == token.STRING && (strings.Contains(text, " ") || strings.ToLower(text) != strings.ToUpper(text)) {
				out = append(out, text)
			}
		case *ast.KeyValueExpr:
			out = append(out, literals([]ast.Expr{e.Value}, deep)...)
		case *ast.CompositeLit:
			if deep {
				out = append(out, literals(e.Elts, deep)...)
			}
		}
	}
	return out
}

// verbs are what a phrase has put in, in order.
var verbs = regexp.MustCompile(`%(\[\d+\])?[a-z]`)

// Every phrase that the program says stands in the table, in every language, with the
// same verbs; and nothing else stands there.
func TestNoWordIsMissing(t *testing.T) {
	rows, err := csv.NewReader(strings.NewReader(string(themes.Words))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	said := used(t)
	if len(said) < 250 {
		t.Errorf("only %d phrases were found in the source", len(said))
	}
	listed := map[string]bool{}
	for _, row := range rows[1:] {
		phrase := row[0]
		if listed[phrase] {
			t.Errorf("%q stands twice in the table", phrase)
		}
		listed[phrase] = true
		if said[phrase] == "" {
			t.Errorf("%q is in the table and said nowhere", phrase)
		}
		for i, words := range row[1:] {
			language := rows[0][i+1]
			if strings.TrimSpace(words) == "" {
				t.Errorf("%s: %q has no words", language, phrase)
			}
			english, _, _ := strings.Cut(phrase, "|")
			if got, want := verbs.FindAllString(words, -1), verbs.FindAllString(english, -1); !slices.Equal(got, want) {
				t.Errorf("%s: %q puts in %v, English %v", language, words, got, want)
			}
			for _, edge := range []func(string, string) bool{strings.HasPrefix, strings.HasSuffix} {
				if edge(english, " ") != edge(words, " ") {
					t.Errorf("%s: %q and %q begin or end otherwise", language, words, english)
				}
			}
		}
	}
	for phrase, where := range said {
		if !listed[phrase] {
			t.Errorf("%s says %q, which is not in the table", where, phrase)
		}
	}
}

func TestLanguages(t *testing.T) {
	cases := []struct {
		tag, language string
		known         bool
		draft         string
	}{
		{tag: "en", language: "en", known: true, draft: "Revision B"},
		{tag: "de", language: "de", known: true, draft: "Ausgabe B"},
		{tag: "de-AT", language: "de", known: true, draft: "Ausgabe B"},
		{tag: "DE", language: "de", known: true, draft: "Ausgabe B"},
		{tag: "", language: "en", draft: "Revision B"},
		{tag: "fr", language: "en", draft: "Revision B"},
		{tag: "den", language: "en", draft: "Revision B"},
	}
	for _, c := range cases {
		t.Run(c.tag, func(t *testing.T) {
			table, known := wording.For(c.tag)
			if table.Language() != c.language || known != c.known {
				t.Errorf("got %q, known %v; want %q, %v", table.Language(), known, c.language, c.known)
			}
			if got := table.Say("Revision %s", "B"); got != c.draft {
				t.Errorf("says %q, want %q", got, c.draft)
			}
		})
	}
	if got := wording.Languages(); !slices.Equal(got, []string{"de", "en"}) {
		t.Errorf("languages %v", got)
	}
}

// What is said of one thing and of several, what the table does not hold, and what
// stands behind a bar.
func TestSaying(t *testing.T) {
	german, _ := wording.For("de")
	english, _ := wording.For("en")
	cases := []struct{ name, got, want string }{
		{"one", english.Count(1, "1 piece", "%d pieces"), "1 piece"},
		{"several", english.Count(3, "1 piece", "%d pieces"), "3 pieces"},
		{"none", german.Count(0, "1 piece", "%d pieces"), "0 Teile"},
		{"unknown words", german.Say("nobody says this"), "nobody says this"},
		{"a remark", english.Say("To|highest"), "To"},
		{"a per cent sign without values", english.Say("5 % off"), "5 % off"},
	}
	for _, c := range cases {
		if c.got != c.want {
			t.Errorf("%s: %q, want %q", c.name, c.got, c.want)
		}
	}
}
