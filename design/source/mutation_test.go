package source_test

import (
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path"
	"strings"
	"testing"
	"testing/fstest"

	"gopkg.in/yaml.v3"

	"plansheaf/design/source"
	"plansheaf/design/source/fixture"
)

// TestSchemaAgreesOnMistakes makes hundreds of mistakes in the example plan's files,
// one at a time: a key misspelled or left out, a value of another kind. Schema and
// reader must find fault with the same files.
func TestSchemaAgreesOnMistakes(t *testing.T) {
	const each = 8 // mistakes for each file
	compiled := schemas(t)
	example := os.DirFS("../../example-plan")
	refused := 0
	err := fs.WalkDir(example, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		for kind, place := range places {
			if ok, _ := path.Match(place, name); !ok || kind == "page" {
				continue
			}
			data, err := fs.ReadFile(example, name)
			if err != nil {
				return err
			}
			random := rand.New(rand.NewPCG(1, uint64(len(name))))
			for i := range each {
				var doc yaml.Node
				if err := yaml.Unmarshal(data, &doc); err != nil || len(doc.Content) == 0 {
					break
				}
				what := mistake(random, doc.Content[0])
				text, err := yaml.Marshal(&doc)
				if err != nil {
					t.Fatal(err)
				}
				// What was written may be read back in another way.
				doc = yaml.Node{}
				if err := yaml.Unmarshal(text, &doc); err != nil {
					continue
				}
				fsys := fixture.Complete(fstest.MapFS{name: {Data: text, Mode: 0o644}})
				_, found, err := source.Read(fsys, source.DefaultLimits())
				if err != nil {
					t.Fatal(err)
				}
				said := ""
				for _, f := range found {
					if f.At.File == name && tellable[f.Rule] {
						said = f.At.String() + " " + f.Rule + ": " + f.Message
					}
				}
				verdict := compiled[kind].Validate(value(doc.Content[0]))
				if (verdict != nil) != (said != "") {
					t.Errorf("%s, mistake %d, %s: schema says %v, reader says %q", name, i, what, verdict, said)
				}
				if verdict != nil {
					refused++
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if refused == 0 {
		t.Error("no mistake was refused")
	}
	t.Logf("%d mistakes refused", refused)
}

// mistake changes one place below n and says what it did.
func mistake(random *rand.Rand, n *yaml.Node) string {
	var all []*yaml.Node
	var walk func(n *yaml.Node)
	walk = func(n *yaml.Node) {
		if n.Kind != yaml.ScalarNode && len(n.Content) > 0 {
			all = append(all, n)
		}
		for _, c := range n.Content {
			walk(c)
		}
	}
	walk(n)
	m := all[random.IntN(len(all))]
	if m.Kind == yaml.SequenceNode {
		return replace(random, &m.Content[random.IntN(len(m.Content))], "an item")
	}
	i := random.IntN(len(m.Content)/2) * 2
	key := m.Content[i].Value
	switch random.IntN(4) {
	case 0:
		m.Content[i].Value = strings.ToUpper(key)
		return "the key " + key + " in capitals"
	case 1:
		m.Content = append(m.Content[:i:i], m.Content[i+2:]...)
		return "without the key " + key
	case 2:
		m.Content = append(m.Content, &yaml.Node{Kind: yaml.ScalarNode, Value: "lies_about"}, &yaml.Node{Kind: yaml.ScalarNode, Value: "z"})
		return "with a key more beside " + key
	}
	return replace(random, &m.Content[i+1], key)
}

func replace(random *rand.Rand, n **yaml.Node, what string) string {
	values := []string{"[12 mm]", "{a: 12 mm}", "other", "3", "yes", `""`, "{by: a, b: 3}", "[]", "{}", "[[1 mm, 2 mm], [3 mm, 4 mm]]", "files/x", "12 mm"}
	text := values[random.IntN(len(values))]
	var doc yaml.Node
	if err := yaml.Unmarshal([]byte(text), &doc); err != nil {
		panic(err)
	}
	*n = doc.Content[0]
	return fmt.Sprintf("%s is %s", what, text)
}
