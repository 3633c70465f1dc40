package site

import (
	"bytes"
	"fmt"
	"html/template"
	"io/fs"
	"math"
	"path"
	"strings"

	"plansheaf/design/memo"
	"plansheaf/publish/page"
	"plansheaf/publish/picture"
	"plansheaf/publish/sign"
)

// pictures are the SVG files that pages show, each once, in order of first use.
type pictures struct {
	kept  *memo.Store
	made  map[string][]byte
	order []string
	known map[*picture.Picture]bool   // written already: parts are shown on many pages
	signs map[string]*picture.Picture // by code
}

func newPictures(kept *memo.Store) pictures {
	return pictures{
		kept:  kept,
		made:  map[string][]byte{},
		known: map[*picture.Picture]bool{},
		signs: map[string]*picture.Picture{},
	}
}

// writePicture makes a picture's file, once.
func (b *builder) writePicture(p *picture.Picture, file string) error {
	if b.pictures.known[p] {
		return nil
	}
	data, err := memo.Do(b.pictures.kept, "a picture as SVG", func() ([]byte, error) { return picture.SVG(p) }, p)
	if err != nil {
		return fmt.Errorf("picture %q: %w", p.Name, err)
	}
	b.pictures.known[p] = true
	if have, made := b.pictures.made[file]; !made {
		b.pictures.made[file] = data
		b.pictures.order = append(b.pictures.order, file)
	} else if !bytes.Equal(have, data) {
		b.fault("two different pictures have the name %q", p.Name)
	}
	return nil
}

// pixels in a millimetre at the reference resolution of CSS.
const pixels = 96 / 25.4

// imageView is an <img>.
type imageView struct {
	Src           template.URL
	Alt           string
	Width, Height int // pixels; 0 when unknown
	Lazy          bool
}

// image shows a picture and sees to it that its file is made.
func (w *pageWriter) image(p *picture.Picture) (*imageView, error) {
	if p == nil {
		return nil, nil
	}
	file := p.Name + ".svg"
	if !fs.ValidPath(file) {
		w.fault("picture %q: not a path within the publication", p.Name)
		return nil, nil
	}
	if err := w.writePicture(p, file); err != nil {
		return nil, err
	}
	alt := p.Description
	if alt == "" {
		alt = p.Title
	}
	return &imageView{
		Src:    w.href(file, ""),
		Alt:    alt,
		Width:  int(math.Ceil(p.Width * pixels)),
		Height: int(math.Ceil(p.Height * pixels)),
	}, nil
}

// planImage shows a picture file of the plan.
func (w *pageWriter) planImage(image *page.Image) *imageView {
	if !fs.ValidPath(image.Path) {
		w.fault("image %q: not a path within the publication", image.Path)
		return nil
	}
	return &imageView{Src: w.href(image.Path, ""), Alt: image.Alt, Width: image.Width, Height: image.Height}
}

// signSize is the side of a safety sign's file in millimetres; pages show it at
// the size of the style sheet.
const signSize = 24

func (w *pageWriter) sign(code string) (*imageView, error) {
	code = sign.Nearest(code)
	p := w.pictures.signs[code]
	if p == nil {
		var ok bool
		if p, ok = sign.Picture(code, signSize); !ok {
			return nil, fmt.Errorf("no sign for %q", code)
		}
		w.pictures.signs[code] = p
	}
	view, err := w.image(p)
	if view != nil {
		view.Alt = sign.Alt(code)
	}
	return view, err
}

// opensSafely reports whether a browser may open a file of the plan as a page of
// its own. Files of the kinds named here can carry scripts, which run only then;
// links to them ask for the file to be saved instead.
func opensSafely(file string) bool {
	switch strings.ToLower(path.Ext(file)) {
	case ".svg", ".svgz", ".html", ".htm", ".xhtml", ".xht", ".xml", ".xsl", ".mht", ".mhtml":
		return false
	}
	return true
}
