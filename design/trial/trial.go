package trial

import (
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/source"
	"plansheaf/design/source/fixture"
)

// Files are a plan's files, text by path.
type Files map[string]string

// With is the files with others added; a file of the same path is replaced.
func (f Files) With(more Files) Files {
	all := Files{}
	for path, text := range f {
		all[path] = text
	}
	for path, text := range more {
		all[path] = text
	}
	return all
}

// FilesOf are all files of a plan that is there.
func FilesOf(t testing.TB, fsys fs.FS) Files {
	t.Helper()
	out := Files{}
	err := fs.WalkDir(fsys, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(fsys, path)
		out[path] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// Read reads a plan with all that reading finds.
func Read(t testing.TB, files Files) (*plan.Plan, []finding.Finding) {
	t.Helper()
	fsys := fstest.MapFS{}
	for path, text := range files {
		fsys[path] = &fstest.MapFile{Data: []byte(text), Mode: 0o644}
	}
	p, found, err := source.Read(fixture.Complete(fsys), source.DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	return p, found
}

// Plan reads a plan; the test fails on any finding of reading.
func Plan(t testing.TB, files Files) *plan.Plan {
	t.Helper()
	p, found := Read(t, files)
	Clean(t, found)
	return p
}

// Clean fails the test for each finding.
func Clean(t testing.TB, found []finding.Finding) {
	t.Helper()
	for _, f := range found {
		t.Errorf("%s: %s [%s]", f.At, f.Message, f.Rule)
	}
}

// Reckoning prepares to work out a plan in its own case.
func Reckoning(t testing.TB, files Files) *reckon.Reckoning {
	t.Helper()
	p := Plan(t, files)
	return reckon.New(p, reckon.Default(p), nil)
}

// Covered is the text that a finding marks in its file, as far as it stands on one
// line.
func Covered(files Files, f finding.Finding) string {
	lines := strings.Split(files[f.At.File], "\n")
	if f.At.Line < 1 || f.At.Line > len(lines) {
		return ""
	}
	runes := []rune(lines[f.At.Line-1])
	end := f.At.EndColumn
	if f.At.EndLine != f.At.Line {
		end = len(runes) + 1
	}
	if f.At.Column < 1 || end < f.At.Column || end > len(runes)+1 {
		return ""
	}
	return string(runes[f.At.Column-1 : end-1])
}
