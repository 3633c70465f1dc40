package preview_test

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"plansheaf/publish/preview"
)

// patience is how long a test waits for what must come.
const patience = 20 * time.Second

func mustTell(t *testing.T, changes <-chan struct{}, what string) {
	t.Helper()
	select {
	case <-changes:
	case <-time.After(patience):
		t.Fatalf("%s was not told", what)
	}
}

func TestWatch(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "plan")
	write := func(name, text string) {
		t.Helper()
		file := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("plan.yaml", "title: T")
	changes, err := preview.Watch(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	write("plan.yaml", "title: U")
	mustTell(t, changes, "a file")
	write("parts/new.yaml", "{}")
	mustTell(t, changes, "a new folder")
	write("parts/new.yaml", "p: {}")
	mustTell(t, changes, "a file in the new folder")
	if err := os.Rename(filepath.Join(dir, "parts"), filepath.Join(dir, "other")); err != nil {
		t.Fatal(err)
	}
	mustTell(t, changes, "a folder renamed")
	if err := os.RemoveAll(dir); err != nil {
		t.Fatal(err)
	}
	mustTell(t, changes, "the plan removed")
	write("plan.yaml", "title: V")
	mustTell(t, changes, "the plan back again")
	write("plan.yaml", "title: W")
	mustTell(t, changes, "a file of the plan that came back")
}

func TestNothingToWatch(t *testing.T) {
	if _, err := preview.Watch(t.Context(), filepath.Join(t.TempDir(), "no", "plan")); err == nil {
		t.Error("a folder that does not exist is watched")
	}
}
