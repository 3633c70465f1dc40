package changes

import (
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"plansheaf/design/change"
	"plansheaf/design/check"
	"plansheaf/design/golden"
	"plansheaf/design/source"
	"plansheaf/design/trial"
)

const history = "../../testdata/history"

// revisions are the plan's base and what each change after it makes of it, in order,
// worked out once for all tests.
func revisions(t testing.TB) (names []string, list []change.Revision) {
	t.Helper()
	known.Do(func() { known.names, known.list = worked(t) })
	if len(known.list) == 0 {
		t.Fatal("the history could not be worked out")
	}
	return known.names, known.list
}

var known struct {
	sync.Once
	names []string
	list  []change.Revision
}

func worked(t testing.TB) (names []string, list []change.Revision) {
	t.Helper()
	entries, err := os.ReadDir(history)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if e.IsDir() && e.Name() != "base" {
			names = append(names, e.Name())
		}
	}
	sort.Strings(names)
	files := fstest.MapFS{}
	for _, name := range append([]string{"base"}, names...) {
		laid := fstest.MapFS{}
		for path, f := range files {
			laid[path] = f
		}
		lay(t, laid, filepath.Join(history, name))
		files = laid
		list = append(list, revision(t, files))
	}
	return names, list
}

// lay adds a directory's files to others.
func lay(t testing.TB, files fstest.MapFS, dir string) {
	t.Helper()
	for path, text := range trial.FilesOf(t, os.DirFS(dir)) {
		files[path] = &fstest.MapFile{Data: []byte(text), Mode: 0o644}
	}
}

func revision(t testing.TB, fsys fs.FS) change.Revision {
	t.Helper()
	p, read, err := source.Read(fsys, source.DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	w := check.Out(p)
	return change.Revision{Work: w, Findings: check.Run(w, read)}
}

// What each revision of the history changes, as people read it.
func TestHistory(t *testing.T) {
	names, list := revisions(t)
	if len(names) != 6 {
		t.Fatalf("the history holds %v, want six changes", names)
	}
	for i, name := range names {
		t.Run(name, func(t *testing.T) {
			c := change.Between(list[i], list[i+1])
			golden.Compare(t, filepath.Join("testdata", name+".txt"), Report{Comparison: c}.Text())
			mirrors(t, c, change.Between(list[i+1], list[i]))
		})
	}
	whole := Report{Comparison: change.Between(list[0], list[len(list)-1])}
	t.Run("whole", func(t *testing.T) {
		golden.Compare(t, "testdata/whole.md", whole.Markdown())
		golden.Compare(t, "testdata/whole.notes.md", whole.Notes())
		text, err := whole.JSON()
		if err != nil {
			t.Fatal(err)
		}
		golden.Compare(t, "testdata/whole.json", text)
		for i, r := range list {
			if c := change.Between(r, r); !c.Empty() {
				t.Errorf("revision %d compared with itself: %s", i, Report{Comparison: c}.Text())
			}
		}
	})
	t.Run("half way", func(t *testing.T) {
		h, err := change.Midway(list[0], list[len(list)-1], []string{"slide.fit_coupling"}, nil)
		if err != nil {
			t.Fatal(err)
		}
		text := Report{Comparison: whole.Comparison, Midway: h}.Text()
		_, midway, _ := strings.Cut(string(text), "\nHalf way")
		midway, _, _ = strings.Cut(midway, "\nThe plan itself\n")
		golden.Compare(t, "testdata/halfway.txt", []byte("Half way"+midway))
	})
}

// mirrors fails where a comparison is not the mirror image of that the other way round.
func mirrors(t testing.TB, c, other *change.Comparison) {
	t.Helper()
	want, err := Report{Comparison: c.Mirror()}.JSON()
	if err != nil {
		t.Fatal(err)
	}
	got, err := Report{Comparison: other}.JSON()
	if err != nil {
		t.Fatal(err)
	}
	if string(got) == string(want) {
		return
	}
	a, b := strings.Split(string(want), "\n"), strings.Split(string(got), "\n")
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			t.Fatalf("the other way round differs from the mirror image at line %d:\n%s\nwant\n%s", i, strings.Join(b[max(0, i-6):min(len(b), i+6)], "\n"), strings.Join(a[max(0, i-6):min(len(a), i+6)], "\n"))
		}
	}
	t.Fatalf("the other way round gives %d lines, the mirror image %d", len(b), len(a))
}
