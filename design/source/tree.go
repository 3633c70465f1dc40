package source

import (
	"fmt"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// A tree is what stands in the plan's directory.
type tree struct {
	fsys   fs.FS
	byKind map[string][]string // the plan's own files, by kind, in the order of their names
	files  []string            // what stands under files/
	count  int
	bytes  int64 // of files read under files/
	text   int64 // of the plan's own files
	full   bool  // more files than the limit
}

// aside are files at the root that belong to a project but not to its plan.
var aside = regexp.MustCompile(`^(\..*|README.*|LICEN[CS]E.*|COPYING.*|NOTICE.*|CONTRIBUTING.*|CHANGELOG.*|LICENSES)$`)

// list walks the directory in the order of names.
func (g *reading) list(fsys fs.FS) (*tree, error) {
	t := &tree{fsys: fsys, byKind: map[string][]string{}}
	entries, err := fs.ReadDir(fsys, ".")
	if err != nil {
		return nil, fmt.Errorf("list the plan's directory: %w", err)
	}
	// The plan's own files come first, so that however many stand under files/ the
	// plan itself is read.
	isShipped := func(d fs.DirEntry) bool { return d.Name() == "files" }
	if i := slices.IndexFunc(entries, isShipped); i >= 0 {
		shipped := entries[i]
		entries = append(slices.Delete(slices.Clone(entries), i, i+1), shipped)
	}
	for _, d := range entries {
		if !aside.MatchString(d.Name()) {
			g.visit(t, d.Name(), d, 1)
		}
	}
	return t, nil
}

// visit takes up one file or directory.
func (g *reading) visit(t *tree, name string, d fs.DirEntry, depth int) {
	if t.full {
		return
	}
	if t.count++; t.count > g.limits.Files {
		t.full = true
		g.report(tooManyFiles, finding.WholeFile(name), fmt.Sprintf("the plan holds more than %d files; from here on none is read", g.limits.Files), "")
		for _, k := range fileKinds {
			g.unread[k.name] = true
		}
		return
	}
	switch {
	case d.IsDir():
		g.visitDirectory(t, name, depth)
	case d.Type()&fs.ModeSymlink != 0:
		g.report(symlink, finding.WholeFile(name), "this is a symbolic link", "")
		g.missed(name)
	case !d.Type().IsRegular():
		g.report(symlink, finding.WholeFile(name), "this is a device, pipe or socket", "")
		g.missed(name)
	case strings.HasPrefix(name, "files/"):
		t.files = append(t.files, name)
	default:
		g.visitFile(t, name)
	}
}

// missed notes that a file of a known kind could not be read.
func (g *reading) missed(name string) {
	if k := kindAt(name); k != nil {
		g.unread[k.name] = true
	}
}

func (g *reading) visitDirectory(t *tree, name string, depth int) {
	if !knownDirectory(name) {
		g.report(fileUnread, finding.WholeFile(name), "a plan has no place for this directory", g.near.perhaps(name, []string{"parts", "assemblies", "drawings", "calcs", "safety", "pages", "files"}))
		return
	}
	if depth > g.limits.Depth {
		g.report(tooDeep, finding.WholeFile(name), fmt.Sprintf("directories are nested more than %d deep", g.limits.Depth), "")
		return
	}
	entries, err := fs.ReadDir(t.fsys, name)
	if err != nil {
		g.report(unreadableFile, finding.WholeFile(name), "the directory cannot be listed: "+cause(err), "")
		return
	}
	for _, d := range entries {
		if !strings.HasPrefix(d.Name(), ".") {
			g.visit(t, path.Join(name, d.Name()), d, depth+1)
		}
	}
}

func knownDirectory(name string) bool {
	if name == "files" || strings.HasPrefix(name, "files/") {
		return true
	}
	return slices.ContainsFunc(fileKinds, func(k fileKind) bool { return path.Dir(k.place) == name && name != "." })
}

func (g *reading) visitFile(t *tree, name string) {
	if k := kindAt(name); k != nil {
		t.byKind[k.name] = append(t.byKind[k.name], name)
		return
	}
	remedy := ""
	if stem, ok := strings.CutSuffix(name, ".yml"); ok && kindAt(stem+".yaml") != nil {
		remedy = "rename it to " + stem + ".yaml"
	} else if path.Dir(name) == "." {
		remedy = g.near.perhaps(name, []string{"plan.yaml", "stock.yaml", "materials.yaml", "suppliers.yaml", "tools.yaml"})
	} else {
		for _, k := range fileKinds {
			if path.Dir(k.place) == path.Dir(name) {
				remedy = "files here are called " + k.place
			}
		}
	}
	g.report(fileUnread, finding.WholeFile(name), "a plan has no place for this file", remedy)
}

// kindAt is the kind of the plan's own file at a path; nil where there is none.
func kindAt(name string) *fileKind {
	for i := range fileKinds {
		if ok, err := path.Match(fileKinds[i].place, name); ok && err == nil {
			return &fileKinds[i]
		}
	}
	return nil
}

// readShipped takes in one file under files/.
func (g *reading) readShipped(t *tree, name string) {
	file := &plan.File{Path: name}
	g.plan.Files = append(g.plan.Files, file)
	if at := strings.IndexFunc(name, unseen); at >= 0 {
		g.report(invalidEncoding, finding.WholeFile(name), "the file's name holds a character that cannot be seen", "rename it")
	}
	if t.bytes >= g.limits.AllFiles {
		g.report(tooLarge, finding.WholeFile(name), fmt.Sprintf("all files together are larger than %d bytes; this one is not read", g.limits.AllFiles), "")
		return
	}
	data, ok := g.load(t.fsys, name, min(g.limits.OtherFile, g.limits.AllFiles-t.bytes))
	if !ok {
		return
	}
	t.bytes += int64(len(data))
	file.Data, file.Size = data, int64(len(data))
}

// cleanPath reports whether a path from the plan's root stays within it and is
// written in the one way.
func cleanPath(name string) bool {
	return fs.ValidPath(name) && !strings.ContainsAny(name, `\:`)
}
