package compose

import (
	"strings"

	"plansheaf/design/bill"
	"plansheaf/design/check"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/standards"
	"plansheaf/publish/page"
	"plansheaf/publish/wording"
)

// drawings is the index of drawing sheets.
func (c *composer) drawings() *page.Page {
	var cards page.Cards
	for _, p := range c.plan.Parts {
		sheets := c.Pictures.Sheets[p.ID.Text]
		if len(sheets) == 0 || !c.taken(p) {
			continue
		}
		only, _ := c.only(func(s *check.Situation) bool { return s.Bill.Line(p.ID.Text) != nil })
		cards.Cards = append(cards.Cards, page.Card{
			Target: partTarget(p), Title: c.partTitle(p), Picture: c.Pictures.Thumbs[p.ID.Text], Only: only,
			Note: page.Words(sheets[0].Size + ", " + sheets[0].Scale),
		})
	}
	return &page.Page{
		ID: "drawings", Title: c.say("Drawings"), Kind: page.Drawings,
		Summary: c.say("One drawing for each part that is made, with every size it needs."),
		Blocks:  []page.Block{cards},
	}
}

// parts are the pages of the parts: all that are no standard parts. Those with a
// drawing belong behind the index of drawings, the others behind the parts list.
func (c *composer) parts() (drawn, others []*page.Page) {
	for _, p := range c.plan.Parts {
		if p.Standard.Given() || !c.taken(p) {
			continue
		}
		if one := c.part(p); len(one.Sheets) > 0 {
			one.Parent = "drawings"
			drawn = append(drawn, one)
		} else {
			others = append(others, one)
		}
	}
	return drawn, others
}

func (c *composer) part(p *plan.Part) *page.Page {
	only, _ := c.only(func(s *check.Situation) bool { return s.Bill.Line(p.ID.Text) != nil })
	c = c.under(only)
	pg := &page.Page{
		ID: "parts/" + p.ID.Text, Title: c.partTitle(p), Kind: page.Part, Parent: "parts", Only: only,
		Summary: capital(c.say(made(c.all[0].Reckoning.Part(p.ID.Text)))), Sheets: c.Pictures.Sheets[p.ID.Text],
	}
	pg.Blocks = append(pg.Blocks, page.Facts{Facts: c.partFacts(p)})
	if p.Because.Given() {
		pg.Blocks = append(pg.Blocks, c.text(p.Because)...)
	}
	for _, note := range p.Notes {
		pg.Blocks = append(pg.Blocks, c.text(note)...)
	}
	if holes := c.holes(p); len(holes.Rows) > 0 {
		pg.Blocks = append(pg.Blocks, page.Heading{Level: 2, ID: "holes", Words: c.said("Holes")}, holes)
	}
	if uses := c.whereUsed(p); len(uses.Items) > 0 {
		pg.Blocks = append(pg.Blocks, page.Heading{Level: 2, ID: "used", Words: c.said("Where it is used")}, uses)
	}
	if files := c.partFiles(p); len(files.Items) > 0 {
		pg.Blocks = append(pg.Blocks, page.Heading{Level: 2, ID: "files", Words: c.said("Files")}, files)
	}
	return pg
}

func (c *composer) partFacts(p *plan.Part) []page.Fact {
	var facts []page.Fact
	add := func(label string, words []page.Inline) {
		if len(words) > 0 {
			facts = append(facts, page.Fact{Label: label, Words: words})
		}
	}
	worked := c.all[0].Reckoning.Part(p.ID.Text)
	add(c.say("Made"), c.said(made(worked)))
	add(c.say("Count"), c.vary(func(s *check.Situation) []page.Inline { return c.countWords(s, p) }))
	if p.Stock.Given() && worked.Stock != nil {
		add(c.say("From|stock"), []page.Inline{c.linkTo(stockTarget(worked.Stock), worked.Stock.Title.Value)})
	}
	if worked.Base != nil {
		add(c.say("Made from"), []page.Inline{c.partLink(worked.Base.Part)})
	}
	add(c.say("Material"), page.Words(worked.Material.Title))
	add(c.say("Size"), c.sizeWords(p))
	add(c.say("Mass"), c.massWords(p))
	add(c.say("Finish"), page.Words(p.Finish.Value))
	facts = append(facts, c.printFacts(p)...)
	facts = append(facts, c.hasFacts(p)...)
	if bill.Bought(worked) {
		add(c.say("From|seller"), c.fromWords(p))
		if len(p.Or) > 0 {
			add(c.say("Serves too"), []page.Inline{page.Link{To: page.Target{Page: "shopping", Anchor: substitutesAnchor}, Words: c.said("what stands on the shopping list")}})
		}
	}
	return facts
}

func (c *composer) printFacts(p *plan.Part) []page.Fact {
	if p.Print == nil {
		return nil
	}
	var facts []page.Fact
	add := func(label string, words []page.Inline) {
		if len(words) > 0 {
			facts = append(facts, page.Fact{Label: label, Words: words})
		}
	}
	add(c.say("Printed on its"), c.faceWords(p.Print.Face.Text))
	add(c.say("Walls"), page.Words(p.Print.Walls.Text))
	add(c.say("Infill"), c.quantityWords(p.Print.Infill))
	add(c.say("Layer"), c.quantityWords(p.Print.Layer))
	add(c.say("Holes come out smaller by"), c.quantityWords(p.Print.Allowance))
	add(c.say("Printing time"), c.quantityWords(p.Print.Time))
	return facts
}

