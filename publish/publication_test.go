package publish_test

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"

	"plansheaf/design/check"
	"plansheaf/design/finding"
	"plansheaf/design/memo"
	"plansheaf/design/source"
	"plansheaf/publish"
	"plansheaf/publish/binder"
	"plansheaf/publish/page"
	"plansheaf/publish/release"
	"plansheaf/publish/site"
)

// scratch is a folder for the whole run of the tests.
var scratch string

// sumsTo names the file that a second run of the test program writes the sums of its
// publication to.
const sumsTo = "PLANSHEAF_TEST_SUMS"

func TestMain(m *testing.M) {
	os.Exit(func() int {
		if file := os.Getenv(sumsTo); file != "" {
			p := makeOf(os.DirFS("../example-plan"), false)
			if p.err == nil {
				p.err = os.WriteFile(file, []byte(p.sums()), 0o644)
			}
			if p.err != nil {
				fmt.Fprintln(os.Stderr, p.err)
				return 1
			}
			return 0
		}
		var err error
		if scratch, err = os.MkdirTemp("", "publication"); err != nil {
			panic(err)
		}
		defer os.RemoveAll(scratch)
		return m.Run()
	}())
}

// A publication is a plan read, checked, made, and written to a folder.
type publication struct {
	work   *check.Work
	found  []finding.Finding
	made   *publish.Publication
	files  map[string][]byte
	folder string
	err    error
}

// rules are all that findings may name.
func rules() []finding.Rule { return slices.Concat(source.Rules(), check.Texts(), publish.Rules()) }

// makeOf makes the publication of a plan, in memory.
func makeOf(plan fs.FS, draft bool) publication { return makeKeeping(plan, draft, nil) }

// makeKeeping is makeOf with what a store has kept.
func makeKeeping(plan fs.FS, draft bool, kept *memo.Store) (p publication) {
	read, found, err := source.Read(plan, source.DefaultLimits())
	if err != nil {
		return publication{err: err}
	}
	p.work = check.Keeping(read, kept)
	p.found = check.Run(p.work, found)
	p.made, p.err = publish.Make(p.work, p.found, publish.Options{Draft: draft, Rules: rules(), Version: "test"})
	if p.err != nil {
		return p
	}
	p.files = map[string][]byte{}
	for _, f := range p.made.Files {
		p.files[f.Path] = f.Data
	}
	return p
}

// keptOfExample is what making the example kept.
var keptOfExample = memo.New()

// published is the example, made once for all tests, with two processors, and
// written as a release is.
var published = sync.OnceValue(func() publication {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(2))
	p := makeKeeping(os.DirFS("../example-plan"), false, keptOfExample)
	if p.err == nil {
		p.folder = filepath.Join(scratch, "example")
		p.err = release.Write(p.folder, p.made.Files)
	}
	return p
})

// example is the example's publication.
func example(t *testing.T) publication {
	t.Helper()
	p := published()
	if p.err != nil {
		t.Fatal(p.err)
	}
	return p
}

// sums are the files in the order in which they were made, each with its sum.
func (p publication) sums() string {
	var b strings.Builder
	for _, f := range p.made.Files {
		fmt.Fprintf(&b, "%x  %s\n", sha256.Sum256(f.Data), f.Path)
	}
	return b.String()
}

// ending lists the files of a publication with one ending, in the order of their
// paths.
func (p publication) ending(ext string) []string {
	var list []string
	for name := range p.files {
		if path.Ext(name) == ext {
			list = append(list, name)
		}
	}
	slices.Sort(list)
	return list
}

// page is a page of the document.
func (p publication) page(t *testing.T, id string) *page.Page {
	t.Helper()
	for _, one := range p.made.Document.Pages {
		if one.ID == id {
			return one
		}
	}
	t.Fatalf("no page %q", id)
	return nil
}

