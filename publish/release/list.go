package release

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"path"
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

// list is the content of ListName for files, which are sorted.
func list(files []File) []byte {
	var b bytes.Buffer
	for _, f := range files {
		sum := sha256.Sum256(f.Data)
		fmt.Fprintf(&b, "%s  %s\n", hex.EncodeToString(sum[:]), f.Path)
	}
	return b.Bytes()
}

// listed reads the paths of a list; anything that is not one is an error.
func listed(data []byte) (map[string]bool, error) {
	paths := map[string]bool{ListName: true}
	lines := bufio.NewScanner(bytes.NewReader(data))
	for lines.Scan() {
		sum, name, found := strings.Cut(lines.Text(), "  ")
		if !found || len(sum) != hex.EncodedLen(sha256.Size) || !clean(name) {
			return nil, fmt.Errorf("%s is not a list that this program wrote: %q", ListName, lines.Text())
		}
		paths[name] = true
	}
	return paths, lines.Err()
}

// clean reports whether a path stays inside the folder it is relative to.
func clean(name string) bool {
	return name != "" && !strings.HasPrefix(name, "/") && !strings.Contains(name, "\\") && path.Clean(name) == name && name != ".." && !strings.HasPrefix(name, "../")
}
