package compose

import (
	"plansheaf/design/plan"
	"plansheaf/publish/page"
	"plansheaf/publish/wording"
)

// signs are the ISO 7010 warning signs for the kinds of hazard; the general sign
// stands for the others.
var signs = map[string]string{
	"crushing": "W024", "drawing_in": "W025", "electric": "W012", "burn": "W017",
	"falling": "W015", "cutting": "W022", "radiation": "W004", "entanglement": "W025",
}

func signFor(kind string) string {
	if s, known := signs[kind]; known {
		return s
	}
	return "W001"
}

// kindWords are the kinds of hazard in words.
var kindWords = map[string]wording.Phrase{
	"crushing": "Crushing", "drawing_in": "Drawing in", "entanglement": "Entanglement", "falling": "Falling load or fall",
	"cutting": "Cutting|a hazard", "electric": "Electric shock", "burn": "Burn", "stored_energy": "Stored energy",
	"radiation": "Radiation", "dust": "Dust", "noise": "Noise", "fumes": "Fumes",
}

func (c *composer) kindTitle(kind string) string {
	if w, known := kindWords[kind]; known {
		return c.say(w)
	}
	return capital(kind)
}

// safety is the page that stands first after the front: what the plan assumes,
// what comes before it, and every warning.
func (c *composer) safety() *page.Page {
	pg := &page.Page{ID: "safety", Title: c.say("Safety"), Kind: page.Safety, Summary: c.say("What can hurt, what guards against it, and what this plan cannot promise.")}
	pg.Blocks = append(pg.Blocks, page.CautionBox{
		Signal: page.Warning, Sign: "W001", Title: c.said("Read this before you build or switch on"),
		Blocks: []page.Block{page.List{Items: []page.Item{
			c.item("Local codes, laws and licensed trades come first: mains wiring, pressure, lifting and laser work belong to those who are licensed for it where you live."),
			c.item("The numbers in this plan are its designer's. They are no certification, and nobody but you has inspected the machine that you build."),
			c.item("The plan assumes an adult who uses hand tools, a drill and a saw safely, wears eye protection when cutting and drilling, and works rested and sober."),
			c.item("Build all guards and stops before the first run, and never run the machine without them."),
		}}},
	})
	for _, h := range c.plan.Hazards {
		pg.Blocks = append(pg.Blocks, c.hazardBox(h))
	}
	pg.Blocks = append(pg.Blocks, page.Paragraph{Words: c.told("How each hazard was judged, before and after its measures, stands in the %s.", c.to("hazards", "hazard register"))})
	return pg
}

// hazardBox is the caution for one hazard: what can happen and what to do.
func (c *composer) hazardBox(h *plan.Hazard) page.CautionBox {
	title := c.kindTitle(h.Kind.Text)
	if h.Title.Given() {
		title = h.Title.Value
	}
	box := page.CautionBox{Signal: signalOf(h.Before), Sign: signFor(h.Kind.Text), Title: page.Words(title), Only: onlyOf(h.Only)}
	box.Blocks = repeatable(c.text(h.Harm))
	var items []page.Item
	for _, m := range h.Measures {
		items = append(items, page.Item{Blocks: []page.Block{page.Paragraph{Words: c.protection(m)}}})
	}
	if len(items) > 0 {
		box.Blocks = append(box.Blocks, page.List{Items: items})
	}
	return box
}

// protectionWords are the kinds of protection in words.
var protectionWords = map[string]wording.Phrase{
	plan.Guard: "Guard", plan.Stop: "Stop", plan.Bond: "Earth bond", plan.Fuse: "Fuse", plan.CutOut: "Cut-out", plan.Warn: "Warning",
}

func (c *composer) protection(m plan.Protection) []page.Inline {
	if m.Say.Given() {
		return c.inline(m.Say)
	}
	return c.told("%s: %s|a measure and its part", c.said(protectionWords[m.Kind.Text]), c.reference(m.Ref))
}

// repeatable is blocks without anchors and tick boxes, which would be there twice: a
// caution stands wherever it is called for.
func repeatable(blocks []page.Block) []page.Block {
	for i, b := range blocks {
		switch b := b.(type) {
		case page.Heading:
			blocks[i] = page.Paragraph{Words: []page.Inline{page.Strong{Words: b.Words}}}
		case page.List:
			for j := range b.Items {
				b.Items[j].Tick = ""
				b.Items[j].Blocks = repeatable(b.Items[j].Blocks)
			}
		case page.Quote:
			repeatable(b.Blocks)
		}
	}
	return blocks
}

// hazards is the register: each hazard with severity and chance before and after.
func (c *composer) hazards() *page.Page {
	t := page.Table{ID: "register", Columns: []page.Column{
		{Head: c.said("Hazard")}, {Head: c.said("Where"), Wide: true}, {Head: c.said("Before|measures")}, {Head: c.said("Measures"), Wide: true}, {Head: c.said("After|measures")},
	}}
	for _, h := range c.plan.Hazards {
		var where [][]page.Inline
		var measures []page.Inline
		for _, w := range h.Where {
			where = append(where, c.reference(w))
		}
		for i, m := range h.Measures {
			if i > 0 {
				measures = append(measures, page.Newline{})
			}
			measures = append(measures, c.protection(m)...)
		}
		name := append(page.Words(c.kindTitle(h.Kind.Text)+": "), c.inline(h.Harm)...)
		t.Rows = append(t.Rows, page.Row{
			ID: h.ID.Text, Only: onlyOf(h.Only),
			Cells: cells(name, joined(where), page.Words(c.riskWords(h.Before)), measures, page.Words(c.riskWords(h.After))),
		})
	}
	return &page.Page{
		ID: "hazards", Title: c.say("Hazard register"), Kind: page.Hazards,
		Summary: c.say("Every hazard, its measures, and how it was judged before and after them."),
		Blocks: []page.Block{
			c.paragraph("Measures follow the steps of ISO 12100: first the hazard is designed away, then guarded, and only what is left is warned of. Severity is slight, serious or severe; chance is remote, possible or likely."),
			t,
		},
	}
}

// degrees are the words that hazards are judged with.
var degrees = map[string]wording.Phrase{
	"slight": "slight", "serious": "serious", "severe": "severe", "remote": "remote", "possible": "possible", "likely": "likely",
}

func (c *composer) riskWords(r plan.Risk) string {
	if !r.Severity.Given() && !r.Chance.Given() {
		return c.say("not judged")
	}
	return c.say(degrees[r.Severity.Text]) + ", " + c.say(degrees[r.Chance.Text])
}
