package cache

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"plansheaf/design/memo"
)

// A Pack is the file that keeps the results of one plan.
type Pack struct {
	folder, name string
	program      memo.Key
}

var errNoFile = errors.New("no file that could be a pack")

// unfinished ends the names of packs that are being written.
const unfinished = ".new"

// ours are the names of packs, whole or unfinished.
var ours = regexp.MustCompile(`^[0-9a-f]{64}(\..*\` + unfinished + `)?$`)

// mostBytes bounds what a folder holds of other plans: those that are moved or deleted
// leave their packs behind.
const mostBytes = 2 << 30

// In is the pack of a plan in a folder, for the program with a key. The plan's path should
// be absolute: each path has a pack of its own.
func In(folder, plan string, program memo.Key) *Pack {
	return &Pack{folder: folder, name: fmt.Sprintf("%x", sha256.Sum256([]byte(plan))), program: program}
}

// Load is the store that was saved last; an empty one where none was, or where it cannot
// be taken over.
func (p *Pack) Load() *memo.Store {
	data, err := p.read()
	if err != nil {
		return memo.New()
	}
	s, err := memo.Load(data, p.program)
	if err != nil {
		return memo.New()
	}
	return s
}

// read reads the file, if it is one: what else could stand there might never end.
func (p *Pack) read() ([]byte, error) {
	root, err := os.OpenRoot(p.folder)
	if err != nil {
		return nil, err
	}
	defer root.Close()
	if info, err := root.Lstat(p.name); err != nil || !info.Mode().IsRegular() {
		return nil, errors.Join(errNoFile, err)
	}
	f, err := root.Open(p.name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat() // another run may have replaced it by now
	if err != nil || !info.Mode().IsRegular() || info.Size() > int64(memo.LargestPack) {
		return nil, errors.Join(errNoFile, err)
	}
	data := make([]byte, info.Size())
	_, err = io.ReadFull(f, data)
	return data, err
}

// Save puts the store in place of the one saved before. The folder is made where it is
// missing. The error is for who wants to know: what was saved before stands then.
func (p *Pack) Save(s *memo.Store) error {
	if err := p.write(s); err != nil {
		return fmt.Errorf("keep what was worked out in %q: %w", p.folder, err)
	}
	return nil
}

func (p *Pack) write(s *memo.Store) error {
	if err := os.MkdirAll(p.folder, 0o700); err != nil {
		return err
	}
	if err := p.tidy(); err != nil {
		return err
	}
	f, err := os.CreateTemp(p.folder, p.name+".*"+unfinished) // mode 0600
	if err != nil {
		return err
	}
	err = errors.Join(s.Save(f, p.program), f.Close())
	if err == nil {
		err = os.Rename(f.Name(), filepath.Join(p.folder, p.name))
	}
	if err != nil {
		_ = os.Remove(f.Name())
	}
	return err
}

// tidy removes what a run that was killed has left, and the packs of other plans that were
// not written for the longest where there is too much of them. A run that is writing right
// now loses its file too, and saves nothing: the last one counts, and that is this one.
func (p *Pack) tidy() error {
	entries, err := os.ReadDir(p.folder)
	if err != nil {
		return err
	}
	remove := func(name string) {
		_ = os.Remove(filepath.Join(p.folder, name)) // in use, where the system says so
	}
	var packs []fs.FileInfo
	for _, e := range entries {
		info, err := e.Info()
		switch name := e.Name(); {
		case err != nil || !info.Mode().IsRegular() || name == p.name:
		case strings.HasPrefix(name, p.name+".") && strings.HasSuffix(name, unfinished):
			remove(name)
		case ours.MatchString(name):
			packs = append(packs, info)
		}
	}
	slices.SortStableFunc(packs, func(a, b fs.FileInfo) int { return b.ModTime().Compare(a.ModTime()) })
	total := int64(0)
	for _, info := range packs {
		if total += info.Size(); total > mostBytes {
			remove(info.Name())
		}
	}
	return nil
}
