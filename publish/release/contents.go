package release

import (
	"archive/zip"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"slices"
	"strings"
)

// Limits bound what looking into a publication may cost, whatever it holds. Going past
// one is an error.
type Limits struct {
	Archive   int64 // bytes of an archive
	Directory int64 // bytes of the list of files within an archive
	Files     int   // files, folders included
	File      int64 // bytes of one file, unpacked
	All       int64 // bytes of all files together, unpacked
	Name      int   // bytes of one path
}

// DefaultLimits leave room for a plan as large as can be read, in its publication and
// once more as its source.
func DefaultLimits() Limits {
	return Limits{Archive: 1 << 30, Directory: 8 << 20, Files: 40_000, File: 512 << 20, All: 2 << 30, Name: 1000}
}

// Kind is what is wrong with a file of a publication.
type Kind string

// The kinds of fault.
const (
	Missing Kind = "missing" // listed, and not there
	Extra   Kind = "extra"   // there, and not listed
	Changed Kind = "changed" // other bytes than those listed
	Unsafe  Kind = "unsafe"  // nothing that a publication may hold; it was not looked into
	Differs Kind = "differs" // the source gives other bytes
	Unmade  Kind = "unmade"  // the source does not give it
	Lacking Kind = "lacking" // the source gives it too
)

// A Fault is something wrong with a file of a publication.
type Fault struct {
	Kind Kind
	Path string
	Says string // more about it; may be empty
}

// Contents is a publication to be looked into: an archive or a folder.
type Contents struct {
	Archive bool
	Faults  []Fault // what may not be there, in the order of paths
	limits  Limits
	entries map[string]entry
	closer  io.Closer
}

type entry struct {
	size int64
	open func() (io.ReadCloser, error)
}

// Open opens the publication at name, a ZIP archive or a folder, and looks at what is
// there by name; nothing is unpacked. What may not be there (a path that leads out, a
// link, a device, two files of one path) is a fault. An error is what keeps it from
// being looked into, a limit reached included.
func Open(name string, limits Limits) (*Contents, error) {
	info, err := os.Stat(name)
	if err != nil {
		return nil, err
	}
	c := &Contents{limits: limits, entries: map[string]entry{}}
	switch {
	case info.IsDir():
		err = c.openFolder(name)
	case info.Mode().IsRegular():
		c.Archive = true
		err = c.openArchive(name)
	default:
		err = errors.New("neither an archive nor a folder")
	}
	if err != nil {
		return nil, errors.Join(fmt.Errorf("open %q: %w", name, err), c.Close())
	}
	slices.SortStableFunc(c.Faults, func(a, b Fault) int { return strings.Compare(a.Path, b.Path) })
	return c, nil
}

// Close ends the looking into.
func (c *Contents) Close() error {
	if c.closer == nil {
		return nil
	}
	return c.closer.Close()
}

// Paths are the paths of all files that may be looked into, sorted.
func (c *Contents) Paths() []string { return slices.Sorted(maps.Keys(c.entries)) }

// Has reports whether a file is there.
func (c *Contents) Has(path string) bool {
	_, has := c.entries[path]
	return has
}

