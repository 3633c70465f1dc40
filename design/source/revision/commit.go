package revision

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"path/filepath"
	"strings"

	"github.com/go-git/go-git/v5"
	"github.com/go-git/go-git/v5/plumbing"
	"github.com/go-git/go-git/v5/plumbing/filemode"
	"github.com/go-git/go-git/v5/plumbing/object"

	"plansheaf/design/source"
)

// mostTree is how long one directory of a repository may be, bytes.
const mostTree = 8 << 20

// openCommit opens a revision of the repository that the directory beside lies in.
func openCommit(where, beside string) (*Opened, error) {
	rev, dir, given := strings.Cut(where, ":")
	if beside == "" {
		beside = "."
	}
	repo, err := git.PlainOpenWithOptions(beside, &git.PlainOpenOptions{DetectDotGit: true, EnableDotGitCommonDir: true})
	if err != nil {
		return nil, fmt.Errorf("%q lies in no git repository that can be read: %w", beside, err)
	}
	if !given {
		if dir, err = within(repo, beside); err != nil {
			return nil, err
		}
	}
	dir = path.Clean(strings.TrimSuffix(dir, "/"))
	if !fs.ValidPath(dir) {
		return nil, fmt.Errorf("%q is no path in a repository", dir)
	}
	hash, err := repo.ResolveRevision(plumbing.Revision(rev))
	if err != nil {
		return nil, fmt.Errorf("there is no branch, tag or commit %q: %w", rev, err)
	}
	commit, err := repo.CommitObject(*hash)
	if err != nil {
		return nil, fmt.Errorf("%q is no commit: %w", rev, err)
	}
	g := &gathering{repo: repo, tree: newTree()}
	top, err := g.find(commit.TreeHash, dir)
	if err != nil {
		return nil, fmt.Errorf("in %q: %w", rev, err)
	}
	if err := g.gather(top, "", 0); err != nil {
		return nil, fmt.Errorf("read %q: %w", rev, err)
	}
	return &Opened{FS: g.tree, Name: where}, nil
}

// within is where a directory lies in its repository's working tree.
func within(repo *git.Repository, dir string) (string, error) {
	work, err := repo.Worktree()
	if err != nil {
		return "", fmt.Errorf("the repository has no working tree; say where the plan lies, as REV:path: %w", err)
	}
	full, err := filepath.Abs(dir)
	if err != nil {
		return "", err
	}
	root := work.Filesystem.Root()
	if real, err := filepath.EvalSymlinks(full); err == nil {
		full = real
	}
	if real, err := filepath.EvalSymlinks(root); err == nil {
		root = real
	}
	rel, err := filepath.Rel(root, full)
	if err != nil || rel == ".." || strings.HasPrefix(rel, ".."+string(filepath.Separator)) {
		return "", fmt.Errorf("%q does not lie in the working tree; say where the plan lies, as REV:path", dir)
	}
	return filepath.ToSlash(rel), nil
}

// A gathering reads a repository's directories into a tree.
type gathering struct {
	repo *git.Repository
	tree *tree
}

// read reads one directory, unless it is beyond all measure.
func (g *gathering) read(hash plumbing.Hash) (*object.Tree, error) {
	size, err := g.repo.Storer.EncodedObjectSize(hash)
	if err != nil {
		return nil, err
	}
	if size > mostTree {
		return nil, errTooMany
	}
	return g.repo.TreeObject(hash)
}

// find follows a path down from a directory.
func (g *gathering) find(from plumbing.Hash, dir string) (*object.Tree, error) {
	t, err := g.read(from)
	if err != nil || dir == "." {
		return t, err
	}
	for _, name := range strings.Split(dir, "/") {
		i := -1
		for j, e := range t.Entries {
			if e.Name == name && e.Mode == filemode.Dir {
				i = j
			}
		}
		if i < 0 {
			return nil, fmt.Errorf("there is no directory %q", dir)
		}
		if t, err = g.read(t.Entries[i].Hash); err != nil {
			return nil, err
		}
	}
	return t, nil
}

// gather adds what stands in a directory, and below.
func (g *gathering) gather(t *object.Tree, at string, deep int) error {
	if deep > source.DefaultLimits().Depth+1 {
		return nil // deeper than reading looks
	}
	for _, e := range t.Entries {
		if strings.Contains(e.Name, "/") || e.Name == "." || e.Name == ".." {
			return fmt.Errorf("the name %q leads elsewhere", e.Name)
		}
		name := path.Join(at, e.Name)
		n := &node{mode: 0o444}
		switch e.Mode {
		case filemode.Dir:
			n.mode = fs.ModeDir | 0o555
		case filemode.Symlink:
			n.mode |= fs.ModeSymlink
		case filemode.Submodule:
			n.mode |= fs.ModeIrregular
		default:
			n.size, n.open = g.blob(e.Hash)
		}
		if err := g.tree.add(name, n); err != nil {
			return err
		}
		if e.Mode != filemode.Dir || at == "" && strings.HasPrefix(e.Name, ".") {
			continue
		}
		below, err := g.read(e.Hash)
		if err == nil {
			err = g.gather(below, name, deep+1)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// blob is a file's size and how it is opened; one larger than reading takes is not
// even unpacked.
func (g *gathering) blob(hash plumbing.Hash) (int64, func() (io.ReadCloser, error)) {
	size, err := g.repo.Storer.EncodedObjectSize(hash)
	return size, func() (io.ReadCloser, error) {
		switch {
		case err != nil:
			return nil, err
		case size > source.DefaultLimits().OtherFile:
			return nil, errors.New("it is too large")
		}
		b, err := g.repo.BlobObject(hash)
		if err != nil {
			return nil, err
		}
		return b.Reader()
	}
}
