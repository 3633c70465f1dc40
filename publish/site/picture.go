package site

import (
	"bytes"
	"fmt"
	"html/template"
	"io/fs"
	"math"
	"path"
	"strings"
	"sync"

	"plansheaf/design/memo"
	"plansheaf/publish/page"
	"plansheaf/publish/picture"
	"plansheaf/publish/sign"
)

// pictures are the SVG files that pages show, each once.
type pictures struct {
	kept    *memo.Store
	written sync.Map          // *picture.Picture to *svgFile: parts are shown on many pages
	signs   sync.Map          // code to *picture.Picture
	made    map[string][]byte // by path
}

// An svgFile is a picture that is written once, by the page that first comes to it.
type svgFile struct {
	once sync.Once
	data []byte
	err  error
}

// shown is a picture that a page shows.
type shown struct {
	name, file string
	data       []byte
}

// writePicture makes a picture's file, once.
func (w *pageWriter) writePicture(p *picture.Picture, file string) error {
	found, _ := w.pictures.written.LoadOrStore(p, &svgFile{})
	svg := found.(*svgFile)
	svg.once.Do(func() {
		svg.data, svg.err = memo.Do(w.pictures.kept, "a picture as SVG", func() ([]byte, error) { return picture.SVG(p) }, p)
	})
	if svg.err != nil {
		return fmt.Errorf("picture %q: %w", p.Name, svg.err)
	}
	w.shown = append(w.shown, shown{name: p.Name, file: file, data: svg.data})
	return nil
}

// addPictures adds the files of the pictures that a page shows.
func (b *builder) addPictures(list []shown) {
	for _, one := range list {
		have, made := b.pictures.made[one.file]
		switch {
		case !made:
			b.pictures.made[one.file] = one.data
			b.add(one.file, one.data)
		case !same(have, one.data):
			b.fault("two different pictures have the name %q", one.name)
		}
	}
}

// same reports whether files hold the same; most that are compared are one.
func same(a, b []byte) bool {
	return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0] || bytes.Equal(a, b))
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
	known, drawn := w.pictures.signs.Load(code)
	if !drawn {
		p, ok := sign.Picture(code, signSize)
		if !ok {
			return nil, fmt.Errorf("no sign for %q", code)
		}
		known, _ = w.pictures.signs.LoadOrStore(code, p)
	}
	view, err := w.image(known.(*picture.Picture))
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
