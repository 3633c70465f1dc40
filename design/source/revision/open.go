package revision

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"

	"plansheaf/design/source"
)

// An Opened revision is ready to be read.
type Opened struct {
	// FS is the plan's directory.
	FS fs.FS
	// Name says what was opened, as it was asked for.
	Name string
	// Dir is the directory, where the revision is one; empty for others.
	Dir   string
	close func() error
}

// Close lets go of what the revision was opened from.
func (o *Opened) Close() error {
	if o.close == nil {
		return nil
	}
	return o.close()
}

// Open opens the revision that where names: a directory; a file, which must be a
// release archive; otherwise a revision of the git repository that the directory
// beside lies in, "REV" or "REV:path". Without a path the plan lies where beside lies in
// the repository. A directory of that name comes before a branch; "REV:" and "REV:path"
// always mean the repository where no file has that name.
func Open(where, beside string) (*Opened, error) {
	info, err := os.Stat(where)
	switch {
	case err == nil && info.IsDir():
		root, err := source.Open(where)
		if err != nil {
			return nil, err
		}
		return &Opened{FS: root.FS(), Name: where, Dir: where, close: root.Close}, nil
	case err == nil && info.Mode().IsRegular():
		o, err := openArchive(where)
		if err != nil {
			return nil, fmt.Errorf("open the archive %q: %w", where, err)
		}
		return o, nil
	case err == nil:
		return nil, fmt.Errorf("open %q: neither a directory nor a file", where)
	}
	if strings.HasSuffix(where, ".zip") || strings.HasPrefix(where, ".") || filepath.IsAbs(where) {
		return nil, fmt.Errorf("open %q: %w", where, errors.Unwrap(err)) // a path, and nothing there
	}
	o, err := openCommit(where, beside)
	if err != nil {
		return nil, fmt.Errorf("open %q: there is no such directory or file, and as a revision of the repository: %w", where, err)
	}
	return o, nil
}

// planIn is the directory of a tree in which a plan lies: that of the plan.yaml which
// lies highest, the first by name where there are several.
func (t *tree) planIn() (string, bool) {
	best, found := "", false
	for name, n := range t.nodes {
		if path.Base(name) != "plan.yaml" || !n.mode.IsRegular() {
			continue
		}
		dir := path.Dir(name)
		if !found || higher(dir, best) {
			best, found = dir, true
		}
	}
	return best, found
}

func higher(a, b string) bool {
	if da, db := depth(a), depth(b); da != db {
		return da < db
	}
	return a < b
}

func depth(dir string) int {
	if dir == "." {
		return 0
	}
	return strings.Count(dir, "/") + 1
}
