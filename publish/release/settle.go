//go:build !linux

package release

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// settleEach has every file of a folder written to disk.
func settleEach(dir string) error {
	return filepath.WalkDir(dir, func(name string, d fs.DirEntry, err error) error {
		if err != nil || !d.Type().IsRegular() {
			return err
		}
		f, err := os.OpenFile(name, os.O_RDWR, 0)
		if err != nil {
			return err
		}
		return errors.Join(f.Sync(), f.Close())
	})
}
