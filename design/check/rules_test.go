package check_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"plansheaf/design/check"
	"plansheaf/design/finding"
	"plansheaf/design/source"
	"plansheaf/design/source/fixture"
)

const rulesDir = "../../testdata/rules"

// open is a fixture completed with the plan.yaml that all share and an empty machine.
func open(t *testing.T, dir string) fs.FS {
	t.Helper()
	files := fstest.MapFS{}
	root := os.DirFS(dir)
	err := fs.WalkDir(root, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(root, name)
		files[name] = &fstest.MapFile{Data: data, Mode: 0o644}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if files["plan.yaml"] == nil {
		data, err := os.ReadFile(filepath.Join(rulesDir, "plan.yaml"))
		if err != nil {
			t.Fatal(err)
		}
		files["plan.yaml"] = &fstest.MapFile{Data: data, Mode: 0o644}
	}
	return fixture.Complete(files)
}

// run checks a plan and returns what nobody has waived.
func run(t testing.TB, fsys fs.FS) []finding.Finding {
	t.Helper()
	p, read, err := source.Read(fsys, source.DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	var open []finding.Finding
	for _, f := range check.Run(check.Out(p), read) {
		if f.Waived == nil {
			open = append(open, f)
		}
	}
	return open
}

func TestEveryRuleHasFixtures(t *testing.T) {
	names := map[string]bool{}
	for _, r := range check.Texts() {
		if names[r.Name] {
			t.Errorf("two rules are called %s", r.Name)
		}
		names[r.Name] = true
		for _, kind := range []string{"broken", "clean"} {
			if _, err := os.Stat(filepath.Join(rulesDir, r.Name, kind)); err != nil {
				t.Errorf("the rule %s has no fixture %s: %v", r.Name, kind, err)
			}
		}
	}
	dirs, err := os.ReadDir(rulesDir)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range dirs {
		if d.IsDir() && !names[d.Name()] {
			t.Errorf("the fixture %s has no rule", d.Name())
		}
	}
}

func TestRulesAreSortedAndSayAll(t *testing.T) {
	last := ""
	for _, r := range check.All() {
		if r.Name <= last {
			t.Errorf("%s stands after %s", r.Name, last)
		}
		last = r.Name
		if (r.Check == nil) == (r.Each == nil) {
			t.Errorf("%s: exactly one of Check and Each is given", r.Name)
		}
	}
	for _, r := range check.Texts() {
		if r.Severity == 0 || r.Reason == "" || r.Remedy == "" {
			t.Errorf("%s lacks a severity, a reason or a remedy", r.Name)
		}
	}
}

func TestFixtures(t *testing.T) {
	rules := map[string]bool{} // of this package: these name their subject
	for _, r := range check.All() {
		rules[r.Name] = true
	}
	for _, r := range check.Texts() {
		t.Run(r.Name, func(t *testing.T) {
			broken := open(t, filepath.Join(rulesDir, r.Name, "broken"))
			found := run(t, broken)
			fixture.Check(t, broken, found)
			hit := false
			for _, f := range found {
				hit = hit || f.Rule == r.Name
				if f.Rule == r.Name && f.Subject == "" && rules[r.Name] {
					t.Errorf("%s: no subject, so no waiver can name it", f.At)
				}
				if strings.Contains(f.Message, "%!") {
					t.Errorf("%s: %s", f.At, f.Message)
				}
			}
			if !hit {
				t.Errorf("nothing is found by %s", r.Name)
			}
			for _, f := range run(t, open(t, filepath.Join(rulesDir, r.Name, "clean"))) {
				t.Errorf("clean: %s: %s [%s]", f.At, f.Message, f.Rule)
			}
		})
	}
}
