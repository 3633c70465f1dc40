package revision

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/go-git/go-git/v5"
	"github.com/go-git/go-git/v5/plumbing"
	"github.com/go-git/go-git/v5/plumbing/filemode"
	"github.com/go-git/go-git/v5/plumbing/object"

	"plansheaf/design/source"
)

// write puts files below a directory.
func write(t *testing.T, dir string, files map[string]string) {
	t.Helper()
	for name, text := range files {
		full := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(full), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(full, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// repository is one with two commits of a plan in plans/press, the first tagged one.
func repository(t *testing.T) (dir, first string) {
	t.Helper()
	dir = t.TempDir()
	repo, err := git.PlainInit(dir, false)
	if err != nil {
		t.Fatal(err)
	}
	work, err := repo.Worktree()
	if err != nil {
		t.Fatal(err)
	}
	commit := func() plumbing.Hash {
		if err := work.AddGlob("."); err != nil {
			t.Fatal(err)
		}
		hash, err := work.Commit("A revision", &git.CommitOptions{Author: &object.Signature{Name: "A", Email: "a@example.org", When: time.Unix(1e9, 0)}})
		if err != nil {
			t.Fatal(err)
		}
		return hash
	}
	write(t, dir, map[string]string{"plans/press/plan.yaml": "title: First\n", "plans/press/files/a.txt": "a", "README.md": "x"})
	if err := os.Symlink("/etc/passwd", filepath.Join(dir, "plans/press/files/link.txt")); err != nil {
		t.Fatal(err)
	}
	hash := commit()
	if _, err := repo.CreateTag("one", hash, nil); err != nil {
		t.Fatal(err)
	}
	write(t, dir, map[string]string{"plans/press/plan.yaml": "title: Second\n"})
	commit()
	write(t, dir, map[string]string{"plans/press/plan.yaml": "title: Not committed\n"})
	return dir, hash.String()
}

// opens checks that a revision opens with what its plan.yaml should hold, or fails as it
// should.
func opens(t *testing.T, where, beside, want, fails string) {
	t.Helper()
	o, err := Open(where, beside)
	if fails != "" {
		if err == nil || !strings.Contains(err.Error(), fails) {
			t.Errorf("the error is %v, want one with %q", err, fails)
		}
		return
	}
	if err != nil {
		t.Fatal(err)
	}
	defer o.Close()
	got, err := fs.ReadFile(o.FS, "plan.yaml")
	if err != nil || string(got) != want {
		t.Errorf("plan.yaml holds %q (%v), want %q", got, err, want)
	}
}

func TestOpenRevisionsOfARepository(t *testing.T) {
	dir, first := repository(t)
	plan := filepath.Join(dir, "plans", "press")
	cases := []struct{ name, where, beside, want, fails string }{
		{name: "a branch", where: "master", beside: plan, want: "title: Second\n"},
		{name: "a tag", where: "one", beside: plan, want: "title: First\n"},
		{name: "a commit", where: first, beside: plan, want: "title: First\n"},
		{name: "a short commit", where: first[:8], beside: plan, want: "title: First\n"},
		{name: "the one before", where: "HEAD~1", beside: plan, want: "title: First\n"},
		{name: "a path", where: "one:plans/press", beside: dir, want: "title: First\n"},
		{name: "no such branch", where: "next", beside: plan, fails: "no branch, tag or commit"},
		{name: "no such path", where: "one:plans/shelf", beside: dir, fails: `no directory "plans/shelf"`},
		{name: "a path out of it", where: "one:../x", beside: dir, fails: "no path in a repository"},
		{name: "no repository", where: "one", beside: t.TempDir(), fails: "no git repository"},
		{name: "a path, and nothing there", where: "./none", beside: plan, fails: "no such file"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			opens(t, c.where, c.beside, c.want, c.fails)
		})
	}
}

func TestLinksOfARepositoryAreRefused(t *testing.T) {
	dir, _ := repository(t)
	o, err := Open("one", filepath.Join(dir, "plans", "press"))
	if err != nil {
		t.Fatal(err)
	}
	p, found, err := source.Read(o.FS, source.DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Files) != 1 || p.Files[0].Path != "files/a.txt" {
		t.Errorf("the plan holds %v, want files/a.txt alone", p.Files)
	}
	for _, f := range found {
		if f.At.File == "files/link.txt" && strings.Contains(f.Message, "symbolic link") {
			return
		}
	}
	t.Errorf("no finding about the link among %v", found)
}

func TestATreeWithBadNamesIsRefused(t *testing.T) {
	dir := t.TempDir()
	repo, err := git.PlainInit(dir, false)
	if err != nil {
		t.Fatal(err)
	}
	store := func(o interface {
		Encode(plumbing.EncodedObject) error
	}) plumbing.Hash {
		e := repo.Storer.NewEncodedObject()
		if err := o.Encode(e); err != nil {
			t.Fatal(err)
		}
		hash, err := repo.Storer.SetEncodedObject(e)
		if err != nil {
			t.Fatal(err)
		}
		return hash
	}
	empty := store(&object.Tree{})
	// Written by hand: the library itself refuses such names.
	e := repo.Storer.NewEncodedObject()
	e.SetType(plumbing.TreeObject)
	w, err := e.Writer()
	if err != nil {
		t.Fatal(err)
	}
	fmt.Fprintf(w, "%o ..\x00%s", uint32(filemode.Dir), empty[:])
	w.Close()
	bad, err := repo.Storer.SetEncodedObject(e)
	if err != nil {
		t.Fatal(err)
	}
	who := object.Signature{Name: "A", Email: "a@example.org"}
	hash := store(&object.Commit{Author: who, Committer: who, Message: "x", TreeHash: bad})
	if _, err := Open(hash.String()+":.", dir); err == nil || !strings.Contains(err.Error(), "leads elsewhere") {
		t.Errorf("the error is %v, want a refusal", err)
	}
}

// zipped is an archive of the files, in the order given.
func zipped(t *testing.T, files ...string) []byte {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, name := range files {
		f, err := w.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate})
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(f, "content of %s", name)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestOpenArchives(t *testing.T) {
	cases := []struct {
		name  string
		data  []byte
		want  string // what plan.yaml holds
		fails string
	}{
		{name: "the plan's source beside the site", data: zipped(t, "index.html", "files/deep/er/plan.yaml", "source/plan.yaml", "source/parts/a.yaml"), want: "content of source/plan.yaml"},
		{name: "a plan at the root", data: zipped(t, "plan.yaml", "x/plan.yaml"), want: "content of plan.yaml"},
		{name: "no source", data: zipped(t, "index.html"), fails: "no plan.yaml"},
		{name: "a path that leads out", data: zipped(t, "plan.yaml", "../x"), fails: "leads elsewhere"},
		{name: "an absolute path", data: zipped(t, "plan.yaml", "/etc/x"), fails: "leads elsewhere"},
		{name: "a path twice", data: zipped(t, "plan.yaml", "plan.yaml"), fails: "there twice"},
		{name: "a path through a file", data: zipped(t, "plan.yaml", "plan.yaml/x"), fails: "leads through a file"},
		{name: "no archive", data: []byte("title: x"), fails: "no archive"},
		{name: "far too deep", data: zipped(t, "plan.yaml", strings.Repeat("a/", 60)+"b"), fails: "directories deep"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			name := filepath.Join(t.TempDir(), "x.zip")
			if err := os.WriteFile(name, c.data, 0o644); err != nil {
				t.Fatal(err)
			}
			opens(t, name, "", c.want, c.fails)
		})
	}
}

func TestAnArchiveOfNothingButNamesIsRefused(t *testing.T) {
	var names []string
	for i := range 9_000 {
		names = append(names, fmt.Sprintf("%02000d", i))
	}
	data := zipped(t, append(names, "plan.yaml")...)
	if _, err := readArchive(bytes.NewReader(data), int64(len(data))); err != errTooMany {
		t.Errorf("the error is %v, want %v", err, errTooMany)
	}
}

// A tree keeps the rules of file systems as package fstest knows them.
func TestTreeIsAFileSystem(t *testing.T) {
	data := zipped(t, "plan.yaml", "parts/a.yaml", "files/x/y.txt")
	tree, err := readArchive(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	if err := fstest.TestFS(tree, "plan.yaml", "parts/a.yaml", "files/x/y.txt"); err != nil {
		t.Error(err)
	}
}

func FuzzArchive(f *testing.F) {
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	w.Create("plan.yaml")
	w.Close()
	f.Add(b.Bytes())
	f.Fuzz(func(t *testing.T, data []byte) {
		tree, err := readArchive(bytes.NewReader(data), int64(len(data)))
		if err != nil {
			return
		}
		fs.WalkDir(tree, ".", func(name string, d fs.DirEntry, err error) error {
			if err == nil && !fs.ValidPath(name) {
				t.Errorf("a path leads out: %q", name)
			}
			return nil
		})
	})
}
