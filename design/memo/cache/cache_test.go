package cache_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"sync"
	"testing"
	"time"

	"plansheaf/design/memo"
	"plansheaf/design/memo/cache"
)

var program = memo.Key{1}

// filled is a store that holds one text.
func filled(text string) *memo.Store {
	s := memo.New()
	memo.Sure(s, "text", func() string { return text })
	return s
}

// text is what a store holds; empty for nothing.
func text(s *memo.Store) string { return memo.Sure(s, "text", func() string { return "" }) }

func save(t *testing.T, p *cache.Pack, s *memo.Store) {
	t.Helper()
	if err := p.Save(s); err != nil {
		t.Fatal(err)
	}
}

// only is the one file in a folder.
func only(t *testing.T, folder string) string {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if err != nil || len(entries) != 1 {
		t.Fatalf("%v, %v", entries, err)
	}
	return filepath.Join(folder, entries[0].Name())
}

func TestPack(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "not yet", "there")
	p := cache.In(folder, "/plans/press", program)
	if got := text(p.Load()); got != "" {
		t.Errorf("nothing was saved, and %q is there", got)
	}
	save(t, p, filled("press"))
	save(t, cache.In(folder, "/plans/shelf", program), filled("shelf"))
	for _, c := range []struct {
		name    string
		plan    string
		program memo.Key
		want    string
	}{
		{name: "what was saved", plan: "/plans/press", program: program, want: "press"},
		{name: "another plan's", plan: "/plans/shelf", program: program, want: "shelf"},
		{name: "a plan that is new", plan: "/plans/bench", program: program},
		{name: "a changed program", plan: "/plans/press", program: memo.Key{2}},
		{name: "a plan named like a way out", plan: "../../press", program: program},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := text(cache.In(folder, c.plan, c.program).Load()); got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
	save(t, p, filled("press again"))
	if got := text(p.Load()); got != "press again" {
		t.Errorf("got %q", got)
	}
	if runtime.GOOS != "windows" {
		for _, name := range []string{folder, only(t, saved(t, "press"))} {
			info, err := os.Stat(name)
			if err != nil || info.Mode().Perm()&0o077 != 0 {
				t.Errorf("others may look into it: %v, %v", info.Mode(), err)
			}
		}
	}
}

// saved is a new folder with one pack.
func saved(t *testing.T, text string) string {
	t.Helper()
	folder := t.TempDir()
	save(t, cache.In(folder, "/plan", program), filled(text))
	return folder
}

// What is no whole pack counts as nothing kept, and is replaced.
func TestBroken(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(file string) error
	}{
		{name: "missing", spoil: os.Remove},
		{name: "empty", spoil: func(file string) error { return os.Truncate(file, 0) }},
		{name: "cut off", spoil: func(file string) error { return os.Truncate(file, 60) }},
		{name: "larger than a pack", spoil: func(file string) error { return os.Truncate(file, int64(memo.LargestPack)+1) }},
		{name: "something else", spoil: func(file string) error { return os.WriteFile(file, []byte("Dear diary"), 0o600) }},
	} {
		t.Run(c.name, func(t *testing.T) {
			folder := saved(t, "kept")
			if err := c.spoil(only(t, folder)); err != nil {
				t.Fatal(err)
			}
			p := cache.In(folder, "/plan", program)
			if got := text(p.Load()); got != "" {
				t.Errorf("%q was taken over", got)
			}
			save(t, p, filled("anew"))
			if got := text(p.Load()); got != "anew" {
				t.Errorf("got %q", got)
			}
		})
	}
}

