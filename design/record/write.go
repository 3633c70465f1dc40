package record

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"strings"
)

// ErrChanged is the error for a file that is no longer as it was read.
var ErrChanged = errors.New("the file has changed since it was read")

// Write puts an edit into its file: a new file is written beside it and moved into its
// place, with the permissions of the old one. A path that leads through a symbolic link,
// or to what is no plain file, is refused.
func Write(root *os.Root, e Edit) error {
	info, err := plainFile(root, e.File)
	if err != nil {
		return err
	}
	now, err := root.ReadFile(e.File)
	if err != nil {
		return fmt.Errorf("read %s: %w", e.File, err)
	}
	if !bytes.Equal(now, e.Before) {
		return fmt.Errorf("write %s: %w", e.File, ErrChanged)
	}
	beside := path.Join(path.Dir(e.File), "."+path.Base(e.File)+".new")
	if err := writeNew(root, beside, e.After, info.Mode().Perm()); err != nil {
		return err
	}
	if err := root.Rename(beside, e.File); err != nil {
		root.Remove(beside)
		return fmt.Errorf("move %s into place: %w", e.File, err)
	}
	return nil
}

// writeNew writes a file that must not be there yet, all of it or nothing.
func writeNew(root *os.Root, name string, data []byte, mode fs.FileMode) error {
	f, err := root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	_, err = f.Write(data)
	if err == nil {
		err = f.Chmod(mode) // as the old file has it, whatever the umask
	}
	if err == nil {
		err = f.Sync()
	}
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err != nil {
		root.Remove(name)
		return fmt.Errorf("write %s: %w", name, err)
	}
	return nil
}

// plainFile makes sure that no piece of a path is a symbolic link and that a plain file
// stands at its end.
func plainFile(root *os.Root, name string) (fs.FileInfo, error) {
	var info fs.FileInfo
	pieces := strings.Split(name, "/")
	for i := range pieces {
		at := strings.Join(pieces[:i+1], "/")
		var err error
		if info, err = root.Lstat(at); err != nil {
			return nil, fmt.Errorf("look at %s: %w", at, err)
		}
		if info.Mode()&fs.ModeSymlink != 0 {
			return nil, fmt.Errorf("%s is a symbolic link; it is not followed", at)
		}
	}
	if !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s is no plain file", name)
	}
	return info, nil
}
