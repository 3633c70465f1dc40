package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

const root = "../.."

// mapped lists the packages of the map in DEVELOPERS.md, in its order: each may
// lean on those above it. supports are those that only tests import.
func mapped(t *testing.T) (order, supports []string) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(root, "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	_, after, found := strings.Cut(string(text), "## Map of the packages")
	section, _, _ := strings.Cut(after, "\n## ")
	if !found {
		t.Fatal("DEVELOPERS.md has no map of the packages")
	}
	for _, m := range regexp.MustCompile("(?m)^\\| `([a-z/]+)` \\|").FindAllStringSubmatch(section, -1) {
		order = append(order, m[1])
	}
	_, after, found = strings.Cut(section, "\nOnly tests import")
	paragraph, _, _ := strings.Cut(after, "\n\n")
	if !found {
		t.Fatal("DEVELOPERS.md does not say which packages only tests import")
	}
	for _, m := range regexp.MustCompile("`([a-z/]+)`").FindAllStringSubmatch(paragraph, -1) {
		supports = append(supports, m[1])
	}
	return order, supports
}

// sources parses the Go files of the repository, by package folder; tests and
// folders named testdata are left out.
func sources(t *testing.T, mode parser.Mode) map[string][]*ast.File {
	t.Helper()
	files := map[string][]*ast.File{}
	err := filepath.WalkDir(root, func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if base := d.Name(); base == "testdata" || strings.HasPrefix(base, ".") && base != ".." {
				return filepath.SkipDir
			}
			return nil
		}
		if !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return nil
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, mode)
		if err != nil {
			return err
		}
		folder, err := filepath.Rel(root, filepath.Dir(name))
		if err != nil {
			return err
		}
		files[filepath.ToSlash(folder)] = append(files[filepath.ToSlash(folder)], f)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// Imports run cmd -> publish -> design, and within design and publish only to
// packages that stand above in the map.
func TestImportsRunOneWay(t *testing.T) {
	order, supports := mapped(t)
	files := sources(t, parser.ImportsOnly)
	for folder, list := range files {
		if !slices.Contains(supports, folder) && !slices.Contains(order, folder) {
			t.Errorf("%s is not in the map of DEVELOPERS.md", folder)
		}
		for _, f := range list {
			for _, imported := range f.Imports {
				to, own := strings.CutPrefix(strings.Trim(imported.Path.Value, `"`), "plansheaf/")
				if own && !slices.Contains(supports, folder) {
					if slices.Contains(supports, to) {
						t.Errorf("%s imports %s, which is for tests", folder, to)
					} else {
						allowed(t, order, folder, to)
					}
				}
			}
		}
	}
	for _, folder := range append(order, supports...) {
		if len(files[folder]) == 0 {
			t.Errorf("DEVELOPERS.md maps %s, which has no Go files", folder)
		}
	}
}

// allowed reports an import that runs against the order.
func allowed(t *testing.T, order []string, from, to string) {
	t.Helper()
	layer := func(folder string) string { return strings.Split(folder, "/")[0] }
	reach := map[string][]string{
		"cmd":     {"publish", "design"},
		"publish": {"publish", "design", "themes"},
		"design":  {"design"},
	}[layer(from)]
	switch {
	case !slices.Contains(reach, layer(to)):
		t.Errorf("%s imports %s: imports run cmd, publish, design", from, to)
	case layer(from) == layer(to) && slices.Index(order, to) >= slices.Index(order, from):
		t.Errorf("%s imports %s, which does not stand above it in the map of DEVELOPERS.md", from, to)
	}
}

// Every package says what it is, and every name that it gives away says what it
// means.
func TestEverythingPublicIsDocumented(t *testing.T) {
	for folder, list := range sources(t, parser.ParseComments) {
		described := false
		for _, f := range list {
			described = described || f.Doc.Text() != ""
			for _, d := range f.Decls {
				for _, name := range undocumented(d) {
					t.Errorf("%s: %s has no doc comment", folder, name)
				}
			}
		}
		if !described {
			t.Errorf("%s: package %s has no comment", folder, path.Base(folder))
		}
	}
}

// undocumented are the exported names of a declaration without a comment: its own,
// or that of the group it stands in.
func undocumented(d ast.Decl) []string {
	var names []string
	switch d := d.(type) {
	case *ast.FuncDecl:
		if d.Name.IsExported() && exportedReceiver(d) && d.Doc.Text() == "" {
			names = append(names, d.Name.Name)
		}
	case *ast.GenDecl:
		for _, spec := range d.Specs {
			switch spec := spec.(type) {
			case *ast.TypeSpec:
				if spec.Name.IsExported() && d.Doc.Text() == "" && spec.Doc.Text() == "" {
					names = append(names, spec.Name.Name)
				}
			case *ast.ValueSpec:
				if d.Doc.Text() != "" || spec.Doc.Text() != "" || spec.Comment.Text() != "" {
					continue
				}
				for _, n := range spec.Names {
					if n.IsExported() {
						names = append(names, n.Name)
					}
				}
			}
		}
	}
	return names
}

// exportedReceiver is false for methods of types that the package keeps to itself.
func exportedReceiver(f *ast.FuncDecl) bool {
	if f.Recv == nil {
		return true
	}
	of := f.Recv.List[0].Type
	for {
		switch t := of.(type) {
		case *ast.StarExpr:
			of = t.X
		case *ast.IndexExpr:
			of = t.X
		case *ast.IndexListExpr:
			of = t.X
		case *ast.Ident:
			return t.IsExported()
		default:
			return true
		}
	}
}
