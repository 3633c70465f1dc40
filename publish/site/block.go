package site

import (
	"fmt"
	"html/template"
	"strings"

	"plansheaf/publish/page"
	"plansheaf/publish/wording"
)

// blocks is a run of blocks as HTML.
func (w *pageWriter) blocks(blocks []page.Block) (template.HTML, error) {
	var b strings.Builder
	for _, block := range blocks {
		html, err := w.block(block)
		if err != nil {
			return "", err
		}
		b.WriteString(string(html))
	}
	return template.HTML(b.String()), nil
}

// block is one block as HTML. Blocks that hold words alone are written here;
// the rest have a template of their kind's name.
func (w *pageWriter) block(block page.Block) (template.HTML, error) {
	switch block := block.(type) {
	case page.Heading:
		return w.heading(block), nil
	case page.Paragraph:
		o := w.only(block.Only)
		return w.element("p", o, o.Mark()+w.words(block.Words)), nil
	case page.Code:
		o := w.only(block.Only)
		return w.marked(o) + w.element("pre", o, template.HTML("<code>"+escape(block.Text)+"</code>"), ` tabindex="0"`), nil
	case page.Break:
		o := w.only(block.Only)
		return template.HTML(fmt.Sprintf("<hr%s class=\"rule%s\">\n", o.Attr(), o.Class())), nil
	case page.Quote:
		inner, err := w.blocks(block.Blocks)
		o := w.only(block.Only)
		return w.element("blockquote", o, w.marked(o)+inner), err
	case page.List:
		return w.list(block)
	case page.Footnotes:
		return w.footnotes(block)
	case page.Table:
		return w.table(block)
	case page.Figure:
		return w.figure(block)
	case page.CautionBox:
		return w.caution(block)
	case page.Facts:
		return w.run("facts", w.facts(block.Facts, w.only(block.Only)))
	case page.Step:
		return w.step(block)
	case page.Equation:
		return w.run("equation", w.equation(block))
	case page.Cards:
		return w.cards(block)
	case page.Halfway:
		return w.halfway(block)
	}
	return "", fmt.Errorf("no way to show a %T", block)
}

// element wraps words in an element that may depend on choices.
func (w *pageWriter) element(tag string, o only, words template.HTML, attributes ...string) template.HTML {
	class := ""
	if o.Other {
		class = ` class="other"`
	}
	return template.HTML(fmt.Sprintf("<%s%s%s%s>%s</%s>\n", tag, strings.Join(attributes, ""), o.Attr(), class, words, tag))
}

// marked says as a paragraph of its own what a block hangs on.
func (w *pageWriter) marked(o only) template.HTML {
	if !o.Other {
		return ""
	}
	return "<p>" + o.Mark() + "</p>"
}

// heading keeps levels in order: one that jumps down too far is raised, so that
// readers who go by headings miss none. Within a step they hang below its title.
func (w *pageWriter) heading(h page.Heading) template.HTML {
	level := h.Level
	if w.inStep {
		level += w.stepLevel - 1
	}
	level = max(2, min(level, w.level+1, 6))
	w.level = level
	id := ""
	if h.ID != "" {
		id = ` id="` + escape(h.ID) + `"`
	}
	o := w.only(h.Only)
	return template.HTML(fmt.Sprintf("<h%d%s%s class=\"head%s\">%s%s</h%d>\n",
		level, id, o.Attr(), o.Class(), w.words(h.Words), o.Mark(), level))
}

func (w *pageWriter) list(list page.List) (template.HTML, error) {
	items, err := w.items(list.Items)
	if err != nil {
		return "", err
	}
	o := w.only(list.Only)
	tag, start, class := "ul", "", "list"
	if list.Ordered {
		tag = "ol"
		if list.Start > 1 {
			start = fmt.Sprintf(` start="%d"`, list.Start)
		}
	}
	return template.HTML(fmt.Sprintf("<%s%s%s class=\"%s%s\">%s%s</%s>\n",
		tag, start, o.Attr(), class, o.Class(), listMark(o), items, tag)), nil
}

// listMark says what a whole list hangs on, as an entry of it.
func listMark(o only) template.HTML {
	if !o.Other {
		return ""
	}
	return `<li class="no-script">` + o.Mark() + "</li>"
}

// items are list items. The first paragraph of an item with a tick box is the
// label of its box; an item of one paragraph alone stands without <p>.
func (w *pageWriter) items(items []page.Item) (template.HTML, error) {
	var b strings.Builder
	for _, item := range items {
		o := w.only(item.Only)
		first, rest := leadingWords(item.Blocks)
		inner, err := w.blocks(rest)
		if err != nil {
			return "", err
		}
		class := ""
		lead := o.Mark() + w.words(first)
		if item.Tick != "" {
			class = " ticked"
			lead = template.HTML(`<label class="tick"><input type="checkbox" data-tick="` + escape(item.Tick) + `"><span>` +
				string(lead) + `</span></label>`)
		} else if len(rest) > 0 && len(first) > 0 {
			lead = "<p>" + lead + "</p>"
		}
		fmt.Fprintf(&b, "<li%s class=\"item%s%s\">%s%s</li>", o.Attr(), class, o.Class(), lead, inner)
	}
	return template.HTML(b.String()), nil
}

