package revision

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"
	"time"
)

const (
	// mostEntries bounds the files and directories of a revision; those of a release
	// lie beside the plan's own source.
	mostEntries = 100_000
	// mostDepth bounds how deep directories lie in each other.
	mostDepth = 40
)

// errTooMany is an archive or tree beyond mostEntries.
var errTooMany = fmt.Errorf("it holds more than %d files", mostEntries)

// A tree is a file system of named contents that are opened when asked for.
type tree struct {
	nodes map[string]*node
}

// A node is one file or directory.
type node struct {
	name  string
	mode  fs.FileMode
	size  int64
	open  func() (io.ReadCloser, error)
	below []*node
}

func newTree() *tree {
	return &tree{nodes: map[string]*node{".": {name: ".", mode: fs.ModeDir | 0o555}}}
}

// add puts a node at a path and makes the directories above it.
func (t *tree) add(name string, n *node) error {
	switch {
	case !fs.ValidPath(name) || name == "." || strings.ContainsAny(name, "\\\x00"):
		return fmt.Errorf("the path %q leads elsewhere", name)
	case strings.Count(name, "/") >= mostDepth:
		return fmt.Errorf("the path %.80q lies more than %d directories deep", name, mostDepth)
	case len(t.nodes) >= mostEntries:
		return errTooMany
	}
	if old := t.nodes[name]; old != nil {
		if old.mode.IsDir() && n.mode.IsDir() {
			return nil
		}
		return fmt.Errorf("the path %q is there twice", name)
	}
	dir := path.Dir(name)
	if t.nodes[dir] == nil {
		if err := t.add(dir, &node{mode: fs.ModeDir | 0o555}); err != nil {
			return err
		}
	}
	parent := t.nodes[dir]
	if !parent.mode.IsDir() {
		return fmt.Errorf("the path %q leads through a file", name)
	}
	n.name = path.Base(name)
	t.nodes[name] = n
	parent.below = append(parent.below, n)
	return nil
}

// Open implements fs.FS.
func (t *tree) Open(name string) (fs.File, error) {
	n, err := t.find("open", name)
	if err != nil {
		return nil, err
	}
	if n.mode.IsDir() {
		return &directory{node: n}, nil
	}
	if !n.mode.IsRegular() {
		return nil, &fs.PathError{Op: "open", Path: name, Err: errors.New("no regular file")}
	}
	r, err := n.open()
	if err != nil {
		return nil, &fs.PathError{Op: "open", Path: name, Err: err}
	}
	return &file{node: n, ReadCloser: r}, nil
}

// ReadDir implements fs.ReadDirFS: entries by name.
func (t *tree) ReadDir(name string) ([]fs.DirEntry, error) {
	n, err := t.find("readdir", name)
	if err != nil {
		return nil, err
	}
	if !n.mode.IsDir() {
		return nil, &fs.PathError{Op: "readdir", Path: name, Err: errors.New("no directory")}
	}
	return n.entries(), nil
}

func (t *tree) find(op, name string) (*node, error) {
	if !fs.ValidPath(name) {
		return nil, &fs.PathError{Op: op, Path: name, Err: fs.ErrInvalid}
	}
	if n := t.nodes[name]; n != nil {
		return n, nil
	}
	return nil, &fs.PathError{Op: op, Path: name, Err: fs.ErrNotExist}
}

func (n *node) entries() []fs.DirEntry {
	list := make([]fs.DirEntry, len(n.below))
	for i, b := range n.below {
		list[i] = fs.FileInfoToDirEntry(b)
	}
	slices.SortFunc(list, func(a, b fs.DirEntry) int { return strings.Compare(a.Name(), b.Name()) })
	return list
}

// A node is its own fs.FileInfo.

// Name implements fs.FileInfo.
func (n *node) Name() string { return n.name }

// Size implements fs.FileInfo.
func (n *node) Size() int64 { return n.size }

// Mode implements fs.FileInfo.
func (n *node) Mode() fs.FileMode { return n.mode }

// ModTime implements fs.FileInfo; revisions have no times.
func (n *node) ModTime() time.Time { return time.Time{} }

// IsDir implements fs.FileInfo.
func (n *node) IsDir() bool { return n.mode.IsDir() }

// Sys implements fs.FileInfo.
func (n *node) Sys() any { return nil }

// A file is an open file.
type file struct {
	node *node
	io.ReadCloser
}

// Stat implements fs.File.
func (f *file) Stat() (fs.FileInfo, error) { return f.node, nil }

// A directory is an open directory.
type directory struct {
	node *node
	read int
}

// Stat implements fs.File.
func (d *directory) Stat() (fs.FileInfo, error) { return d.node, nil }

// Close implements fs.File.
func (d *directory) Close() error { return nil }

// Read implements fs.File: a directory has no bytes.
func (d *directory) Read([]byte) (int, error) {
	return 0, &fs.PathError{Op: "read", Path: d.node.name, Err: errors.New("a directory")}
}

// ReadDir implements fs.ReadDirFile.
func (d *directory) ReadDir(n int) ([]fs.DirEntry, error) {
	list := d.node.entries()[d.read:]
	if n <= 0 {
		d.read += len(list)
		return list, nil
	}
	if len(list) == 0 {
		return nil, io.EOF
	}
	list = list[:min(n, len(list))]
	d.read += len(list)
	return list, nil
}
