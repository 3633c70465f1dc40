package release

import (
	"bytes"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"
	"time"
)

// FS is a folder of the publication as a file system that is read only: its files'
// bytes, modes and times alike wherever it lies. The folder "" is the whole.
func (c *Contents) FS(folder string) fs.FS {
	t := tree{contents: c, prefix: "", folders: map[string][]fs.DirEntry{".": nil}}
	if folder != "" {
		t.prefix = folder + "/"
	}
	for _, name := range c.Paths() {
		rel, inside := strings.CutPrefix(name, t.prefix)
		if !inside {
			continue
		}
		t.enter(rel, node{name: path.Base(rel), size: c.entries[name].size})
	}
	return t
}

// A tree is a folder of a publication, each folder's entries in the order of names.
type tree struct {
	contents *Contents
	prefix   string
	folders  map[string][]fs.DirEntry
}

// enter adds an entry to its folder, and that folder to the one above.
func (t tree) enter(name string, n node) {
	above := path.Dir(name)
	_, known := t.folders[above]
	t.folders[above] = insert(t.folders[above], n)
	if !known {
		t.enter(above, node{name: path.Base(above), folder: true})
	}
}

func insert(list []fs.DirEntry, n node) []fs.DirEntry {
	at, _ := slices.BinarySearchFunc(list, n.name, func(d fs.DirEntry, name string) int { return strings.Compare(d.Name(), name) })
	return slices.Insert(list, at, fs.DirEntry(n))
}

// Open opens a file or a folder.
func (t tree) Open(name string) (fs.File, error) {
	if !fs.ValidPath(name) {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrInvalid}
	}
	if entries, is := t.folders[name]; is {
		return &openFolder{node: node{name: path.Base(name), folder: true}, rest: entries}, nil
	}
	full := t.prefix + name
	if !t.contents.Has(full) {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	data, err := t.contents.Read(full, t.contents.limits.File)
	if err != nil {
		return nil, &fs.PathError{Op: "open", Path: name, Err: err}
	}
	return &openFile{node: node{name: path.Base(name), size: int64(len(data))}, in: bytes.NewReader(data)}, nil
}

// ReadDir lists a folder.
func (t tree) ReadDir(name string) ([]fs.DirEntry, error) {
	entries, is := t.folders[name]
	if !is {
		return nil, &fs.PathError{Op: "readdir", Path: name, Err: fs.ErrNotExist}
	}
	return slices.Clone(entries), nil
}

// A node is what a tree tells of a file or a folder.
type node struct {
	name   string
	size   int64
	folder bool
}

func (n node) Name() string               { return n.name }
func (n node) Size() int64                { return n.size }
func (n node) ModTime() time.Time         { return time.Time{} }
func (n node) IsDir() bool                { return n.folder }
func (n node) Sys() any                   { return nil }
func (n node) Type() fs.FileMode          { return n.Mode().Type() }
func (n node) Info() (fs.FileInfo, error) { return n, nil }
func (n node) Stat() (fs.FileInfo, error) { return n, nil }
func (n node) Close() error               { return nil }

func (n node) Mode() fs.FileMode {
	if n.folder {
		return fs.ModeDir | 0o555
	}
	return 0o444
}

type openFile struct {
	node
	in *bytes.Reader
}

func (f *openFile) Read(p []byte) (int, error) { return f.in.Read(p) }

type openFolder struct {
	node
	rest []fs.DirEntry
}

func (f *openFolder) Read([]byte) (int, error) {
	return 0, &fs.PathError{Op: "read", Path: f.name, Err: fs.ErrInvalid}
}

// ReadDir lists the next n entries, all that are left when n is not above 0.
func (f *openFolder) ReadDir(n int) ([]fs.DirEntry, error) {
	if n <= 0 {
		n = len(f.rest)
	} else if len(f.rest) == 0 {
		return nil, io.EOF
	}
	n = min(n, len(f.rest))
	list := f.rest[:n]
	f.rest = f.rest[n:]
	return list, nil
}
