package source

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"testing"
	"testing/fstest"
)

// What is kept is what was read, byte for byte, and what goes with the project; what
// begins with a dot is not.
func TestKeeperKeepsWhatWasRead(t *testing.T) {
	files := map[string]string{
		"plan.yaml": "title: Rig\nmachine: rig\nrevision: A\n", "assemblies/rig.yaml": "title: Rig\nholds: {}\n", "parts/none.yaml": "",
		"files/data.csv": "a,b\r\n1,2\r\n", "README.md": "read me", "LICENSE": "terms", "LICENSES/MIT.txt": "more terms",
	}
	others := map[string]string{".git/config": "x", ".hidden": "x", "LICENSES/.hidden": "x", "LICENSES/deeper/x.txt": "x", "CONTRIBUTING/x": "x", "notes/x": "x"}
	dir := fstest.MapFS{}
	for name, text := range files {
		dir[name] = &fstest.MapFile{Data: []byte(text)}
	}
	for name, text := range others {
		dir[name] = &fstest.MapFile{Data: []byte(text)}
	}
	kept := Keep(dir)
	plain, foundPlain, err := Read(dir, DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	read, found, err := Read(kept, DefaultLimits())
	if err != nil || fmt.Sprint(found) != fmt.Sprint(foundPlain) || len(read.Files) != len(plain.Files) {
		t.Errorf("kept, it is read as %v, %v; else as %v", found, err, foundPlain)
	}
	if found := kept.Beside(DefaultLimits()); len(found) > 0 {
		t.Errorf("found %v", found)
	}
	var names []string
	for _, f := range kept.Files() {
		names = append(names, f.Path)
		if string(f.Data) != files[f.Path] || f.Size != int64(len(f.Data)) {
			t.Errorf("%s is kept as %q", f.Path, f.Data)
		}
	}
	want := []string{"LICENSE", "LICENSES/MIT.txt", "README.md", "assemblies/rig.yaml", "files/data.csv", "parts/none.yaml", "plan.yaml"}
	if !slices.Equal(names, want) {
		t.Errorf("kept %q, want %q", names, want)
	}
}

// What cannot be passed on is found: links, texts beyond the limit, names that other
// systems do not take.
func TestKeeperFindsWhatItCannotPassOn(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("this system takes no such names, nor links from everyone")
	}
	dir := t.TempDir()
	for name, text := range map[string]string{"README.md": "long text", "LICENSE": "x", `COPYING\x`: "x"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Symlink("/etc/passwd", filepath.Join(dir, "NOTICE")); err != nil {
		t.Fatal(err)
	}
	root, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	limits := DefaultLimits()
	limits.TextFile = 5
	kept := Keep(root.FS())
	var got []string
	for _, f := range kept.Beside(limits) {
		got = append(got, f.Rule+" "+f.At.File)
	}
	if want := []string{`invalid-encoding COPYING\x`, "symlink NOTICE", "too-large README.md"}; !slices.Equal(got, want) {
		t.Errorf("found %q, want %q", got, want)
	}
	if names := kept.Files(); len(names) != 1 || names[0].Path != "LICENSE" {
		t.Errorf("kept %v", names)
	}
	if _, err := fs.ReadFile(kept, "../x"); err == nil {
		t.Error("a path that leads out is read")
	}
}
