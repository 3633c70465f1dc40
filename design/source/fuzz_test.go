package source_test

import (
	"io/fs"
	"os"
	"path"
	"reflect"
	"strings"
	"testing"
	"testing/fstest"

	"plansheaf/design/finding"
	"plansheaf/design/source"
	"plansheaf/design/source/fixture"
)

// fuzzed are the files that a fuzzed text is read as, one of each kind.
var fuzzed = []string{
	"plan.yaml", "stock.yaml", "materials.yaml", "suppliers.yaml", "tools.yaml", "parts/a.yaml", "assemblies/rig.yaml",
	"drawings/a.yaml", "calcs/a.yaml", "safety/a.yaml", "pages/a.md", "files/a.csv",
}

// FuzzRead checks that no text brings the reader down, that findings stand within
// the text, and that a second reading finds the same.
func FuzzRead(f *testing.F) {
	for _, dir := range []string{"../../testdata/reading", "../../example-plan"} {
		err := fs.WalkDir(os.DirFS(dir), ".", func(name string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return err
			}
			data, err := fs.ReadFile(os.DirFS(dir), name)
			for i, as := range fuzzed {
				if path.Base(path.Dir(as)) == path.Base(path.Dir(name)) && len(data) < 4000 {
					f.Add(i, string(data))
				}
			}
			return err
		})
		if err != nil {
			f.Fatal(err)
		}
	}
	limits := source.DefaultLimits()
	limits.TextFile = 1 << 14
	f.Fuzz(func(t *testing.T, kind int, text string) {
		name := fuzzed[(kind%len(fuzzed)+len(fuzzed))%len(fuzzed)]
		fsys := fixture.Complete(fstest.MapFS{
			name:                 {Data: []byte(text), Mode: 0o644},
			"calcs/uses_it.yaml": {Data: []byte("title: T\ntables: {t: files/a.csv}\nfind: {x: 1 mm}\n"), Mode: 0o644},
		})
		p, found, err := source.Read(fsys, limits)
		if err != nil {
			t.Fatal(err)
		}
		for _, at := range found {
			inside(t, fsys, at)
		}
		again, foundAgain, err := source.Read(fsys, limits)
		if err != nil || !reflect.DeepEqual(found, foundAgain) || len(p.Parts) != len(again.Parts) {
			t.Errorf("a second reading differs: %v\n%v\n%v", err, found, foundAgain)
		}
	})
}

// inside checks that a finding's place is one that its file has.
func inside(t *testing.T, fsys fs.FS, f finding.Finding) {
	t.Helper()
	if f.At.File == "" || f.Message == "" || f.Rule == "" || f.Remedy == "" {
		t.Errorf("a finding lacks file, message, rule or remedy: %+v", f)
	}
	if f.At.Line == 0 {
		return
	}
	data, err := fs.ReadFile(fsys, f.At.File)
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.ReplaceAll(strings.TrimPrefix(string(data), "\uFEFF"), "\r\n", "\n"), "\n")
	switch {
	case f.At.Line > len(lines) || f.At.EndLine > len(lines):
		t.Errorf("%s: %s: beyond the last line", f.At, f.Rule)
	case f.At.Column < 1 || f.At.Column > len([]rune(lines[f.At.Line-1]))+1:
		t.Errorf("%s: %s: beyond the line %q", f.At, f.Rule, lines[f.At.Line-1])
	case f.At.EndLine < f.At.Line || f.At.EndLine == f.At.Line && f.At.EndColumn < f.At.Column:
		t.Errorf("%s: %s: ends before it begins: %+v", f.At, f.Rule, f.At)
	case f.At.EndColumn > len([]rune(lines[f.At.EndLine-1]))+2:
		t.Errorf("%s: %s: ends beyond the line: %+v", f.At, f.Rule, f.At)
	}
}