func TestExampleHasNoFindings(t *testing.T) {
	p := example(t)
	for _, f := range slices.Concat(p.found, p.made.Problems) {
		if f.Waived == nil {
			t.Errorf("%s:%d: %s [%s]", f.At.File, f.At.Line, f.Message, f.Rule)
		}
	}
	if n := len(p.work.Combinations()); n != 4 {
		t.Errorf("%d combinations of choices, want 2 drives by 2 tiles", n)
	}
}

// Every page of the document stands in the folder, and nothing there is empty.
func TestEverythingIsWritten(t *testing.T) {
	p := example(t)
	for _, one := range p.made.Document.Pages {
		if p.files[one.ID+".html"] == nil {
			t.Errorf("no file for page %q", one.ID)
		}
		for _, s := range one.Sheets {
			if p.files[s.Picture.Name+".svg"] == nil {
				t.Errorf("no file for drawing %q", s.Picture.Name)
			}
		}
	}
	for name, data := range p.files {
		written, err := os.ReadFile(filepath.Join(p.folder, filepath.FromSlash(name)))
		if err != nil || !bytes.Equal(written, data) {
			t.Errorf("%s is not in the folder as it was made: %v", name, err)
		}
		if len(data) == 0 {
			t.Errorf("%s is empty", name)
		}
	}
}

// The same plan gives the same bytes in another process with one processor, where
// maps are walked and work is shared out in another order.
func TestSamePlanSameBytes(t *testing.T) {
	t.Parallel()
	first := example(t)
	file := filepath.Join(t.TempDir(), "sums")
	command := exec.Command(os.Args[0])
	command.Env = append(os.Environ(), sumsTo+"="+file, "GOMAXPROCS=1")
	if out, err := command.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	again, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	was, is := strings.Split(first.sums(), "\n"), strings.Split(string(again), "\n")
	if len(was) != len(is) || len(was) < 100 {
		t.Fatalf("%d files, then %d", len(was), len(is))
	}
	for i := range is {
		if was[i] != is[i] {
			t.Errorf("other bytes: %s, then %s", was[i], is[i])
		}
	}
}

// The same work is made into the same bytes twice in one process.
func TestSameDocumentSameBytes(t *testing.T) {
	p := example(t)
	for _, render := range []struct {
		name string
		make func() (map[string][]byte, error)
	}{
		{name: "binder", make: func() (map[string][]byte, error) {
			data, _, err := binder.Render(p.made.Document, binder.Options{})
			return map[string][]byte{publish.BinderPath: data}, err
		}},
		{name: "site", make: func() (map[string][]byte, error) {
			files, err := site.Render(p.made.Document, nil)
			made := map[string][]byte{}
			for _, f := range files {
				made[f.Path] = f.Data
			}
			return made, err
		}},
	} {
		t.Run(render.name, func(t *testing.T) {
			made, err := render.make()
			if err != nil {
				t.Fatal(err)
			}
			for name, data := range made {
				if !bytes.Equal(data, p.files[name]) {
					t.Errorf("%s has other bytes", name)
				}
			}
		})
	}
}

// Nothing published tells of the machine it was made on, nor of the time.
func TestNothingTellsOfTheMachine(t *testing.T) {
	p := example(t)
	here, err := filepath.Abs("..")
	if err != nil {
		t.Fatal(err)
	}
	words := [][]byte{[]byte(here), []byte(scratch), []byte("file://"), []byte("/home/"), []byte("/Users/")}
	if home, err := os.UserHomeDir(); err == nil && len(home) > 1 {
		words = append(words, []byte(home+"/"))
	}
	if host, err := os.Hostname(); err == nil && len(host) > 8 {
		words = append(words, []byte(host))
	}
	for name, data := range p.files {
		if name == publish.BinderPath {
			data = []byte(uncompressed(t, filepath.Join(p.folder, name)))
		}
		for _, word := range words {
			if bytes.Contains(data, word) {
				t.Errorf("%s holds %q", name, word)
			}
		}
	}
}
