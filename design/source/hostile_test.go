package source_test

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"plansheaf/design/finding"
	"plansheaf/design/source"
	"plansheaf/design/source/fixture"
)

// read reads a plan of a few files, completed as fixtures are.
func read(t testing.TB, limits source.Limits, files map[string]string) []finding.Finding {
	t.Helper()
	fsys := fstest.MapFS{}
	for name, text := range files {
		fsys[name] = &fstest.MapFile{Data: []byte(text), Mode: 0o644}
	}
	_, found, err := source.Read(fixture.Complete(fsys), limits)
	if err != nil {
		t.Fatal(err)
	}
	return found
}

// brief writes findings as file:line:column rule, one a line.
func brief(list []finding.Finding) string {
	var out []string
	for _, f := range list {
		out = append(out, f.At.String()+" "+f.Rule)
	}
	return strings.Join(out, "\n")
}

func TestHostileText(t *testing.T) {
	bomb := "a: &a [x, x]\n"
	for i := range 20 {
		bomb += fmt.Sprintf("b%d: &b%d [*a, *a]\n", i, i)
	}
	small := source.DefaultLimits()
	small.TextFile, small.OtherFile, small.AllFiles, small.Files, small.Depth, small.Nodes, small.Prose, small.Findings = 2000, 2000, 3000, 12, 3, 500, 300, 10
	for _, test := range []struct {
		name  string
		files map[string]string
		want  string
	}{
		{name: "self reference", files: map[string]string{"parts/a.yaml": "a: &a [*a]\n"}, want: "parts/a.yaml:1:4 yaml-feature"},
		{name: "deep nesting", files: map[string]string{"parts/a.yaml": "a: " + strings.Repeat("[", 900) + strings.Repeat("]", 900) + "\n"}, want: "parts/a.yaml:1:36 too-deep"},
		{name: "large file", files: map[string]string{"parts/a.yaml": strings.Repeat("# comment\n", 300)}, want: "parts/a.yaml too-large"},
		{name: "many values", files: map[string]string{"parts/a.yaml": "a: [" + strings.Repeat("1,", 600) + "]\n"}, want: "parts/a.yaml too-large"},
		{name: "long text", files: map[string]string{"parts/a.yaml": "a: {made: bought, title: " + strings.Repeat("x", 301) + "}\n"}, want: "parts/a.yaml:1:19 too-large"},
		{name: "long page", files: map[string]string{"pages/a.md": "---\ntitle: A\n---\n" + strings.Repeat("words ", 60)}, want: "pages/a.md too-large"},
		{name: "large other file", files: map[string]string{"files/a.bin": strings.Repeat("x", 2001)}, want: "files/a.bin too-large"},
		{name: "large files together", files: map[string]string{"files/a.bin": strings.Repeat("x", 1800), "files/b.bin": strings.Repeat("x", 1800), "files/c.bin": "x"}, want: "files/b.bin too-large"},
		{name: "deep directories", files: map[string]string{"files/a/b/c/d/e.txt": "x"}, want: "files/a/b/c too-deep"},
		{name: "invalid UTF-8", files: map[string]string{"parts/a.yaml": "a: {made: bought, title: caf\xe9}\n"}, want: "parts/a.yaml:1:29 invalid-encoding"},
		{name: "UTF-16", files: map[string]string{"parts/a.yaml": "\xff\xfea\x00:\x00"}, want: "parts/a.yaml invalid-encoding"},
		{name: "null bytes", files: map[string]string{"parts/a.yaml": "a: b\x00\n"}, want: "parts/a.yaml:1:5 invalid-encoding"},
		{name: "line ends that few know", files: map[string]string{"parts/a.yaml": "a: b\u2028c\n"}, want: "parts/a.yaml:1:5 invalid-encoding"},
		{name: "turned text", files: map[string]string{"parts/a.yaml": "a: {made: bought, title: \"\u202eabc\"}\n"}, want: "parts/a.yaml:1:27 invalid-encoding"},
		{name: "byte order mark and CRLF", files: map[string]string{"parts/a.yaml": "\xef\xbb\xbfa: {made: bought,\r\n  titel: A}\r\n"}, want: "parts/a.yaml:1:5 missing-field\nparts/a.yaml:2:3 unknown-key"},
		{name: "empty and comment only files", files: map[string]string{"parts/a.yaml": "", "parts/b.yaml": "# nothing\n", "stock.yaml": "---\n"}, want: ""},
		{name: "an anchor round a file", files: map[string]string{"pages/a.md": "---\n&a {title: A}\n---\nText {b}\n", "parts/a.yaml": "&a {}\n"}, want: "pages/a.md:2:1 yaml-feature\nparts/a.yaml:1:1 yaml-feature"},
		{name: "a list for a file", files: map[string]string{"parts/a.yaml": "- a\n"}, want: "parts/a.yaml:1:1 wrong-kind"},
		{name: "paths that lead out", files: map[string]string{"parts/a.yaml": "a: {title: A, made: bought, files: [{use: cad, file: files/../../x}, {use: cad, file: /etc/hosts}, {use: cad, file: 'files\\..\\x'}]}\n"},
			want: "parts/a.yaml:1:54 bad-value\nparts/a.yaml:1:87 bad-value\nparts/a.yaml:1:117 bad-value"},
		{name: "YAML 1.1 words are text", files: map[string]string{"parts/a.yaml": "a: {title: on, made: bought, finish: 012, buy: {any: 1:30}}\nb: {title: ~, made: bought}\nc: {title: null, made: bought}\n"}, want: ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			if got := brief(read(t, small, test.files)); got != test.want {
				t.Errorf("got\n%s\nwant\n%s", got, test.want)
			}
		})
	}
	t.Run("aliases without end", func(t *testing.T) {
		found := read(t, source.DefaultLimits(), map[string]string{"parts/a.yaml": bomb})
		for _, f := range found {
			if f.Rule != "yaml-feature" {
				t.Errorf("%s: %s %s", f.At, f.Rule, f.Message)
			}
		}
		if len(found) != 21 {
			t.Errorf("got %d findings, want one for each of 21 anchors", len(found))
		}
	})
	t.Run("many findings", func(t *testing.T) {
		found := read(t, small, map[string]string{"parts/a.yaml": strings.Repeat("- x\n", 0) + "a: {" + strings.Repeat("Q: 1, ", 40) + "}\n"})
		if len(found) != 11 || found[0].Rule != "too-many-findings" {
			t.Errorf("got %d findings:\n%s", len(found), brief(found))
		}
	})
	t.Run("many files", func(t *testing.T) {
		files := map[string]string{}
		for i := range 20 {
			files[fmt.Sprintf("files/%02d", i)] = "x"
		}
		if got := brief(read(t, small, files)); !strings.Contains(got, "too-many-files") || strings.Count(got, "\n") > 0 {
			t.Errorf("got\n%s", got)
		}
	})
}

