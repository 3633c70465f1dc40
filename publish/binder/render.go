package binder

import (
	"errors"
	"fmt"

	"plansheaf/publish/page"
	"plansheaf/publish/picture"
	"plansheaf/publish/wording"
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
	if err := checkAttachments(options.Attachments); err != nil {
		return nil, nil, fmt.Errorf("render binder: %w", err)
	}
	c, b, err := layOut(doc, options)
	if err != nil {
		return nil, nil, fmt.Errorf("render binder: %w", err)
	}
	painted, err := c.paint(b)
	if err != nil {
		return nil, nil, fmt.Errorf("render binder: %w", err)
	}
	if pdf, err = finish(painted, b, doc, options); err != nil {
		return nil, nil, fmt.Errorf("render binder: %w", err)
	}
	return pdf, c.problems, nil
}

// layOut places everything on leaves. Room for page numbers is kept three digits
// wide; a binder of a thousand leaves and more is laid out again with wider
// room.
func layOut(doc *page.Document, options Options) (*composer, *book, error) {
	fonts, err := openFonts()
	if err != nil {
		return nil, nil, err
	}
	images := newDarkroom(options.Kept)
	for digits := pageDigits; ; digits += "8" {
		c := newComposer(doc, options, fonts, images, digits)
		c.survey()
		b, err := c.book()
		if err != nil {
			return nil, nil, err
		}
		if len(itoa(len(b.leaves))) <= len(digits) {
			c.page, c.near = "cover", ""
			c.finishLeaves(b, options.TwoSided)
			return c, b, nil
		}
	}
}

func newComposer(doc *page.Document, options Options, fonts *fonts, images *darkroom, digits string) *composer {
	choices := doc.Default()
	for _, choice := range doc.Choices {
		if choices[choice.ID] == "" && len(choice.Options) > 0 {
			choices[choice.ID] = choice.Options[0].ID
		}
	}
	for choice, option := range options.Combination {
		choices[choice] = option
	}
	tongue, _ := wording.For(doc.Language)
	return &composer{
		doc: doc, tongue: tongue, choices: choices, paper: paperFor(doc.Sheet), fonts: fonts, digits: digits, images: images, kept: options.Kept, keys: newKeyring(options.Kept),
		checked: map[*picture.Picture]bool{}, pages: map[string]*page.Page{}, excluded: map[string]bool{},
		anchors: map[string]bool{}, seen: map[Problem]bool{},
	}
}

// pageDigits is as wide as a page number of three digits.
const pageDigits = "888"