// A link in the folder is not followed, neither to read nor to write.
func TestLink(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("making links takes a right that not every user of this system has")
	}
	folder, elsewhere := saved(t, "kept"), filepath.Join(t.TempDir(), "elsewhere")
	file := only(t, folder)
	if err := os.Rename(file, elsewhere); err != nil {
		t.Fatal(err)
	}
	before, err := os.ReadFile(elsewhere)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(elsewhere, file); err != nil {
		t.Fatal(err)
	}
	p := cache.In(folder, "/plan", program)
	if got := text(p.Load()); got != "" {
		t.Errorf("%q was taken over from elsewhere", got)
	}
	save(t, p, filled("anew"))
	if got := text(p.Load()); got != "anew" {
		t.Errorf("got %q", got)
	}
	if after, err := os.ReadFile(elsewhere); err != nil || string(after) != string(before) {
		t.Errorf("what the link led to was written: %v", err)
	}
}

// Nowhere to keep it: an error from saving, and nothing from loading.
func TestNowhere(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	folder := saved(t, "kept")
	pack := only(t, folder)
	if err := os.Remove(pack); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Join(pack, "held"), 0o700); err != nil {
		t.Fatal(err)
	}
	for name, in := range map[string]string{"no folder": "", "a file": file, "below a file": filepath.Join(file, "below"), "a folder in the pack's place": folder} {
		p := cache.In(in, "/plan", program)
		if got := text(p.Load()); got != "" {
			t.Errorf("%s: got %q", name, got)
		}
		if err := p.Save(filled("x")); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	only(t, folder) // nothing half done is left beside it
}

// A file that a killed run left goes with the next save.
func TestLeft(t *testing.T) {
	folder := saved(t, "kept")
	left := only(t, folder) + ".123.new"
	if err := os.WriteFile(left, []byte("half"), 0o600); err != nil {
		t.Fatal(err)
	}
	save(t, cache.In(folder, "/plan", program), filled("again"))
	only(t, folder)
}

// Packs of many plans: those that were written long ago go, what is not ours stays.
func TestMany(t *testing.T) {
	folder := t.TempDir()
	plan := func(i int) *cache.Pack { return cache.In(folder, fmt.Sprint("/plan ", i), program) }
	names := map[string]int{}
	for i := range 6 {
		save(t, plan(i), filled("kept"))
		entries, err := os.ReadDir(folder)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range entries {
			if _, known := names[e.Name()]; !known {
				names[e.Name()] = i
			}
		}
	}
	thesis := filepath.Join(folder, "thesis.txt")
	if err := os.WriteFile(thesis, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for name, i := range names { // with holes, so that they take no room
		file := filepath.Join(folder, name)
		at := time.Date(2026, 5, 2, i, 0, 0, 0, time.UTC)
		if err := errors.Join(os.Truncate(file, 600<<20), os.Chtimes(file, at, at)); err != nil {
			t.Fatal(err)
		}
	}
	save(t, plan(0), filled("again"))
	var left []int
	for name, i := range names {
		if _, err := os.Stat(filepath.Join(folder, name)); err == nil {
			left = append(left, i)
		}
	}
	slices.Sort(left)
	if want := []int{0, 3, 4, 5}; !slices.Equal(left, want) {
		t.Errorf("the packs of %v are left, want %v", left, want)
	}
	if _, err := os.Stat(thesis); err != nil {
		t.Error(err)
	}
}

// Runs at the same time: what is loaded is always whole, and one of them was the last.
func TestTogether(t *testing.T) {
	folder := saved(t, "run 0")
	p := cache.In(folder, "/plan", program)
	// Windows may refuse to open what is being replaced.
	texts := map[string]bool{"run 0": true, "": runtime.GOOS == "windows"}
	for run := 1; run <= 4; run++ {
		texts[fmt.Sprint("run ", run)] = true
	}
	var group sync.WaitGroup
	for run := 1; run <= 4; run++ {
		group.Go(func() {
			for range 50 {
				_ = p.Save(filled(fmt.Sprint("run ", run))) // another one may take its place
				if got := text(p.Load()); !texts[got] {
					t.Errorf("loaded %q", got)
				}
			}
		})
	}
	group.Wait()
	only(t, folder)
}
