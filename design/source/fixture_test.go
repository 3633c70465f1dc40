package source_test

import (
	"os"
	"path/filepath"
	"testing"

	"plansheaf/design/source"
	"plansheaf/design/source/fixture"
)

const fixtures = "../../testdata/reading"

// TestFixtures reads every small plan under testdata/reading and compares what is
// found with what its files expect.
func TestFixtures(t *testing.T) {
	dirs, err := os.ReadDir(fixtures)
	if err != nil {
		t.Fatal(err)
	}
	expected := map[string]bool{}
	for _, d := range dirs {
		t.Run(d.Name(), func(t *testing.T) {
			fsys, err := fixture.Open(filepath.Join(fixtures, d.Name()))
			if err != nil {
				t.Fatal(err)
			}
			_, got, err := source.Read(fsys, source.DefaultLimits())
			if err != nil {
				t.Fatal(err)
			}
			fixture.Check(t, fsys, got)
			for _, f := range got {
				expected[f.Rule] = true
				if f.Remedy == "" {
					t.Errorf("%s: %s has no remedy", f.At, f.Rule)
				}
			}
		})
	}
	// Those that no file of text can break are tested in hostile_test.go.
	beyond := map[string]bool{"invalid-encoding": true, "symlink": true, "too-deep": true, "too-large": true, "too-many-files": true, "too-many-findings": true, "unreadable-file": true}
	for _, r := range source.Rules() {
		if expected[r.Name] == beyond[r.Name] {
			t.Errorf("rule %s: met by a fixture: %v, listed as beyond fixtures: %v", r.Name, expected[r.Name], beyond[r.Name])
		}
		if r.Severity == 0 || r.Reason == "" || r.Remedy == "" {
			t.Errorf("rule %s lacks severity, reason or remedy", r.Name)
		}
	}
}