// hasFacts are the properties that the author gives, and those of a belt or cable.
func (c *composer) hasFacts(p *plan.Part) []page.Fact {
	var facts []page.Fact
	for _, h := range p.Has {
		facts = append(facts, page.Fact{Label: capital(strings.ReplaceAll(h.Name.Text, "_", " ")), Words: c.quantityWords(h.Is)})
	}
	if l := p.Loop; l != nil {
		for _, f := range []struct {
			label wording.Phrase
			q     plan.Quantity
		}{{"Pitch", l.Pitch}, {"Belt width", l.Width}, {"Teeth", l.Teeth}, {"Thickness", l.Thick}} {
			if f.q.Given() {
				facts = append(facts, page.Fact{Label: c.say(f.label), Words: c.quantityWords(f.q)})
			}
		}
	}
	if f := p.Fastener; f != nil && f.Thread.Given() {
		facts = append(facts, page.Fact{Label: c.say("Thread"), Words: page.Words(f.Thread.Text)})
	}
	return facts
}

// fromWords says who sells a part.
func (c *composer) fromWords(p *plan.Part) []page.Inline {
	var sellers []string
	for _, sale := range bill.SalesOf(c.plan, p.ID.Text, p.Buy) {
		words := c.say("any dealer")
		if s := c.plan.Supplier(sale.Supplier); s != nil {
			words = s.Title.Value
		}
		if sale.Code.Given() {
			words = c.say("%s, code %s", words, sale.Code.Value)
		}
		sellers = append(sellers, words)
	}
	switch {
	case len(sellers) > 0:
		return page.Words(strings.Join(sellers, "; "))
	case p.Buy != nil && p.Buy.AskFor.Given():
		return c.said("any dealer: ask for %s", p.Buy.AskFor.Value)
	}
	return c.said("any dealer")
}

// holes lists a part's holes with the joints that use them.
func (c *composer) holes(p *plan.Part) page.Table {
	t := page.Table{ID: "hole-list", Columns: []page.Column{
		{Head: c.said("Hole")}, {Head: c.said("Count"), Align: page.Right}, {Head: c.said("What")}, {Head: c.said("Face")}, {Head: c.said("For"), Wide: true},
	}}
	r := c.all[0].Reckoning
	for _, h := range p.Holes {
		n, _ := r.PatternCount(h)
		face := h.Face.Text
		if face == "" {
			face = "top"
		}
		t.Rows = append(t.Rows, page.Row{Cells: cells(
			page.Words(strings.ReplaceAll(h.ID.Text, "_", " ")), number(n), c.holeWords(h), c.faceWords(face), c.holeUses(p, h),
		)})
	}
	return t
}

func (c *composer) holeWords(h *plan.Hole) []page.Inline {
	var words []page.Inline
	switch h.Kind.Text {
	case plan.Bore, plan.Forms:
		words = append(page.Words("⌀ "), c.quantityWords(h.Diameter)...)
		if h.Kind.Text == plan.Forms {
			words = c.told("%s, a screw %s cuts its thread", words, page.Words(h.Thread.Text))
		}
	case plan.Tap:
		words = c.said("tapped %s", h.Thread.Text)
		if t, ok := standards.ThreadByName(h.Thread.Text); ok {
			words = c.told("%s, drill %s", words, page.Words(t.TapDrillText))
		}
	case plan.For:
		if mm, ok := c.all[0].Reckoning.ClearanceOf(h); ok {
			words = c.told("⌀ %s for %s", c.measured(quantity.MM(mm)), page.Words(h.Thread.Text))
		}
	case plan.Insert:
		words = c.said("seat for an insert %s", h.Thread.Text)
	case plan.SlotHole:
		words = c.told("slot %s by %s", c.quantityWords(h.Long), c.quantityWords(h.Wide))
	}
	if h.Depth.Given() {
		words = c.told("%s, %s deep", words, c.quantityWords(h.Depth))
	} else {
		words = c.told("%s, through|a hole", words)
	}
	if b := h.Counterbore; b != nil {
		words = c.told("%s; counterbore ⌀ %s × %s", words, c.quantityWords(b.D), c.quantityWords(b.Depth))
	}
	if b := h.Countersink; b != nil {
		words = c.told("%s; countersunk to ⌀ %s", words, c.quantityWords(b.D))
	}
	return words
}

func (c *composer) partFiles(p *plan.Part) page.List {
	var list page.List
	for _, f := range p.Files {
		words := []page.Inline{page.Link{To: page.Target{File: f.File.Text}, Words: page.Words(c.fileTitle(f.File.Text))}}
		if f.Use.Given() {
			words = c.told("%s, %s|a file and its use", words, c.said(useWords(f.Use.Text)))
		}
		if f.Shows.Given() {
			words = c.told("%s, shows revision %s", words, page.Words(f.Shows.Text))
		}
		list.Items = append(list.Items, page.Item{Blocks: []page.Block{page.Paragraph{Words: words}}})
	}
	for _, f := range c.Pictures.Files[p.ID.Text] {
		words := c.told("%s, %s|a file and its use", fileLink(f), c.aboutFile(f))
		list.Items = append(list.Items, page.Item{Only: f.Only, Blocks: []page.Block{page.Paragraph{Words: words}}})
	}
	return list
}

// useWords says what a file is for.
func useWords(use string) wording.Phrase {
	switch use {
	case "print":
		return "to print"
	case "cut":
		return "to cut"
	case "cad":
		return "to open in a CAD program"
	case "photo":
		return "to look at"
	case "data":
		return "to be read by a program"
	}
	return wording.Phrase("to " + use)
}

// faceTitles are the faces of a part.
var faceTitles = map[string]wording.Phrase{
	"left": "left", "right": "right", "front": "front", "back": "back", "top": "top", "bottom": "bottom", "start": "start", "end": "end",
}

func (c *composer) faceWords(face string) []page.Inline {
	if p, known := faceTitles[face]; known {
		return c.said(p)
	}
	return page.Words(face)
}