// Read reads one file whole. It is an error when there is none, or when it is larger
// than limit bytes.
func (c *Contents) Read(path string, limit int64) ([]byte, error) {
	e, has := c.entries[path]
	if !has {
		return nil, &fs.PathError{Op: "read", Path: path, Err: fs.ErrNotExist}
	}
	in, err := e.open()
	if err != nil {
		return nil, fmt.Errorf("read %q: %w", path, err)
	}
	defer in.Close()
	data, err := io.ReadAll(io.LimitReader(in, min(limit, e.size)+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("read %q: %w", path, err)
	case int64(len(data)) > limit:
		return nil, fmt.Errorf("read %q: larger than %d bytes", path, limit)
	case int64(len(data)) != e.size:
		return nil, fmt.Errorf("read %q: not of the %d bytes that it is said to have", path, e.size)
	}
	return data, nil
}

// sum is the SHA-256 of one file.
func (c *Contents) sum(path string) (sum Sum, err error) {
	e := c.entries[path]
	in, err := e.open()
	if err != nil {
		return sum, fmt.Errorf("read %q: %w", path, err)
	}
	defer in.Close()
	hash := sha256.New()
	n, err := io.Copy(hash, io.LimitReader(in, e.size+1))
	if err != nil {
		return sum, fmt.Errorf("read %q: %w", path, err)
	}
	if n != e.size {
		return sum, fmt.Errorf("read %q: not of the %d bytes that it is said to have", path, e.size)
	}
	hash.Sum(sum[:0])
	return sum, nil
}

// Check compares what is there with the list; the faults found on opening are among
// those it returns, which are in the order of paths. A file that cannot be read to its
// end counts as changed. It is an error when there is no list.
func (c *Contents) Check() ([]Fault, error) {
	if !c.Has(ListName) {
		return nil, fmt.Errorf("there is no %s: this is no publication of this program, or its list was taken away", ListName)
	}
	data, err := c.Read(ListName, c.limits.Directory)
	if err != nil {
		return nil, err
	}
	want, err := sums(data)
	if err != nil {
		return nil, err
	}
	faults := slices.Clone(c.Faults)
	unsafe := map[string]bool{}
	for _, f := range faults {
		unsafe[f.Path] = true
	}
	for _, path := range slices.Sorted(maps.Keys(want)) {
		switch {
		case c.Has(path):
			if sum, err := c.sum(path); err != nil {
				faults = append(faults, Fault{Kind: Changed, Path: path, Says: err.Error()})
			} else if sum != want[path] {
				faults = append(faults, Fault{Kind: Changed, Path: path})
			}
		case !unsafe[path]:
			faults = append(faults, Fault{Kind: Missing, Path: path})
		}
	}
	for path := range c.entries {
		if _, listed := want[path]; !listed && path != ListName {
			faults = append(faults, Fault{Kind: Extra, Path: path})
		}
	}
	slices.SortStableFunc(faults, func(a, b Fault) int { return strings.Compare(a.Path, b.Path) })
	return faults, nil
}

// Compare tells how what is there differs from the files that its source gives: each
// must be there with these bytes. Of what is there besides, the paths in the list count.
func (c *Contents) Compare(files []File) ([]Fault, error) {
	made, err := listed(files)
	if err != nil {
		return nil, err
	}
	var faults []Fault
	given := map[string]bool{}
	for _, f := range made {
		given[f.Path] = true
		if !c.Has(f.Path) {
			faults = append(faults, Fault{Kind: Lacking, Path: f.Path})
			continue
		}
		sum, err := c.sum(f.Path)
		if err != nil {
			return nil, err
		}
		if sum != sha256.Sum256(f.Data) {
			faults = append(faults, Fault{Kind: Differs, Path: f.Path})
		}
	}
	data, err := c.Read(ListName, c.limits.Directory)
	if err != nil {
		return nil, err
	}
	want, err := sums(data)
	if err != nil {
		return nil, err
	}
	for path := range want {
		if !given[path] {
			faults = append(faults, Fault{Kind: Unmade, Path: path})
		}
	}
	slices.SortStableFunc(faults, func(a, b Fault) int { return strings.Compare(a.Path, b.Path) })
	return faults, nil
}

func (c *Contents) fault(path, says string) {
	c.Faults = append(c.Faults, Fault{Kind: Unsafe, Path: path, Says: says})
}

// keep takes up one file, unless its name or size forbid it.
func (c *Contents) keep(path string, e entry, all *int64) error {
	switch {
	case !clean(path):
		c.fault(path, "a path that leads out of the publication, or means another file on another system")
		return nil
	case len(path) > c.limits.Name:
		return fmt.Errorf("%.100q...: the path is longer than %d bytes", path, c.limits.Name)
	case e.size > c.limits.File:
		return fmt.Errorf("%q: larger than %d bytes", path, c.limits.File)
	case c.Has(path):
		c.fault(path, "there twice")
		return nil
	}
	if *all += e.size; *all > c.limits.All {
		return fmt.Errorf("all files together are larger than %d bytes", c.limits.All)
	}
	c.entries[path] = e
	return nil
}

func (c *Contents) openFolder(name string) error {
	root, err := os.OpenRoot(name)
	if err != nil {
		return err
	}
	c.closer = root
	count, all := 0, int64(0)
	return fs.WalkDir(root.FS(), ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if count++; count > c.limits.Files {
			return fmt.Errorf("more than %d files", c.limits.Files)
		}
		switch {
		case d.IsDir():
			return nil
		case d.Type()&fs.ModeSymlink != 0:
			c.fault(path, "a link")
			return nil
		case !d.Type().IsRegular():
			c.fault(path, "a device, pipe or socket")
			return nil
		}
		info, err := d.Info()
		if err != nil {
			return err
		}
		return c.keep(path, entry{info.Size(), func() (io.ReadCloser, error) { return root.Open(path) }}, &all)
	})
}

