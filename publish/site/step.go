package site

import (
	"fmt"
	"html/template"
	"strings"

	"plansheaf/publish/page"
)

// A stepEntry is one step in the order of the work, as the script reads it.
type stepEntry struct {
	Page   string `json:"p"` // file of its page
	Anchor string `json:"a"`
	Title  string `json:"t"`
	// Numbers are the step's numbers with the choices that each holds for; the first
	// that fits counts.
	Numbers [][2]string `json:"n"`
	Tick    string      `json:"k,omitempty"`
	Only    string      `json:"o,omitempty"`
}

// surveySteps lists all steps in document order.
func (b *builder) surveySteps() {
	for _, p := range b.doc.Pages {
		walk(p.Blocks, func(block page.Block) {
			step, ok := block.(page.Step)
			if !ok {
				return
			}
			b.steps = append(b.steps, stepEntry{
				Page: p.ID + ".html", Anchor: step.Anchor, Title: step.Title, Numbers: b.numbers(step.Number),
				Tick: step.Tick, Only: b.only(both(p.Only, step.Only)).Data,
			})
		})
	}
}

// numbers are the variants of a step's number, the standard one first.
func (b *builder) numbers(words []page.Inline) [][2]string {
	list := [][2]string{}
	for _, w := range words {
		switch w := w.(type) {
		case page.Text:
			list = append(list, [2]string{"", string(w)})
		case page.Varies:
			for _, v := range w.Variants {
				one := [2]string{b.only(v.When).Data, plain(v.Words)}
				if v.When.Fits(b.standard) {
					list = append([][2]string{one}, list...)
				} else {
					list = append(list, one)
				}
			}
		}
	}
	return list
}

// number is a step's number as HTML: the one for the default choices, the others for
// the script alone.
func (b *builder) number(words []page.Inline) template.HTML {
	list := b.numbers(words)
	if len(list) == 1 && list[0][0] == "" {
		return template.HTML(escape(list[0][1]))
	}
	var out strings.Builder
	out.WriteString(`<span class="varies">`)
	for i, v := range list {
		class := ""
		if i > 0 {
			class = ` class="other script"`
		}
		fmt.Fprintf(&out, `<span data-n="%d" data-when="%s"%s>%s</span>`, i, escape(v[0]), class, escape(v[1]))
	}
	out.WriteString(`</span>`)
	return template.HTML(out.String())
}

type stepView struct {
	Anchor, Title  string
	Number         template.HTML
	Level          int
	Only           only
	Tick           string
	Cautions       template.HTML
	Figure         template.HTML
	Bag, Screws    template.HTML
	Facts          *factsView
	Text           template.HTML
	Measures       template.HTML
	Previous, Next *stepLink
}

type stepLink struct {
	Href  template.URL
	Title string
}

func (w *pageWriter) step(s page.Step) (template.HTML, error) {
	if w.stepLevel == 0 {
		w.stepLevel = min(w.level+1, 3)
	}
	w.level, w.inStep = w.stepLevel, true
	defer func() { w.level, w.inStep = w.stepLevel, false }()
	view := stepView{
		Anchor: s.Anchor, Number: w.number(s.Number), Title: s.Title, Level: w.stepLevel,
		Only: w.only(s.Only), Tick: s.Tick,
	}
	if len(s.Facts) > 0 {
		facts := w.facts(s.Facts, only{})
		view.Facts = &facts
	}
	var err error
	keep := func(html template.HTML, e error) template.HTML {
		if err == nil {
			err = e
		}
		return html
	}
	for _, c := range s.Cautions {
		view.Cautions += keep(w.caution(c))
	}
	if s.Figure != nil {
		view.Figure = keep(w.figure(*s.Figure))
	}
	if s.Bag != nil {
		view.Bag = keep(w.table(*s.Bag))
	}
	if s.Screws != nil {
		view.Screws = keep(w.table(*s.Screws))
	}
	view.Text = keep(w.blocks(s.Text))
	view.Measures = keep(w.items(s.Measures))
	if err != nil {
		return "", err
	}
	view.Previous, view.Next = w.neighbours(s.Anchor)
	return w.run("step", view)
}

// neighbours are the steps before and after, on this page or another; the script
// skips those of other choices.
func (w *pageWriter) neighbours(anchor string) (previous, next *stepLink) {
	link := func(i int) *stepLink {
		if i < 0 || i >= len(w.steps) {
			return nil
		}
		title := w.steps[i].Title
		if numbers := w.steps[i].Numbers; len(numbers) > 0 {
			title = numbers[0][1] + " " + title
		}
		return &stepLink{w.href(w.steps[i].Page, w.steps[i].Anchor), title}
	}
	for i, s := range w.steps {
		if s.Anchor == anchor && s.Page == w.page.ID+".html" {
			return link(i - 1), link(i + 1)
		}
	}
	return nil, nil
}
