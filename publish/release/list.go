package release

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"slices"
	"strings"
)

// ListName is the file that lists a publication: a line "sum  path" for each other
// file, sorted by path, as the usual checksum tools read it.
const ListName = "files.sha256"

// A File is one file of a publication.
type File struct {
	Path string // relative, with forward slashes
	Data []byte
}

// A Sum is the SHA-256 of a file's bytes.
type Sum [sha256.Size]byte

// listed are the files with their list, sorted by path. It is an error when two files
// share a path, when one's path would have to be a folder of another, or when a path
// leads out or is the list's own.
func listed(files []File) ([]File, error) {
	files = slices.Clone(files)
	slices.SortFunc(files, func(a, b File) int { return strings.Compare(a.Path, b.Path) })
	taken := map[string]bool{}
	for i, f := range files {
		if !clean(f.Path) || f.Path == ListName {
			return nil, fmt.Errorf("publish %q: not a path inside the publication", f.Path)
		}
		if i > 0 && files[i-1].Path == f.Path {
			return nil, fmt.Errorf("publish %q: two files have this path", f.Path)
		}
		taken[f.Path] = true
	}
	for _, f := range files {
		if over := folderTaken(f.Path, taken); over != "" {
			return nil, fmt.Errorf("publish %q: %q is a file", f.Path, over)
		}
	}
	return append(files, File{Path: ListName, Data: list(files)}), nil
}

// folderTaken is a folder on the way to a path that is taken by a file; empty if there
// is none.
func folderTaken(path string, taken map[string]bool) string {
	for i, c := range path {
		if c == '/' && taken[path[:i]] {
			return path[:i]
		}
	}
	return ""
}

// list is the content of ListName for files, which are sorted.
func list(files []File) []byte {
	var b bytes.Buffer
	for _, f := range files {
		fmt.Fprintf(&b, "%x  %s\n", sha256.Sum256(f.Data), f.Path)
	}
	return b.Bytes()
}

// sums reads a list; anything that is not one is an error.
func sums(data []byte) (map[string]Sum, error) {
	of := map[string]Sum{}
	lines := bufio.NewScanner(bytes.NewReader(data))
	for lines.Scan() {
		text, name, found := strings.Cut(lines.Text(), "  ")
		raw, err := hex.DecodeString(text)
		if !found || err != nil || len(raw) != sha256.Size || !clean(name) {
			return nil, fmt.Errorf("%s is not a list that this program wrote: %.200q", ListName, lines.Text())
		}
		if _, twice := of[name]; twice || name == ListName {
			return nil, fmt.Errorf("%s is not a list that this program wrote: it may not name %q, or not twice", ListName, name)
		}
		of[name] = Sum(raw)
	}
	return of, lines.Err()
}

// clean reports whether a path stays inside the folder it is relative to and means the
// same file on every system.
func clean(name string) bool {
	return fs.ValidPath(name) && name != "." && !strings.ContainsAny(name, "\\:\x00\n\r")
}