// leadingWords parts the first paragraph's words from the other blocks.
func leadingWords(blocks []page.Block) ([]page.Inline, []page.Block) {
	if len(blocks) > 0 {
		if p, ok := blocks[0].(page.Paragraph); ok && len(p.Only) == 0 {
			return p.Words, blocks[1:]
		}
	}
	return nil, blocks
}

type noteView struct {
	Number int
	Mark   string
	Words  template.HTML
	Back   bool
}

func (w *pageWriter) footnotes(notes page.Footnotes) (template.HTML, error) {
	var views []noteView
	for _, note := range notes.Notes {
		inner, err := w.blocks(note.Blocks)
		if err != nil {
			return "", err
		}
		views = append(views, noteView{note.Number, ownMark, inner, w.noteRefs[note.Number]})
	}
	return w.run("footnotes", views)
}

type figureView struct {
	Image   *imageView
	Link    template.URL // what a click leads to
	Enlarge template.URL // the picture on its own
	Title   string
	Caption template.HTML
	Small   bool
	Only    only
}

func (w *pageWriter) figure(f page.Figure) (template.HTML, error) {
	view := figureView{Caption: w.words(f.Caption), Small: f.Small, Only: w.only(f.Only)}
	switch {
	case f.Picture != nil:
		image, err := w.image(f.Picture)
		if err != nil {
			return "", err
		}
		view.Image, view.Title = image, f.Picture.Title
		if image != nil && !f.Small {
			view.Enlarge = image.Src
		}
	case f.Image != nil:
		view.Image, view.Title = w.planImage(f.Image), f.Image.Alt
		if view.Image != nil && !f.Small && opensSafely(f.Image.Path) {
			view.Enlarge = view.Image.Src
		}
	}
	if !f.Link.IsZero() {
		view.Link, _ = w.target(f.Link)
	}
	return w.run("figure", view)
}

type cautionView struct {
	Signal string // lower case, as a class
	Word   string // as printed
	Alert  bool   // with the safety alert symbol
	Sign   *imageView
	Title  template.HTML
	Inner  template.HTML
	Only   only
}

// signalWords are the signal words as they are printed.
var signalWords = map[page.Signal]wording.Phrase{page.Danger: "DANGER", page.Warning: "WARNING", page.Caution: "CAUTION", page.Notice: "NOTICE"}

func (w *pageWriter) caution(c page.CautionBox) (template.HTML, error) {
	inner, err := w.blocks(c.Blocks)
	if err != nil {
		return "", err
	}
	signal := c.Signal
	switch signal {
	case page.Danger, page.Warning, page.Caution, page.Notice:
	default:
		w.fault("page %q: %q is not a signal word", w.page.ID, c.Signal)
		signal = page.Warning
	}
	view := cautionView{
		Signal: string(signal),
		Word:   w.tongue.Say(signalWords[signal]),
		// ANSI Z535.6: the alert symbol stands for injury; a notice has none.
		Alert: signal != page.Notice,
		Title: w.words(c.Title),
		Inner: inner,
		Only:  w.only(c.Only),
	}
	if c.Sign != "" || view.Alert {
		if view.Sign, err = w.sign(c.Sign); err != nil {
			return "", err
		}
	}
	return w.run("caution", view)
}

type factsView struct {
	Facts []factView
	Only  only
}

type factView struct {
	Label string
	Words template.HTML
	Only  only
}

func (w *pageWriter) facts(facts []page.Fact, o only) factsView {
	view := factsView{Only: o}
	for _, fact := range facts {
		view.Facts = append(view.Facts, factView{fact.Label, w.words(fact.Words), w.only(fact.Only)})
	}
	return view
}

type cardView struct {
	Href  template.URL
	Title string
	Note  template.HTML
	Image *imageView
	Only  only
}

func (w *pageWriter) cards(cards page.Cards) (template.HTML, error) {
	var views []cardView
	for _, card := range cards.Cards {
		image, err := w.image(card.Picture)
		if err != nil {
			return "", err
		}
		if image != nil {
			image.Lazy = true
			// The title beside it says what it is.
			image.Alt = ""
		}
		href, _ := w.target(card.Target)
		views = append(views, cardView{href, card.Title, w.words(card.Note), image, w.only(card.Only)})
	}
	return w.run("cards", map[string]any{"Cards": views, "Only": w.only(cards.Only)})
}
