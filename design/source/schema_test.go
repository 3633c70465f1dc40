package source_test

import (
	"fmt"
	"io/fs"
	"math"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"gopkg.in/yaml.v3"

	"plansheaf/design/finding"
	"plansheaf/design/source"
	"plansheaf/design/source/fixture"
)

// tellable are the rules whose findings a schema can tell as well.
var tellable = map[string]bool{
	"unknown-key": true, "missing-field": true, "wrong-kind": true, "empty-value": true, "unknown-word": true,
	"bad-value": true, "bad-id": true, "keys-that-exclude": true, "quote-this": true,
}

// places maps each kind of schema to the files that it is for.
var places = map[string]string{
	"plan": "plan.yaml", "stock": "stock.yaml", "materials": "materials.yaml", "suppliers": "suppliers.yaml", "tools": "tools.yaml",
	"parts": "parts/*.yaml", "assembly": "assemblies/*.yaml", "drawing": "drawings/*.yaml", "calc": "calcs/*.yaml", "safety": "safety/*.yaml", "page": "pages/*.md",
}

// maps are the kinds whose files are maps of things that stand for themselves, so
// that each can be judged alone.
var maps = map[string]bool{"stock": true, "materials": true, "suppliers": true, "tools": true, "parts": true, "safety": true}

func schemas(t *testing.T) map[string]*jsonschema.Schema {
	t.Helper()
	all := map[string]*jsonschema.Schema{}
	for _, kind := range source.Kinds() {
		text, err := source.Schema(kind)
		if err != nil {
			t.Fatal(err)
		}
		doc, err := jsonschema.UnmarshalJSON(strings.NewReader(string(text)))
		if err != nil {
			t.Fatal(err)
		}
		c := jsonschema.NewCompiler()
		if err := c.AddResource("https://example.org/"+kind, doc); err != nil {
			t.Fatal(err)
		}
		// Compiling checks against the draft's own meta-schema.
		if all[kind], err = c.Compile("https://example.org/" + kind); err != nil {
			t.Fatal(err)
		}
	}
	return all
}

// TestSchemaAgrees checks, for the example plan and every fixture in the project,
// that the schemas find fault with the entries that the reader finds fault with, and
// with no others, as far as a schema can tell.
func TestSchemaAgrees(t *testing.T) {
	compiled := schemas(t)
	judged := map[string]int{}
	for _, dir := range planDirectories(t) {
		t.Run(filepath.ToSlash(strings.TrimPrefix(dir, filepath.FromSlash("../../"))), func(t *testing.T) {
			fsys, err := fixture.Open(dir)
			if err != nil {
				t.Fatal(err)
			}
			_, found, err := source.Read(fsys, source.DefaultLimits())
			if err != nil {
				t.Fatal(err)
			}
			err = fs.WalkDir(fsys, ".", func(name string, d fs.DirEntry, err error) error {
				if err != nil || d.IsDir() {
					return err
				}
				for kind, place := range places {
					if ok, _ := path.Match(place, name); ok {
						judged[kind] += agree(t, fsys, name, kind, compiled[kind], found)
					}
				}
				return nil
			})
			if err != nil {
				t.Fatal(err)
			}
		})
	}
	t.Log(judged)
	for kind := range places {
		if judged[kind] == 0 {
			t.Errorf("no file of kind %s was judged", kind)
		}
	}
}

// planDirectories are all directories of the project that hold a plan.
func planDirectories(t *testing.T) []string {
	t.Helper()
	dirs := []string{"../../example-plan"}
	for _, pattern := range []string{"../../testdata/reading/*", "../../testdata/rules/*/broken", "../../testdata/rules/*/clean"} {
		more, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		dirs = append(dirs, more...)
	}
	var there []string
	for _, d := range dirs {
		if info, err := os.Stat(d); err == nil && info.IsDir() {
			there = append(there, d)
		}
	}
	return there
}

