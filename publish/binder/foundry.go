package binder

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"
	"time"

	"github.com/jung-kurt/gofpdf"

	"plansheaf/design/memo"
	"plansheaf/publish/picture"
)

// A cutFont is a font cut down to some letters, as the objects of a PDF: the first is the
// font, and it leads to the others. They are counted from 1.
type cutFont struct{ Objects []pdfObject }

// A pdfObject is the body of an object without its number: what it says, in which
// references are numbers counted from the first of the objects that it came with, and its
// stream; nil for none.
type pdfObject struct{ Says, Stream []byte }

// cutDown gives a font for some letters, taken over where it is known.
func cutDown(kept *memo.Store, which face, letters string) (cutFont, error) {
	return memo.Do(kept, "binder.cut", func() (cutFont, error) { return cutAnew(which, letters) }, int(which), letters)
}

// cutAnew lets gofpdf write a document of one font and takes that out.
func cutAnew(which face, letters string) (cutFont, error) {
	pdf := newPDF()
	spec := faceSpecs[which]
	picture.RegisterFonts(pdf, spec.picture)
	pdf.AddPage()
	pdf.SetFont(spec.family, spec.style, 10)
	pdf.Text(0, 0, letters)
	var raw bytes.Buffer
	if err := pdf.Output(&raw); err != nil {
		return cutFont{}, fmt.Errorf("cut a font: %w", err)
	}
	objects, err := objectsOf(raw.Bytes())
	if err != nil {
		return cutFont{}, fmt.Errorf("cut a font: %w", err)
	}
	// Before the font stand the pages, the resources, the page and its content; after it
	// the document's information and the catalog.
	const before, font, after = 4, 7, 2
	if len(objects) != before+font+after {
		return cutFont{}, fmt.Errorf("cut a font: %w", errForeign)
	}
	objects = objects[before : before+font]
	name := subsetName(which, objects)
	var out cutFont
	for _, o := range objects {
		says, stream := parted(o)
		says = renumbered(renamed(says, name), -before)
		out.Objects = append(out.Objects, pdfObject{says, stream})
	}
	return out, nil
}

// newPDF is a gofpdf document in millimetres, its streams not compressed.
func newPDF() *gofpdf.Fpdf {
	pdf := gofpdf.New("P", "mm", "A4", "")
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetMargins(0, 0, 0)
	pdf.SetCellMargin(0)
	pdf.SetCatalogSort(true)
	pdf.SetCompression(false)
	// gofpdf asks the clock for dates that are not set; the finishing pass writes
	// the plan's own.
	pdf.SetCreationDate(time.Unix(0, 0).UTC())
	pdf.SetModificationDate(time.Unix(0, 0).UTC())
	return pdf
}

// What stands around a stream.
var streamOpens, streamCloses = []byte("\nstream\n"), []byte("\nendstream")

// parted is an object's body as what it says and its stream.
func parted(body []byte) (says, stream []byte) {
	says, stream, found := bytes.Cut(body, streamOpens)
	if !found {
		return body, nil
	}
	return says, bytes.TrimSuffix(stream, streamCloses)
}

var references = regexp.MustCompile(`\b(\d+) 0 R\b`)

// renumbered is what an object says with its references moved by so much.
func renumbered(says []byte, by int) []byte {
	return references.ReplaceAllFunc(says, func(ref []byte) []byte {
		digits, _, _ := bytes.Cut(ref, []byte(" "))
		n, _ := strconv.Atoi(string(digits)) // digits they are
		return fmt.Appendf(nil, "%d 0 R", n+by)
	})
}