func (c *Contents) openArchive(name string) error {
	f, err := os.Open(name)
	if err != nil {
		return err
	}
	c.closer = f
	info, err := f.Stat()
	if err != nil {
		return err
	}
	if info.Size() > c.limits.Archive {
		return fmt.Errorf("the archive is larger than %d bytes", c.limits.Archive)
	}
	if err := directoryWithin(f, info.Size(), c.limits); err != nil {
		return err
	}
	z, err := zip.NewReader(f, info.Size())
	// Names that lead out are for keep to report.
	if err != nil && !errors.Is(err, zip.ErrInsecurePath) {
		return fmt.Errorf("no archive that can be read: %w", err)
	}
	if len(z.File) > c.limits.Files {
		return fmt.Errorf("more than %d files", c.limits.Files)
	}
	folder, all := topFolder(z), int64(0)
	for _, one := range z.File {
		path := strings.TrimPrefix(one.Name, folder)
		switch mode := one.Mode(); {
		case mode.IsDir():
			if !clean(strings.TrimSuffix(one.Name, "/")) {
				c.fault(one.Name, "a folder that leads out of the publication")
			}
			continue
		case mode&fs.ModeSymlink != 0:
			c.fault(path, "a link")
			continue
		case !mode.IsRegular():
			c.fault(path, "a device, pipe or socket")
			continue
		case one.Flags&1 != 0 || one.Method != zip.Store && one.Method != zip.Deflate:
			c.fault(path, "locked, or packed in a way that this program does not read")
			continue
		case one.UncompressedSize64 > uint64(c.limits.File):
			return fmt.Errorf("%.200q: larger than %d bytes", path, c.limits.File)
		}
		if err := c.keep(path, entry{int64(one.UncompressedSize64), one.Open}, &all); err != nil {
			return err
		}
	}
	taken := map[string]bool{}
	for path := range c.entries {
		taken[path] = true
	}
	for _, path := range c.Paths() {
		if over := folderTaken(path, taken); over != "" {
			c.fault(path, fmt.Sprintf("%q is a file there", over))
			delete(c.entries, path)
		}
	}
	return nil
}

// topFolder is the one folder, with a slash, that holds all of an archive with a list
// in it; empty where there is none.
func topFolder(z *zip.Reader) string {
	if len(z.File) == 0 {
		return ""
	}
	folder, _, found := strings.Cut(z.File[0].Name, "/")
	if !found || !clean(folder) {
		return ""
	}
	folder += "/"
	list := false
	for _, f := range z.File {
		// What leads out is reported by its whole name.
		if !strings.HasPrefix(f.Name, folder) && clean(strings.TrimSuffix(f.Name, "/")) {
			return ""
		}
		list = list || f.Name == folder+ListName
	}
	if !list {
		return ""
	}
	return folder
}
