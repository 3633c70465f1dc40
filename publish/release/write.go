package release

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// Write puts the files and their list at dir, in place of an earlier publication.
// It fails without touching dir when dir holds files but no list of ours, when two
// files share a path or a path leads out of dir, or when a file that somebody else
// added has the path of one to be written.
func Write(dir string, files []File) error {
	files = slices.Clone(files)
	slices.SortFunc(files, func(a, b File) int { return strings.Compare(a.Path, b.Path) })
	for i, f := range files {
		if !clean(f.Path) || f.Path == ListName {
			return fmt.Errorf("publish %q: not a path inside the publication", f.Path)
		}
		if i > 0 && files[i-1].Path == f.Path {
			return fmt.Errorf("publish %q: two files have this path", f.Path)
		}
	}
	files = append(files, File{Path: ListName, Data: list(files)})
	dir = filepath.Clean(dir)
	beside := func(mark string) string {
		return filepath.Join(filepath.Dir(dir), "."+filepath.Base(dir)+"."+mark)
	}
	fresh, old := beside("new"), beside("old")
	if err := restore(dir, old); err != nil {
		return err
	}
	foreign, err := foreignFiles(dir, files)
	if err != nil {
		return err
	}
	if err := os.RemoveAll(fresh); err != nil { // left by an interrupted run, ours alone
		return fmt.Errorf("clear %q: %w", fresh, err)
	}
	if err := fill(fresh, files); err != nil {
		os.RemoveAll(fresh)
		return err
	}
	return swap(dir, fresh, old, foreign)
}

// restore puts the old publication back when a run was stopped between its two
// renames.
func restore(dir, old string) error {
	if _, err := os.Lstat(old); errors.Is(err, fs.ErrNotExist) {
		return nil
	} else if err != nil {
		return fmt.Errorf("look at %q: %w", old, err)
	}
	if _, err := os.Lstat(dir); errors.Is(err, fs.ErrNotExist) {
		return os.Rename(old, dir)
	}
	return os.RemoveAll(old)
}

// foreignFiles are the files in dir that an earlier publication did not list.
func foreignFiles(dir string, files []File) ([]string, error) {
	info, err := os.Stat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, fmt.Errorf("look at %q: %w", dir, err)
	case !info.IsDir():
		return nil, fmt.Errorf("publish to %q: it is a file, not a folder", dir)
	}
	var ours map[string]bool
	data, err := os.ReadFile(filepath.Join(dir, ListName))
	if err == nil {
		if ours, err = listed(data); err != nil {
			return nil, fmt.Errorf("publish to %q: %w", dir, err)
		}
	}
	ofUs := map[string]bool{}
	for _, f := range files {
		ofUs[f.Path] = true
	}
	var foreign []string
	err = filepath.WalkDir(dir, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		rel, err := filepath.Rel(dir, name)
		if err != nil {
			return err
		}
		rel = filepath.ToSlash(rel)
		switch {
		case ours[rel]:
		case ours == nil:
			return fmt.Errorf("publish to %q: it holds %q and no %s, so it is not a publication of this program; choose an empty folder", dir, rel, ListName)
		case ofUs[rel]:
			return fmt.Errorf("publish to %q: %q was added by somebody else and would be overwritten; move it away", dir, rel)
		default:
			foreign = append(foreign, rel)
		}
		return nil
	})
	return foreign, err
}

func fill(dir string, files []File) error {
	for _, f := range files {
		name := filepath.Join(dir, filepath.FromSlash(f.Path))
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			return fmt.Errorf("make folder for %q: %w", f.Path, err)
		}
		if err := os.WriteFile(name, f.Data, 0o644); err != nil {
			return fmt.Errorf("write %q: %w", f.Path, err)
		}
	}
	return nil
}

// swap moves the new publication in place of the old one, carrying foreign files
// over, and deletes the old one.
func swap(dir, fresh, old string, foreign []string) error {
	_, err := os.Lstat(dir)
	if errors.Is(err, fs.ErrNotExist) {
		if err := os.MkdirAll(filepath.Dir(dir), 0o755); err != nil {
			return fmt.Errorf("make folder for %q: %w", dir, err)
		}
		return os.Rename(fresh, dir)
	}
	for _, rel := range foreign {
		to := filepath.Join(fresh, filepath.FromSlash(rel))
		if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
			return fmt.Errorf("carry %q over: %w", rel, err)
		}
		if err := os.Link(filepath.Join(dir, filepath.FromSlash(rel)), to); err != nil {
			return fmt.Errorf("carry %q over: %w", rel, err)
		}
	}
	if err := os.Rename(dir, old); err != nil {
		return fmt.Errorf("move the old publication aside: %w", err)
	}
	if err := os.Rename(fresh, dir); err != nil {
		return errors.Join(fmt.Errorf("move the new publication in place: %w", err), os.Rename(old, dir))
	}
	return os.RemoveAll(old)
}
