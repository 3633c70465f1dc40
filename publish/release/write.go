package release

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
)

// Write puts the files and their list at dir, in place of an earlier publication.
// It fails without touching dir when dir holds files but no list of ours, when two
// files share a path or a path leads out of dir, when a file that somebody else
// added has the path of one to be written, or when another run has the place.
func Write(dir string, files []File) error {
	p, err := Claim(dir)
	if err != nil {
		return err
	}
	return errors.Join(p.Write(files), p.Close())
}

// A Place is a folder to publish to, kept for one run until it is closed.
type Place struct {
	dir        string // as it was given, for messages
	path       string // absolute, no link
	fresh, old string // beside it: the new publication while it is written, the old one aside
	locked     *lock
	made       []string // folders on the way to it that were missing, the innermost first
	// before is told each operation before it is done and may fail it: tests stop
	// and fail a run at every point.
	before func(operation, name string) error
}

// Claim takes the folder dir for one run, puts in order what an interrupted one left,
// and finds out whether dir may be published to. The folder it stands in is made where
// it is missing.
func Claim(dir string) (*Place, error) { return claim(dir, nil) }

func claim(dir string, before func(operation, name string) error) (*Place, error) {
	path, err := filepath.Abs(dir)
	if err != nil {
		return nil, fmt.Errorf("publish to %q: %w", dir, err)
	}
	// A link is published through, not replaced.
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	parent, base := filepath.Dir(path), filepath.Base(path)
	if parent == path {
		return nil, fmt.Errorf("publish to %q: there is no place beside it to write to", dir)
	}
	beside := func(mark string) string { return filepath.Join(parent, "."+base+".plansheaf-"+mark) }
	p := &Place{dir: dir, path: path, fresh: beside("new"), old: beside("old"), before: before}
	for folder := parent; !exists(folder) && folder != filepath.Dir(folder); folder = filepath.Dir(folder) {
		p.made = append(p.made, folder)
	}
	if err := p.do("make", parent, func() error { return os.MkdirAll(parent, 0o755) }); err != nil {
		return nil, fmt.Errorf("publish to %q: make the folder that it stands in: %w", dir, err)
	}
	if p.locked, err = take(beside("lock")); err != nil {
		p.unmake()
		return nil, fmt.Errorf("publish to %q: %w", dir, err)
	}
	if err := p.tidy(); err != nil {
		return nil, errors.Join(err, p.Close())
	}
	if _, _, err := p.found(); err != nil {
		return nil, errors.Join(err, p.Close())
	}
	return p, nil
}

// Close gives the place up; where nothing was published, nothing of it is left.
func (p *Place) Close() error {
	err := p.locked.release()
	p.unmake()
	return err
}

// unmake removes the folders that were made on the way, as far as nothing is in them.
func (p *Place) unmake() {
	for _, folder := range p.made {
		if os.Remove(folder) != nil {
			return
		}
	}
}

func (p *Place) do(operation, name string, act func() error) error {
	if p.before != nil {
		if err := p.before(operation, name); err != nil {
			return &fs.PathError{Op: operation, Path: name, Err: err}
		}
	}
	return act()
}

// tidy puts the old publication back when a run was stopped between two renames, and
// clears away what else an interrupted run left.
func (p *Place) tidy() error {
	if exists(p.old) && !exists(p.path) {
		if err := p.do("rename", p.path, func() error { return os.Rename(p.old, p.path) }); err != nil {
			return fmt.Errorf("put the publication %q back: %w", p.dir, err)
		}
	}
	for _, left := range []string{p.fresh, p.old} {
		if exists(left) {
			if err := p.remove(left); err != nil {
				return fmt.Errorf("clear away what an interrupted run left: %w", err)
			}
		}
	}
	return nil
}

func exists(name string) bool {
	_, err := os.Lstat(name)
	return err == nil
}

func (p *Place) remove(name string) error {
	return p.do("remove", name, func() error { return os.RemoveAll(name) })
}

// found is what stands at the place: its files by path, and those that an earlier
// publication listed; both nil where there is nothing.
func (p *Place) found() (have []string, ours map[string]Sum, err error) {
	info, err := os.Stat(p.path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil, nil
	case err != nil:
		return nil, nil, fmt.Errorf("look at %q: %w", p.dir, err)
	case !info.IsDir():
		return nil, nil, fmt.Errorf("publish to %q: it is a file, not a folder", p.dir)
	}
	err = filepath.WalkDir(p.path, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		rel, err := filepath.Rel(p.path, name)
		have = append(have, filepath.ToSlash(rel))
		return err
	})
	if err != nil || len(have) == 0 {
		return have, nil, err
	}
	data, err := os.ReadFile(filepath.Join(p.path, ListName))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil, fmt.Errorf("publish to %q: it holds %q and no %s, so it is not a publication of this program; choose an empty folder", p.dir, have[0], ListName)
	}
	if err == nil {
		ours, err = sums(data)
	}
	if err != nil {
		return nil, nil, fmt.Errorf("publish to %q: %w", p.dir, err)
	}
	return have, ours, nil
}

