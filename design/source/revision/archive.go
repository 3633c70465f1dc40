package revision

import (
	"archive/zip"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"
)

const (
	// mostArchive is the size of an archive, bytes, at most.
	mostArchive = 2 << 30
	// mostDirectory is how many bytes an archive's directory may take up, so that one of
	// nothing but names cannot fill the memory.
	mostDirectory = 16 << 20
)

// openArchive opens a release archive: a zip with the plan's own source inside.
func openArchive(name string) (*Opened, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, errors.Unwrap(err)
	}
	o, err := archived(f)
	if err != nil {
		f.Close()
		return nil, err
	}
	o.Name, o.close = name, f.Close
	return o, nil
}

func archived(f *os.File) (*Opened, error) {
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	if info.Size() > mostArchive {
		return nil, fmt.Errorf("it is %d bytes long, more than %d", info.Size(), int64(mostArchive))
	}
	t, err := readArchive(f, info.Size())
	if err != nil {
		return nil, err
	}
	dir, found := t.planIn()
	if !found {
		return nil, errors.New("it holds no plan.yaml: publish the release with the plan's own source")
	}
	sub, err := fs.Sub(t, dir)
	if err != nil {
		return nil, err
	}
	return &Opened{FS: sub}, nil
}

// readArchive reads an archive's directory into a tree.
func readArchive(r io.ReaderAt, size int64) (*tree, error) {
	bounded := &allowance{r: r, left: mostDirectory}
	z, err := zip.NewReader(bounded, size)
	if bounded.spent {
		return nil, errTooMany
	}
	if err != nil {
		return nil, fmt.Errorf("it is no archive of a release: %w", err)
	}
	bounded.lift()
	t := newTree()
	for _, e := range z.File {
		name := strings.TrimSuffix(e.Name, "/")
		n := &node{mode: e.Mode(), size: int64(min(e.UncompressedSize64, 1<<62)), open: e.Open}
		if strings.HasSuffix(e.Name, "/") {
			n.mode = fs.ModeDir | 0o555
		}
		if err := t.add(name, n); err != nil {
			return nil, err
		}
	}
	return t, nil
}

// An allowance reads until so many bytes are read, until it is lifted.
type allowance struct {
	r      io.ReaderAt
	left   int64
	lifted bool
	spent  bool
}

func (a *allowance) lift() { a.lifted = true }

// ReadAt implements io.ReaderAt.
func (a *allowance) ReadAt(p []byte, at int64) (int, error) {
	if !a.lifted {
		if a.left -= int64(len(p)); a.left < 0 {
			a.spent = true
			return 0, errTooMany
		}
	}
	return a.r.ReadAt(p, at)
}
