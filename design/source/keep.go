package source

import (
	"bytes"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// A Keeper is a plan's directory that keeps the bytes of every file as it is read, so
// that what is passed on as the plan's source is what was compiled, even where a file
// changes meanwhile. It is not for several goroutines at once.
type Keeper struct {
	fsys fs.FS
	kept map[string][]byte
}

// Keep makes a Keeper of the directory fsys.
func Keep(fsys fs.FS) *Keeper { return &Keeper{fsys: fsys, kept: map[string][]byte{}} }

// Open opens a file or directory; a file's bytes are kept as far as they are read.
func (k *Keeper) Open(name string) (fs.File, error) {
	f, err := k.fsys.Open(name)
	if err != nil {
		return nil, err
	}
	if info, err := f.Stat(); err != nil || !info.Mode().IsRegular() {
		return f, nil // what it is, or why not, the reader says
	}
	return &keptFile{File: f, name: name, keeper: k}, nil
}

// ReadDir lists a directory in the order of names.
func (k *Keeper) ReadDir(name string) ([]fs.DirEntry, error) { return fs.ReadDir(k.fsys, name) }

// Files are the files read so far, in the order of their paths.
func (k *Keeper) Files() []plan.File {
	list := make([]plan.File, 0, len(k.kept))
	for name, data := range k.kept {
		list = append(list, plan.File{Path: name, Size: int64(len(data)), Data: data})
	}
	slices.SortFunc(list, func(a, b plan.File) int { return strings.Compare(a.Path, b.Path) })
	return list
}

type keptFile struct {
	fs.File
	name   string
	keeper *Keeper
	read   bytes.Buffer
}

func (f *keptFile) Read(p []byte) (int, error) {
	n, err := f.File.Read(p)
	f.read.Write(p[:n])
	if err == io.EOF {
		f.keeper.kept[f.name] = f.read.Bytes()
	}
	return n, err
}

// Beside reads, through the keeper, what belongs to the plan's project without being
// read as a part of the plan: README, licence texts and the like at its root and in
// LICENSES, nothing that begins with a dot. What cannot be passed on is a finding.
func (k *Keeper) Beside(limits Limits) []finding.Finding {
	g := &reading{limits: limits}
	entries, err := k.ReadDir(".")
	if err != nil {
		g.report(unreadableFile, finding.WholeFile("."), "the directory cannot be listed: "+cause(err), "")
		return g.findings
	}
	for _, d := range entries {
		switch name := d.Name(); {
		case !aside.MatchString(name) || strings.HasPrefix(name, "."):
		case d.IsDir():
			if name == "LICENSES" {
				g.texts(k, name)
			}
		default:
			g.besides(k, name, d)
		}
	}
	finding.Sort(g.findings)
	return g.findings
}

// texts reads the licence texts in a directory.
func (g *reading) texts(k *Keeper, dir string) {
	entries, err := k.ReadDir(dir)
	if err != nil {
		g.report(unreadableFile, finding.WholeFile(dir), "the directory cannot be listed: "+cause(err), "")
		return
	}
	if len(entries) > g.limits.Files {
		g.report(tooManyFiles, finding.WholeFile(dir), fmt.Sprintf("more than %d files", g.limits.Files), "")
		return
	}
	for _, d := range entries {
		if !strings.HasPrefix(d.Name(), ".") && !d.IsDir() {
			g.besides(k, path.Join(dir, d.Name()), d)
		}
	}
}

func (g *reading) besides(k *Keeper, name string, d fs.DirEntry) {
	switch {
	case d.Type()&fs.ModeSymlink != 0:
		g.report(symlink, finding.WholeFile(name), "this is a symbolic link", "")
	case !cleanPath(name) || strings.IndexFunc(name, unseen) >= 0:
		g.report(invalidEncoding, finding.WholeFile(name), "the file's name holds a character that other systems do not take", "rename it")
	default:
		g.load(k, name, g.limits.TextFile)
	}
}