// Write puts the files and their list at the place; see the function of this name.
func (p *Place) Write(files []File) error {
	files, err := listed(files)
	if err != nil {
		return err
	}
	have, ours, err := p.found()
	if err != nil {
		return err
	}
	var foreign []string
	for _, name := range have {
		if _, known := ours[name]; known || name == ListName {
			continue
		}
		if slices.ContainsFunc(files, func(f File) bool { return f.Path == name }) {
			return fmt.Errorf("publish to %q: %q was added by somebody else and would be overwritten; move it away", p.dir, name)
		}
		foreign = append(foreign, name)
	}
	err = p.fill(files)
	if err == nil {
		err = p.carry(foreign)
	}
	if err == nil {
		err = p.settle()
	}
	if err != nil {
		return errors.Join(fmt.Errorf("write the publication: %w; what was published before stands", err), p.remove(p.fresh))
	}
	return p.swap()
}

// fill writes the files beside the place. Their modes do not follow the process's mask:
// what is published is for everybody to read.
func (p *Place) fill(files []File) error {
	mode := fs.FileMode(0o755)
	if info, err := os.Stat(p.path); err == nil {
		mode = info.Mode().Perm()
	}
	if err := p.folder(p.fresh, mode); err != nil {
		return err
	}
	made := map[string]bool{p.fresh: true}
	for _, f := range files {
		name := filepath.Join(p.fresh, filepath.FromSlash(f.Path))
		if err := p.folders(filepath.Dir(name), made); err != nil {
			return err
		}
		if err := p.do("write", name, func() error { return writeFile(name, f.Data) }); err != nil {
			return err
		}
	}
	return nil
}

func (p *Place) folder(name string, mode fs.FileMode) error {
	return p.do("make", name, func() error {
		if err := os.Mkdir(name, 0o755); err != nil {
			return err
		}
		return os.Chmod(name, mode)
	})
}

// folders makes a folder below the fresh publication and those on the way to it.
func (p *Place) folders(name string, made map[string]bool) error {
	if made[name] {
		return nil
	}
	if err := p.folders(filepath.Dir(name), made); err != nil {
		return err
	}
	made[name] = true
	return p.folder(name, 0o755)
}

func writeFile(name string, data []byte) error {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	return errors.Join(err, f.Chmod(0o644), f.Close())
}

// carry takes over what others added to the old publication.
func (p *Place) carry(foreign []string) error {
	for _, rel := range foreign {
		from, to := filepath.Join(p.path, filepath.FromSlash(rel)), filepath.Join(p.fresh, filepath.FromSlash(rel))
		err := p.do("carry", to, func() error {
			if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
				return err
			}
			if os.Link(from, to) == nil {
				return nil
			}
			return duplicate(from, to) // the file system has no links, or not there
		})
		if err != nil {
			return fmt.Errorf("carry %q over: %w", rel, err)
		}
	}
	return nil
}

// duplicate copies a file with its mode and time; of a link the link.
func duplicate(from, to string) error {
	info, err := os.Lstat(from)
	if err != nil {
		return err
	}
	if info.Mode()&fs.ModeSymlink != 0 {
		target, err := os.Readlink(from)
		if err != nil {
			return err
		}
		return os.Symlink(target, to)
	}
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_EXCL, info.Mode().Perm())
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	return errors.Join(err, out.Chmod(info.Mode().Perm()), out.Close(), os.Chtimes(to, info.ModTime(), info.ModTime()))
}

// settle has the system put on disk what was written, so that not even a power cut
// leaves half of it in place.
func (p *Place) settle() error {
	return p.do("settle", p.fresh, func() error {
		if err := settle(p.fresh); err != nil {
			return fmt.Errorf("have %q written to disk: %w", p.fresh, err)
		}
		return nil
	})
}

// swap moves the new publication in place of the old one and deletes that.
func (p *Place) swap() error {
	if !exists(p.path) {
		return p.do("rename", p.path, func() error { return os.Rename(p.fresh, p.path) })
	}
	err := p.do("exchange", p.path, func() error { return exchange(p.fresh, p.path) })
	switch {
	case err == nil:
		err = p.remove(p.fresh)
	case errors.Is(err, errors.ErrUnsupported):
		if err := p.aside(); err != nil {
			return err
		}
		err = p.remove(p.old)
	default:
		return errors.Join(fmt.Errorf("move the new publication in place: %w", err), p.remove(p.fresh))
	}
	if err != nil {
		return fmt.Errorf("the new publication stands, but the old one was not cleared away: %w", err)
	}
	return nil
}

// aside moves the old publication aside and the new one in place, in two moves.
func (p *Place) aside() error {
	if err := p.do("rename", p.old, func() error { return os.Rename(p.path, p.old) }); err != nil {
		return errors.Join(fmt.Errorf("move the old publication aside: %w", err), p.remove(p.fresh))
	}
	if err := p.do("rename", p.path, func() error { return os.Rename(p.fresh, p.path) }); err != nil {
		return errors.Join(fmt.Errorf("move the new publication in place: %w", err), os.Rename(p.old, p.path), p.remove(p.fresh))
	}
	return nil
}