// TestManyKeys reads 80,000 keys, known to nobody, doubled and good; what takes the
// square of that many would not end within the test's time.
func TestManyKeys(t *testing.T) {
	const many = 80_000
	var unknown, doubled, good bytes.Buffer
	unknown.WriteString("a:\n")
	doubled.WriteString("a:\n  made: bought\n  title: A\n  has:\n")
	for i := range many {
		fmt.Fprintf(&unknown, "  Key_%d: 1\n", i)
		fmt.Fprintf(&doubled, "    k%d: 1 mm\n", i%(many/2))
		fmt.Fprintf(&good, "h%d: 1 mm\n", i)
	}
	limits := source.DefaultLimits()
	limits.TextFile, limits.Nodes = 16<<20, 2_000_000
	for _, test := range []struct{ name, text string }{
		{name: "unknown", text: unknown.String()},
		{name: "doubled", text: doubled.String()},
		{name: "on one line", text: "a: {made: bought, title: ü, has: {" + strings.ReplaceAll(good.String(), "\n", ", ") + "}}\n"},
	} {
		t.Run(test.name, func(t *testing.T) {
			found := read(t, limits, map[string]string{"parts/a.yaml": test.text})
			if want := test.name != "on one line"; (len(found) > limits.Findings) != want {
				t.Errorf("got %d findings", len(found))
			}
		})
	}
}

// refusing is a file system that will not open one of its files.
type refusing struct {
	fstest.MapFS
	name string
}

func (f refusing) Open(name string) (fs.File, error) {
	if name == f.name {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrPermission}
	}
	return f.MapFS.Open(name)
}

func TestUnreadable(t *testing.T) {
	base := fixture.Complete(fstest.MapFS{"parts/a.yaml": {Data: []byte("a: {title: A, made: bought}\n"), Mode: 0o644}})
	_, found, err := source.Read(refusing{base, "parts/a.yaml"}, source.DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	if got, want := brief(found), "parts/a.yaml unreadable-file"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if _, _, err := source.Read(os.DirFS(filepath.Join(t.TempDir(), "gone")), source.DefaultLimits()); err == nil {
		t.Error("a directory that is not there can be read")
	}
	if _, err := source.Open(filepath.Join(t.TempDir(), "gone")); err == nil {
		t.Error("a directory that is not there can be opened")
	}
}
