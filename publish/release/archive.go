package release

import (
	"archive/zip"
	"bytes"
	"fmt"
	"time"
)

// earliest is the first moment that a ZIP archive can name; files are dated by it
// where a plan has no date.
var earliest = time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)

// Pack adds to the files one archive of them all with their list: a ZIP file at path,
// in which everything stands in one folder. date is YYYY-MM-DD, of every file in it.
// The same files and date give the same bytes.
func Pack(files []File, path, folder, date string) ([]File, error) {
	inside, err := listed(files)
	if err != nil {
		return nil, err
	}
	if !clean(folder) || !clean(path) {
		return nil, fmt.Errorf("pack %q in the folder %q: not paths inside the publication", path, folder)
	}
	modified, err := time.Parse(time.DateOnly, date)
	if err != nil || modified.Before(earliest) {
		modified = earliest
	}
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for _, f := range inside {
		head := &zip.FileHeader{Name: folder + "/" + f.Path, Method: zip.Deflate, Modified: modified}
		head.SetMode(0o644)
		w, err := z.CreateHeader(head)
		if err == nil {
			_, err = w.Write(f.Data)
		}
		if err != nil {
			return nil, fmt.Errorf("pack %q: %w", f.Path, err)
		}
	}
	if err := z.Close(); err != nil {
		return nil, fmt.Errorf("pack %q: %w", path, err)
	}
	return append(files[:len(files):len(files)], File{Path: path, Data: out.Bytes()}), nil
}
