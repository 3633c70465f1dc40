package release

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

func read(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func write(t *testing.T, name, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func TestWriteReplacesAndKeepsWhatOthersAdded(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	if err := Write(dir, []File{{"b/two.txt", []byte("2")}, {"one.txt", []byte("1")}}); err != nil {
		t.Fatal(err)
	}
	write(t, filepath.Join(dir, "notes", "mine.txt"), "mine")
	if err := Write(dir, []File{{"one.txt", []byte("new")}}); err != nil {
		t.Fatal(err)
	}
	if got := read(t, filepath.Join(dir, "one.txt")); got != "new" {
		t.Errorf("one.txt holds %q, want the new text", got)
	}
	if got := read(t, filepath.Join(dir, "notes", "mine.txt")); got != "mine" {
		t.Errorf("a file added by somebody else holds %q", got)
	}
	if _, err := os.Stat(filepath.Join(dir, "b", "two.txt")); err == nil {
		t.Error("a file of the earlier publication was left")
	}
	entries, err := os.ReadDir(filepath.Dir(dir))
	if err != nil {
		t.Fatal(err)
	}
	if len(entries) != 1 {
		t.Errorf("beside the publication lies %v, want nothing", entries)
	}
}

func TestWriteListsSums(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	if err := Write(dir, []File{{"abc.txt", []byte("abc")}}); err != nil {
		t.Fatal(err)
	}
	// The digest of "abc": FIPS 180-4, worked example for SHA-256.
	want := "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad  abc.txt\n"
	if got := read(t, filepath.Join(dir, ListName)); got != want {
		t.Errorf("list holds %q, want %q", got, want)
	}
}

func TestWriteRefuses(t *testing.T) {
	cases := []struct {
		name  string
		have  map[string]string // files in the folder before
		files []File
		want  string
	}{
		{name: "a folder of somebody else's", have: map[string]string{"thesis.txt": "x"}, files: []File{{"a", nil}}, want: "not a publication"},
		{name: "a path that leads out", files: []File{{"../a", nil}}, want: "not a path inside"},
		{name: "an absolute path", files: []File{{"/a", nil}}, want: "not a path inside"},
		{name: "the list's own name", files: []File{{ListName, nil}}, want: "not a path inside"},
		{name: "two files at one path", files: []File{{"a", nil}, {"a", nil}}, want: "two files"},
		{name: "a list that is none", have: map[string]string{ListName: "rubbish\n"}, files: []File{{"a", nil}}, want: "not a list"},
		{name: "an added file in the way", have: map[string]string{ListName: "", "a": "mine"}, files: []File{{"a", nil}}, want: "added by somebody else"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "out")
			for name, text := range c.have {
				write(t, filepath.Join(dir, name), text)
			}
			err := Write(dir, c.files)
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Fatalf("error is %v, want one with %q", err, c.want)
			}
			for name, text := range c.have {
				if got := read(t, filepath.Join(dir, name)); got != text {
					t.Errorf("%s was changed to %q", name, got)
				}
			}
		})
	}
}

func TestWriteRestoresAfterStopBetweenRenames(t *testing.T) {
	parent := t.TempDir()
	dir := filepath.Join(parent, "out")
	if err := Write(dir, []File{{"a", []byte("old")}}); err != nil {
		t.Fatal(err)
	}
	write(t, filepath.Join(dir, "mine"), "mine")
	// As a run stopped after moving the old publication aside leaves it.
	if err := os.Rename(dir, filepath.Join(parent, ".out.plansheaf-old")); err != nil {
		t.Fatal(err)
	}
	if err := Write(dir, []File{{"a", []byte("new")}}); err != nil {
		t.Fatal(err)
	}
	if got := read(t, filepath.Join(dir, "a")); got != "new" {
		t.Errorf("a holds %q", got)
	}
	if got := read(t, filepath.Join(dir, "mine")); got != "mine" {
		t.Errorf("what others added holds %q", got)
	}
}

// A place given up without a publication leaves no folders behind; one with keeps them.
func TestClaimLeavesNothing(t *testing.T) {
	parent := t.TempDir()
	dir := filepath.Join(parent, "deep", "deeper", "out")
	for _, files := range [][]File{nil, {{"a", []byte("a")}}} {
		p, err := Claim(dir)
		if err != nil {
			t.Fatal(err)
		}
		if files != nil {
			if err := p.Write(files); err != nil {
				t.Fatal(err)
			}
		}
		if err := p.Close(); err != nil {
			t.Fatal(err)
		}
		entries, err := os.ReadDir(parent)
		if err != nil || len(entries) != len(files) {
			t.Errorf("%d files published: %v left, %v", len(files), entries, err)
		}
	}
	if got := read(t, filepath.Join(dir, "a")); got != "a" {
		t.Errorf("a holds %q", got)
	}
}

// A link to a publication is published through, and stays a link.
func TestWriteThroughLink(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("this system lets not everyone make links")
	}
	parent := t.TempDir()
	real, link := filepath.Join(parent, "real"), filepath.Join(parent, "link")
	if err := Write(real, []File{{"a", []byte("old")}}); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(real, link); err != nil {
		t.Fatal(err)
	}
	if err := Write(link, []File{{"a", []byte("new")}}); err != nil {
		t.Fatal(err)
	}
	if target, err := os.Readlink(link); err != nil || target != real {
		t.Errorf("the link leads to %q, %v", target, err)
	}
	if got := read(t, filepath.Join(real, "a")); got != "new" {
		t.Errorf("a holds %q", got)
	}
}
