package compose

import (
	"fmt"

	"plansheaf/design/change"
	"plansheaf/design/check"
	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/publish/cutplan"
	"plansheaf/publish/page"
	"plansheaf/publish/picture"
	"plansheaf/publish/scene"
	"plansheaf/publish/wording"
)

// An Input is what a document is made from.
type Input struct {
	Work     *check.Work
	Findings []finding.Finding
	Draft    bool
	Pictures Pictures
	Terms    []Terms // texts of licences that are published too
	// Since is how the plan differs from an earlier revision; nil where none is given.
	Since *change.Comparison
	// Old is that earlier revision, for builders half way; nil where none is given.
	Old *change.Revision
}

// Terms is the text of a licence, by its SPDX identifier, and where it stands in the
// publication.
type Terms struct{ ID, Path string }

// Pictures are the drawings of the publication; any may be missing.
type Pictures struct {
	Sheets  map[string][]page.Sheet     // by part id: its drawing sheets
	Thumbs  map[string]*picture.Picture // by part id: a small pictorial view
	Steps   map[string]*picture.Picture // by "assembly.step"
	Whole   map[string]*picture.Picture // by assembly id: put together
	CutPlan map[string]cutplan.Drawing  // by stock id
	Files   map[string][]File           // by part id: its drawings and contours for other programs
	// Assembled are assemblies with balloons, by id: one for each parts list that
	// choices give; the numbers are places among the Items that it has.
	Assembled map[string][]Assembled
	Items     map[string][]scene.Item // by assembly id: what it holds under any choice, in order
}

// Assembled is an assembly drawn with the numbers of its parts list.
type Assembled struct {
	Together *picture.Picture
	Apart    *picture.Picture   // nil where there is nothing to take apart
	Cases    []*check.Situation // that the pictures are true for
}

// A composer holds what the pages share while a document is built.
type composer struct {
	Input
	plan      *plan.Plan
	system    quantity.System
	all       []*check.Situation // one for each combination of choices, the default first
	order     []*plan.Assembly   // in the order of work, the machine last
	footnotes bool               // whether the text being composed has the page to itself
	place     string             // where the text being composed begins, for its anchors
	near      *plan.Assembly     // whose texts are being composed; nil outside of assemblies
	tongue    *wording.Table     // the words that are not the plan's

	unplaced unplaced
	used     *usage
	leans    leanings
}

// Document builds the document.
func Document(in Input) (*page.Document, error) {
	p := in.Work.Plan
	c := newComposer(in)
	doc := &page.Document{
		Title: p.Title.Value, Summary: c.plain(p.Summary), Revision: p.Revision.Text, Date: p.Date.Text,
		License: p.License.Text, Language: p.Language.Text, System: p.Units.Text, Sheet: p.Sheet.Text, Draft: in.Draft,
	}
	if doc.Language == "" {
		doc.Language = "en"
	}
	for _, a := range p.Authors {
		doc.Authors = append(doc.Authors, a.Value)
	}
	if machine := p.Assembly(p.Machine.Text); machine != nil {
		doc.Machine = machine.Title.Value
	}
	for _, choice := range p.Choices {
		one := page.Choice{ID: choice.ID.Text, Title: choice.Title.Value, Default: choice.Default.Text}
		for _, o := range choice.Options {
			one.Options = append(one.Options, page.Option{ID: o.ID.Text, Title: o.Title.Value})
		}
		doc.Choices = append(doc.Choices, one)
	}
	n := finding.Count(in.Findings)
	doc.Findings = page.Tally{Errors: n.Errors, Warnings: n.Warnings, Advice: n.Advice, Notes: n.Notes, Waived: n.Waived}
	for _, f := range p.Files {
		doc.Downloads = append(doc.Downloads, page.Download{Path: f.Path, Title: c.fileTitle(f.Path), About: c.fileUse(f.Path), Bytes: f.Size})
	}
	doc.Pages = c.pages()
	var err error
	if doc.Metadata, err = c.metadata(); err != nil {
		return nil, fmt.Errorf("write the metadata: %w", err)
	}
	return doc, nil
}

func newComposer(in Input) *composer {
	p := in.Work.Plan
	c := &composer{Input: in, plan: p, system: check.System(p), all: in.Work.Combinations(), order: buildOrder(p)}
	c.tongue, _ = wording.For(p.Language.Text)
	c.used, c.leans = newUsage(c.order), newLeanings()
	c.unplaced = unplacedOf(c)
	return c
}

// Plain returns a function that turns a text of the plan into plain words, what its
// braces stand for put in, under the plan's own choices: for drawings, which hold
// no links.
func Plain(w *check.Work) func(plan.Text) string { return newComposer(Input{Work: w}).plain }

// pages lists all pages in reading order.
func (c *composer) pages() []*page.Page {
	pages := []*page.Page{c.front(), c.safety()}
	pages = append(pages, c.prose()...)
	if len(c.plan.Choices) > 0 {
		pages = append(pages, c.choices())
	}
	drawn, others := c.parts()
	pages = append(pages, c.partsList(), c.byAssembly(), c.byStep())
	if prints := c.prints(); prints != nil {
		pages = append(pages, prints)
	}
	pages = append(pages, others...)
	pages = append(pages, c.shopping(), c.cutting(), c.tools())
	pages = append(pages, c.assemblies()...)
	pages = append(pages, c.drawings())
	pages = append(pages, drawn...)
	pages = append(pages, c.calculations()...)
	pages = append(pages, c.joints()...)
	pages = append(pages, c.hazards(), c.changes(), c.open(), c.downloads(), c.license())
	return pages
}

// buildOrder lists the assemblies that the machine is made of so that each stands
// before the one that takes it; assemblies that nothing takes stand at the end.
func buildOrder(p *plan.Plan) []*plan.Assembly {
	var order []*plan.Assembly
	done := map[string]bool{}
	var visit func(a *plan.Assembly)
	visit = func(a *plan.Assembly) {
		if a == nil || done[a.ID.Text] {
			return
		}
		done[a.ID.Text] = true
		for _, use := range a.Holds {
			for _, ref := range use.Assembly.All() {
				visit(p.Assembly(ref.Text))
			}
		}
		order = append(order, a)
	}
	visit(p.Assembly(p.Machine.Text))
	for _, a := range p.Assemblies {
		visit(a)
	}
	return order
}
