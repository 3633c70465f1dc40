package check_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"plansheaf/design/check"
	"plansheaf/design/source"
)

// TestRulesBearAnyPlan runs all rules over every broken plan of the project: what
// could not be read is missing from the model, and no rule may mind.
func TestRulesBearAnyPlan(t *testing.T) {
	for _, root := range []string{"../../testdata/reading", "../../testdata/rules"} {
		err := filepath.WalkDir(root, func(dir string, d fs.DirEntry, err error) error {
			if err != nil || !d.IsDir() {
				return err
			}
			p, read, err := source.Read(os.DirFS(dir), source.DefaultLimits())
			if err != nil {
				return err
			}
			for _, f := range check.Run(check.Out(p), read) {
				if f.Rule == "" || f.Severity == 0 {
					t.Errorf("%s: a finding that no rule stamped: %s", dir, f.Message)
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
}

// TestSameFindingsEachTime guards against the order of maps.
func TestSameFindingsEachTime(t *testing.T) {
	p, read, err := source.Read(open(t, filepath.Join(rulesDir, "count-differs", "broken")), source.DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	first := check.Run(check.Out(p), read)
	for range 20 {
		again := check.Run(check.Out(p), read)
		if len(again) != len(first) {
			t.Fatalf("%d findings, then %d", len(first), len(again))
		}
		for i := range first {
			if first[i].Message != again[i].Message || first[i].At != again[i].At {
				t.Fatalf("%s, then %s", first[i].Message, again[i].Message)
			}
		}
	}
}
