package site

import (
	"html/template"

	"plansheaf/publish/page"
)

// A stepEntry is one step in the order of the work, as the script reads it.
type stepEntry struct {
	Page   string `json:"p"` // file of its page
	Anchor string `json:"a"`
	Title  string `json:"t"`
	Tick   string `json:"k,omitempty"`
	Only   string `json:"o,omitempty"`
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
				Page: p.ID + ".html", Anchor: step.Anchor, Title: step.Number + " " + step.Title,
				Tick: step.Tick, Only: b.only(both(p.Only, step.Only)).Data,
			})
		})
	}
}

type stepView struct {
	Anchor, Number, Title string
	Level                 int
	Only                  only
	Tick                  string
	Cautions              template.HTML
	Figure                template.HTML
	Bag, Screws           template.HTML
	Facts                 *factsView
	Text                  template.HTML
	Measures              template.HTML
	Previous, Next        *stepLink
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
		Anchor: s.Anchor, Number: s.Number, Title: s.Title, Level: w.stepLevel,
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
		return &stepLink{w.href(w.steps[i].Page, w.steps[i].Anchor), w.steps[i].Title}
	}
	for i, s := range w.steps {
		if s.Anchor == anchor && s.Page == w.page.ID+".html" {
			return link(i - 1), link(i + 1)
		}
	}
	return nil, nil
}
