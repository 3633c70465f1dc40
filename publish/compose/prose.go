package compose

import (
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"plansheaf/design/plan"
	"plansheaf/design/prose"
	"plansheaf/publish/page"
)

// prose are the pages that the author wrote, by their order, those without one
// last.
func (c *composer) prose() []*page.Page {
	sorted := slices.Clone(c.plan.Pages)
	slices.SortStableFunc(sorted, func(a, b *plan.Page) int { return orderOf(a) - orderOf(b) })
	var pages []*page.Page
	for _, p := range sorted {
		title := p.Title.Value
		if title == "" {
			title = capital(strings.ReplaceAll(p.ID.Text, "_", " "))
		}
		pages = append(pages, &page.Page{
			ID: "pages/" + p.ID.Text, Title: title, Kind: page.Prose, Only: onlyOf(p.Only), Blocks: c.among(p.Only.Fits).noting().text(p.Body),
		})
	}
	return pages
}

// lastOrder stands for pages without an order.
const lastOrder = 1 << 20

func orderOf(p *plan.Page) int {
	n, err := strconv.Atoi(p.Order.Text)
	if err != nil {
		return lastOrder
	}
	return min(max(n, -lastOrder), lastOrder)
}

// text is a text of the plan as blocks.
func (c *composer) text(t plan.Text) []page.Block {
	if strings.TrimSpace(t.Value) == "" {
		return nil
	}
	doc, _ := prose.Parse(t.Value)
	return c.from(t).blocks(doc.Blocks)
}

// from is the composer for the blocks of one text: several texts stand on one page,
// so their headings and tick boxes are told apart by where the text begins.
func (c *composer) from(t plan.Text) *composer {
	inside := *c
	inside.place = placeName.ReplaceAllString(strings.TrimSuffix(t.At.File, ".yaml"), "-") + "-" + strconv.Itoa(t.At.Line) + "-"
	return &inside
}

var placeName = regexp.MustCompile(`[^A-Za-z0-9]+`)

// noting is the composer for a page's own text, whose footnotes stand at its end.
// Several other texts share a page, so theirs follow them as plain lists.
func (c *composer) noting() *composer {
	inside := *c
	inside.footnotes = true
	return &inside
}

// listed is footnotes as a list with their numbers.
func listed(notes page.Footnotes) page.List {
	list := page.List{Ordered: true}
	for i, n := range notes.Notes {
		if i == 0 {
			list.Start = n.Number
		}
		list.Items = append(list.Items, page.Item{Blocks: n.Blocks})
	}
	return list
}

// inline is a text of the plan as one run of words; of several paragraphs the
// first.
func (c *composer) inline(t plan.Text) []page.Inline {
	doc, _ := prose.Parse(t.Value)
	for _, b := range doc.Blocks {
		if p, ok := b.(prose.Paragraph); ok {
			return c.words(p.Words)
		}
	}
	return page.Words(t.Value)
}

// plain is a text of the plan as plain words under the plan's own choices.
func (c *composer) plain(t plan.Text) string {
	var b strings.Builder
	c.writePlain(&b, c.inline(t))
	return b.String()
}

func (c *composer) writePlain(b *strings.Builder, words []page.Inline) {
	for _, w := range words {
		switch w := w.(type) {
		case page.Text:
			b.WriteString(string(w))
		case page.Verbatim:
			b.WriteString(string(w))
		case page.Strong:
			c.writePlain(b, w.Words)
		case page.Emphasis:
			c.writePlain(b, w.Words)
		case page.Link:
			c.writePlain(b, w.Words)
		case page.Measure:
			b.WriteString(w.First)
		case page.Varies:
			c.writePlain(b, w.Pick(page.Combination(c.plan.Defaults())))
		case page.Newline:
			b.WriteByte(' ')
		}
	}
}

// wording is a text that may depend on a choice.
func (c *composer) wording(w plan.Wording) []page.Block {
	if !w.By.Given() {
		return c.text(w.Plain)
	}
	var blocks []page.Block
	for _, o := range w.Options {
		only := page.Only{{Choice: w.By.Text, Options: []string{o.Option.Text}}}
		blocks = append(blocks, limited(c.text(o.Value), only)...)
	}
	return blocks
}

// limited ties blocks to a choice.
func limited(blocks []page.Block, only page.Only) []page.Block {
	for i, b := range blocks {
		switch b := b.(type) {
		case page.Paragraph:
			b.Only = only
			blocks[i] = b
		case page.Quote:
			b.Only = only
			blocks[i] = b
		case page.Code:
			b.Only = only
			blocks[i] = b
		case page.Break:
			b.Only = only
			blocks[i] = b
		case page.List:
			b.Only = only
			blocks[i] = b
		case page.Table:
			b.Only = only
			blocks[i] = b
		case page.Heading:
			b.Only = only
			blocks[i] = b
		case page.Figure:
			b.Only = only
			blocks[i] = b
		case page.CautionBox:
			b.Only = only
			blocks[i] = b
		}
	}
	return blocks
}

