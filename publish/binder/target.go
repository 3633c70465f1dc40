package binder

import (
	"net/url"
	"strings"

	"plansheaf/publish/page"
)

// survey notes which pages are printed and every place on them that links may
// lead to.
func (c *composer) survey() {
	for _, p := range c.doc.Pages {
		if p == nil {
			continue
		}
		if !p.Only.Fits(c.choices) {
			c.excluded[p.ID] = true
			continue
		}
		if c.pages[p.ID] != nil {
			c.page = p.ID
			c.problem(Problem{Kind: LostLink, Text: "two pages have this id; links lead to the first"})
		} else {
			c.pages[p.ID] = p
		}
		c.order = append(c.order, p)
		c.anchors[p.ID] = true
		c.surveyBlocks(p.ID, p.Blocks, 0)
	}
}

func (c *composer) surveyBlocks(id string, blocks []page.Block, depth int) {
	if depth > deepestBlocks {
		return
	}
	note := func(anchor string, only page.Only) {
		if anchor != "" && only.Fits(c.choices) {
			c.anchors[anchorName(id, anchor)] = true
		}
	}
	table := func(t page.Table) {
		note(t.ID, t.Only)
		for _, r := range append(t.Rows[:len(t.Rows):len(t.Rows)], t.Foot...) {
			if t.Only.Fits(c.choices) {
				note(r.ID, r.Only)
			}
		}
	}
	inside := func(blocks []page.Block) { c.surveyBlocks(id, blocks, depth+1) }
	for _, block := range blocks {
		switch b := block.(type) {
		case page.Heading:
			note(b.ID, b.Only)
		case page.Table:
			table(b)
		case page.List:
			if b.Only.Fits(c.choices) {
				for _, item := range b.Items {
					if item.Only.Fits(c.choices) {
						inside(item.Blocks)
					}
				}
			}
		case page.Quote:
			inside(b.Blocks)
		case page.CautionBox:
			if b.Only.Fits(c.choices) {
				inside(b.Blocks)
			}
		case page.Footnotes:
			for _, n := range b.Notes {
				c.anchors[id+"#:note:"+itoa(n.Number)] = true
				inside(n.Blocks)
			}
		case page.Step:
			if !b.Only.Fits(c.choices) {
				continue
			}
			note(b.Anchor, nil)
			inside(b.Text)
			for _, t := range []*page.Table{b.Bag, b.Screws} {
				if t != nil {
					table(*t)
				}
			}
		}
	}
}

// target is where a link leads within this binder, or outside; inside says
// which. A link to a page of other choices leads nowhere, quietly.
func (c *composer) target(to page.Target) (link destination, inside bool) {
	switch {
	case to.URL != "":
		address, ok := safeURL(to.URL)
		if !ok {
			c.problem(Problem{Kind: LostLink, Text: "link to " + excerpt(line(to.URL)) + " is no http, https or mailto address"})
		}
		return destination{url: address}, false
	case to.File != "", to.IsZero():
		return destination{}, false
	}
	id := to.Page
	if id == "" {
		id = c.page
	}
	name := anchorName(id, to.Anchor)
	switch {
	case c.anchors[name]:
		return destination{anchor: name}, true
	case c.excluded[id]:
		return destination{}, false
	case c.anchors[id]:
		// The page is there; what it names may belong to other choices.
		return destination{anchor: id}, true
	}
	c.problem(Problem{Kind: LostLink, Text: "link to " + excerpt(line(name)) + " leads to no page"})
	return destination{}, false
}

// safeURL is an address that may stand in a PDF: http, https or mailto,
// percent-encoded.
func safeURL(raw string) (string, bool) {
	u, err := url.Parse(strings.TrimSpace(raw))
	if err != nil {
		return "", false
	}
	switch strings.ToLower(u.Scheme) {
	case "http", "https":
		if u.Host == "" {
			return "", false
		}
	case "mailto":
	default:
		return "", false
	}
	var b strings.Builder
	for _, char := range []byte(u.String()) {
		if char <= ' ' || char >= 0x7f || strings.IndexByte(`<>"{}|\^`+"`", char) >= 0 {
			b.WriteString("%" + strings.ToUpper(hexByte(char)))
			continue
		}
		b.WriteByte(char)
	}
	return b.String(), true
}

func hexByte(b byte) string {
	const digits = "0123456789abcdef"
	return string([]byte{digits[b>>4], digits[b&15]})
}
