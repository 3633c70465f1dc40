// Package starter holds a small plan to begin from, and writes it.
//
// The plan passes its own check; a test keeps it so.
package starter

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

//go:embed plan
var files embed.FS

// Plan is the starting plan as a file system, its root the plan's.
func Plan() fs.FS {
	sub, err := fs.Sub(files, "plan")
	if err != nil {
		panic(err) // the folder is embedded above
	}
	return sub
}

// Write writes the plan to dir, which must be new or empty, and returns the paths
// written. It fails without writing anything when dir holds files.
func Write(dir string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("look at %q: %w", dir, err)
	}
	if len(entries) > 0 {
		return nil, fmt.Errorf("start a plan in %q: the folder holds files already; name a new one", dir)
	}
	var written []string
	err = fs.WalkDir(Plan(), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(Plan(), name)
		if err != nil {
			return err
		}
		to := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
			return err
		}
		written = append(written, to)
		return os.WriteFile(to, data, 0o644)
	})
	if err != nil {
		return written, fmt.Errorf("start a plan in %q: %w", dir, err)
	}
	return written, nil
}