func (c *composer) blocks(list []prose.Block) []page.Block {
	var out []page.Block
	for _, b := range list {
		switch b := b.(type) {
		case prose.Heading:
			out = append(out, page.Heading{Level: min(b.Level+1, 6), ID: c.place + anchorOf(b), Words: c.words(b.Words)})
		case prose.Paragraph:
			out = append(out, c.paragraphOf(b))
		case prose.List:
			list := page.List{Ordered: b.Ordered, Start: b.Start}
			for _, item := range b.Items {
				one := page.Item{Blocks: c.blocks(item.Blocks)}
				if item.Task {
					one.Tick = "task-" + c.place + strconv.Itoa(b.Offset) + "-" + strconv.Itoa(len(list.Items)+1)
				}
				list.Items = append(list.Items, one)
			}
			out = append(out, list)
		case prose.Quote:
			out = append(out, page.Quote{Blocks: c.blocks(b.Blocks)})
		case prose.Code:
			out = append(out, page.Code{Text: b.Text, Language: b.Language})
		case prose.Break:
			out = append(out, page.Break{})
		case prose.Table:
			out = append(out, c.table(b))
		case prose.Notes:
			var notes page.Footnotes
			for _, n := range b.Notes {
				notes.Notes = append(notes.Notes, page.Footnote{Number: n.Number, Blocks: c.blocks(n.Blocks)})
			}
			if c.footnotes {
				out = append(out, notes)
			} else {
				out = append(out, listed(notes))
			}
		}
	}
	return out
}

// anchorOf is a heading's anchor: its words in lower case, with hyphens, and its
// place so that two equal headings differ.
func anchorOf(h prose.Heading) string {
	var b strings.Builder
	for _, r := range strings.ToLower(plainText(h.Words)) {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	return "s" + strconv.Itoa(h.Offset) + "-" + strings.Trim(b.String(), "-")
}

func plainText(words []prose.Inline) string {
	var b strings.Builder
	for _, w := range words {
		switch w := w.(type) {
		case prose.Text:
			b.WriteString(string(w))
		case prose.Verbatim:
			b.WriteString(string(w))
		case prose.Strong:
			b.WriteString(plainText(w.Words))
		case prose.Emphasis:
			b.WriteString(plainText(w.Words))
		case prose.Link:
			b.WriteString(plainText(w.Words))
		}
	}
	return b.String()
}

// paragraphOf is running text; one that holds a picture alone becomes a figure.
func (c *composer) paragraphOf(p prose.Paragraph) page.Block {
	if len(p.Words) == 1 {
		switch w := p.Words[0].(type) {
		case prose.Reference:
			if w.Picture {
				if fig, ok := c.pictureOf(w.Name); ok {
					return fig
				}
			}
		case prose.Link:
			if f := c.plan.File(w.To); w.Image && f != nil {
				return page.Figure{Image: &page.Image{Path: f.Path, Alt: plainText(w.Words), Data: f.Data}, Caption: c.words(w.Words)}
			}
		}
	}
	return page.Paragraph{Words: c.words(p.Words)}
}

// pictureOf is the picture that a name has.
func (c *composer) pictureOf(name string) (page.Figure, bool) {
	var leads page.Target
	if p := c.plan.Part(name); p != nil {
		if c.taken(p) {
			leads = partTarget(p)
		}
		link := page.Figure{Caption: page.Words(c.partTitle(p)), Link: leads}
		if pic := c.Pictures.Thumbs[name]; pic != nil {
			link.Picture = pic
			return link, true
		}
		if sheets := c.Pictures.Sheets[name]; len(sheets) > 0 {
			link.Picture = sheets[0].Picture
			return link, true
		}
	}
	if a := c.plan.Assembly(name); a != nil && c.Pictures.Whole[name] != nil {
		if c.placed(assemblyTarget(a)) {
			leads = assemblyTarget(a)
		}
		return page.Figure{Picture: c.Pictures.Whole[name], Caption: page.Words(a.Title.Value), Link: leads}, true
	}
	if pic := c.Pictures.Steps[name]; pic != nil {
		return page.Figure{Picture: pic, Caption: c.reference(plan.Word{Text: name})}, true
	}
	return page.Figure{}, false
}

func (c *composer) table(t prose.Table) page.Table {
	var out page.Table
	for _, col := range t.Columns {
		out.Columns = append(out.Columns, page.Column{Head: c.words(col.Head), Align: page.Align(col.Align)})
	}
	for _, row := range t.Rows {
		var r page.Row
		for _, cell := range row {
			r.Cells = append(r.Cells, page.Cell{Words: c.words(cell)})
		}
		out.Rows = append(out.Rows, r)
	}
	return out
}

func (c *composer) words(list []prose.Inline) []page.Inline {
	var out []page.Inline
	for _, w := range list {
		switch w := w.(type) {
		case prose.Text:
			out = append(out, page.Text(w))
		case prose.Verbatim:
			out = append(out, page.Verbatim(w))
		case prose.Strong:
			out = append(out, page.Strong{Words: c.words(w.Words)})
		case prose.Emphasis:
			out = append(out, page.Emphasis{Words: c.words(w.Words)})
		case prose.Reference:
			out = append(out, c.reference(plan.Word{Text: w.Name})...)
		case prose.Link:
			out = append(out, c.link(w))
		case prose.NoteRef:
			if c.footnotes {
				out = append(out, page.NoteRef(w))
			} else {
				out = append(out, page.Text("["+strconv.Itoa(int(w))+"]"))
			}
		case prose.Newline:
			out = append(out, page.Newline{})
		}
	}
	return out
}

// link leads to a file of the plan, a page of it, or an outside address that is
// safe to follow; any other link keeps its words alone.
func (c *composer) link(l prose.Link) page.Inline {
	words := c.words(l.Words)
	if f := c.plan.File(l.To); f != nil {
		return page.Link{To: page.Target{File: f.Path}, Words: words}
	}
	u, err := url.Parse(l.To)
	if err == nil && slices.Contains([]string{"http", "https", "mailto"}, strings.ToLower(u.Scheme)) {
		return page.Link{To: page.Target{URL: l.To}, Words: words}
	}
	return page.Emphasis{Words: words}
}
