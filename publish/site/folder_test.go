package site

import (
	"encoding/base64"
	"os"
	"path/filepath"
	"testing"
)

// write puts the sample's site into a folder, with the files that others write
// beside it.
func write(t *testing.T) string {
	t.Helper()
	folder := t.TempDir()
	files := render(t, sample())
	pixel, err := base64.StdEncoding.DecodeString("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNgAAAAAgABSK+kcQAAAABJRU5ErkJggg==")
	if err != nil {
		t.Fatal(err)
	}
	files["files/clay photo.png"] = pixel
	files["files/wiring.svg"] = []byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M1 1h7"/></svg>`)
	files["files/crank_knob.stl"] = []byte("solid knob\nendsolid knob\n")
	files["binder.pdf"] = []byte("%PDF-1.7\n")
	for name, data := range files {
		file := filepath.Join(folder, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return folder
}