// agree judges one file, or each of its entries, and returns how many it judged.
func agree(t *testing.T, fsys fs.FS, name, kind string, s *jsonschema.Schema, found []finding.Finding) int {
	t.Helper()
	data, err := fs.ReadFile(fsys, name)
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	if kind == "page" {
		front, _, closed := strings.Cut(strings.TrimPrefix(text, "---\n"), "\n---\n")
		if !closed {
			return 0
		}
		text = "\n" + front
	}
	var doc yaml.Node
	if err := yaml.Unmarshal([]byte(text), &doc); err != nil || len(doc.Content) == 0 {
		return 0
	}
	root := doc.Content[0]
	if usesYAML(root) {
		return 0
	}
	faults := map[int]string{} // by line
	for _, f := range found {
		if f.At.File == name && f.At.Line > 0 && tellable[f.Rule] {
			faults[f.At.Line] += " " + f.Rule + ": " + f.Message
		}
	}
	judge := func(what string, value any, first, last int) {
		var byReader string
		for line := first; line < last; line++ {
			byReader += faults[line]
		}
		if err := s.Validate(value); (err != nil) != (byReader != "") {
			t.Errorf("%s: %s: schema says %v, reader says %q", name, what, err, byReader)
		}
	}
	if !maps[kind] || root.Kind != yaml.MappingNode {
		judge("the file", value(root), 0, math.MaxInt16)
		return 1
	}
	for i := 0; i+1 < len(root.Content); i += 2 {
		k := root.Content[i]
		last := math.MaxInt16
		if i+2 < len(root.Content) {
			last = root.Content[i+2].Line
		}
		if k.Kind == yaml.ScalarNode {
			judge(k.Value, map[string]any{k.Value: value(root.Content[i+1])}, k.Line, last)
		}
	}
	return len(root.Content) / 2
}

// usesYAML reports whether a file uses what the format refuses and a schema cannot
// see.
func usesYAML(n *yaml.Node) bool {
	if n.Anchor != "" || n.Kind == yaml.AliasNode || n.Style&yaml.TaggedStyle != 0 {
		return true
	}
	for _, c := range n.Content {
		if usesYAML(c) {
			return true
		}
	}
	return false
}

var number = regexp.MustCompile(`^[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?$`)

// value is a node as an editor sees it: by the core schema of YAML 1.2.2, chapter
// 10.3.
func value(n *yaml.Node) any {
	switch n.Kind {
	case yaml.MappingNode:
		m := map[string]any{}
		for i := 0; i+1 < len(n.Content); i += 2 {
			m[n.Content[i].Value] = value(n.Content[i+1])
		}
		return m
	case yaml.SequenceNode:
		list := []any{}
		for _, c := range n.Content {
			list = append(list, value(c))
		}
		return list
	}
	if n.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle|yaml.LiteralStyle|yaml.FoldedStyle) != 0 {
		return n.Value
	}
	switch n.Value {
	case "", "~", "null", "Null", "NULL":
		return nil
	case "true", "True", "TRUE":
		return true
	case "false", "False", "FALSE":
		return false
	}
	if number.MatchString(n.Value) {
		f, err := strconv.ParseFloat(n.Value, 64)
		if err == nil {
			return f
		}
	}
	return n.Value
}

// TestSchemaDescribes checks that every key has a description for editors to show.
func TestSchemaDescribes(t *testing.T) {
	if _, err := source.Schema("novel"); err == nil {
		t.Error("there is a schema of kind novel")
	}
	for _, kind := range source.Kinds() {
		text, err := source.Schema(kind)
		if err != nil {
			t.Fatal(err)
		}
		var doc any
		if doc, err = jsonschema.UnmarshalJSON(strings.NewReader(string(text))); err != nil {
			t.Fatal(err)
		}
		undescribed(t, kind, doc)
	}
}

func undescribed(t *testing.T, at string, v any) {
	t.Helper()
	switch v := v.(type) {
	case map[string]any:
		if properties, ok := v["properties"].(map[string]any); ok {
			for key, p := range properties {
				if p, ok := p.(map[string]any); !ok || p["description"] == nil || p["description"] == "" {
					t.Errorf("%s/%s has no description", at, key)
				}
			}
		}
		for key, inner := range v {
			undescribed(t, at+"/"+key, inner)
		}
	case []any:
		for i, inner := range v {
			undescribed(t, fmt.Sprintf("%s/%d", at, i), inner)
		}
	}
}
