//go:build unix

package source_test

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"plansheaf/design/source"
)

// TestNothingOutside makes links, pipes and directories where files belong, and a
// secret outside the plan that must not be read.
func TestNothingOutside(t *testing.T) {
	top := t.TempDir()
	dir := filepath.Join(top, "plan")
	secret := filepath.Join(top, "secret.yaml")
	write := func(name, text string) {
		t.Helper()
		full := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(full), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(full, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	link := func(target, name string) {
		t.Helper()
		if err := os.MkdirAll(filepath.Dir(filepath.Join(dir, name)), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.Symlink(target, filepath.Join(dir, name)); err != nil {
			t.Fatal(err)
		}
	}
	write("plan.yaml", "title: Rig\nmachine: rig\nrevision: A\n")
	write("assemblies/rig.yaml", "title: Rig\nholds: {}\n")
	write("files/real.txt", "x")
	if err := os.WriteFile(secret, []byte("secret: {title: Secret, made: bought}\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	link(secret, "parts/absolute.yaml")
	link("../../secret.yaml", "parts/relative.yaml")
	link("../files/real.txt", "parts/inside.yaml")
	link(top, "files/up")
	link("loop", "files/loop")
	link(top, "safety")
	if err := syscall.Mkfifo(filepath.Join(dir, "files/pipe"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Join(dir, "drawings/a.yaml"), 0o755); err != nil {
		t.Fatal(err)
	}
	root, err := source.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	p, found, err := source.Read(root.FS(), source.DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	want := "drawings/a.yaml file-unread\nfiles/loop symlink\nfiles/pipe symlink\nfiles/up symlink\nparts/absolute.yaml symlink\nparts/inside.yaml symlink\nparts/relative.yaml symlink\nsafety symlink"
	if got := brief(found); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if len(p.Parts) > 0 || len(p.Files) != 1 {
		t.Errorf("read %d parts and %d files, want none and one", len(p.Parts), len(p.Files))
	}
}
