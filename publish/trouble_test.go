package publish_test

import (
	"bytes"
	"testing"

	"plansheaf/design/check"
	"plansheaf/design/finding"
	"plansheaf/design/trial"
	"plansheaf/publish"
)

// A plan in a language that there are no words in is told where it says so; one in a
// language that there are, or in none, is not.
func TestLanguageWithoutWordsIsFound(t *testing.T) {
	for language, want := range map[string]int{"": 0, "language: en\n": 0, "language: de-CH\n": 0, "language: fr\n": 1} {
		p := trial.Plan(t, trial.Files{
			"plan.yaml":            "title: Rail\nmachine: rail\nrevision: A\n" + language,
			"assemblies/rail.yaml": "title: Rail\nholds: {}\n",
		})
		made, err := publish.Make(check.Out(p), nil, publish.Options{})
		if err != nil {
			t.Fatal(err)
		}
		var found []finding.Finding
		for _, f := range made.Problems {
			if f.Rule == publish.WordsInEnglish.Name {
				found = append(found, f)
			}
		}
		if len(found) != want {
			t.Fatalf("%q: found %v, want %d", language, found, want)
		}
		for _, f := range found {
			if at := finding.OnLine("plan.yaml", 4, len("language: ")+1, 2); f.At != at || f.Severity != finding.Note || f.Remedy == "" {
				t.Errorf("found %+v, want a note with a remedy at %v", f, at)
			}
		}
	}
}

// A character that no font has is found where the author typed it, once for each
// character, however often the binder prints the text.
func TestMissingCharactersAreFoundWhereTheyStand(t *testing.T) {
	p := trial.Plan(t, trial.Files{
		"plan.yaml": "title: Rail\nsummary: Holds a 漢 tile.\nmachine: rail\nrevision: A\n",
		"assemblies/rail.yaml": `title: Rail
holds: {}
`,
	})
	made, err := publish.Make(check.Out(p), nil, publish.Options{})
	if err != nil {
		t.Fatal(err)
	}
	var at []finding.Span
	for _, f := range made.Problems {
		if f.Rule == publish.NotPrintable.Name {
			at = append(at, f.At)
		}
	}
	for _, f := range made.Files {
		if f.Path == publish.FindingsPath && !bytes.Contains(f.Data, []byte(publish.NotPrintable.Name)) {
			t.Error("the findings published as data leave out what the binder found")
		}
	}
	want := finding.OnLine("plan.yaml", 2, len("summary: Holds a ")+1, 1)
	if len(at) != 1 || at[0] != want {
		t.Errorf("found at %v, want once at %v", at, want)
	}
}
