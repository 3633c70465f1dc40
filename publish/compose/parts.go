package compose

import (
	"slices"
	"strings"

	"plansheaf/design/bill"
	"plansheaf/design/check"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
	"plansheaf/design/standards"
	"plansheaf/publish/page"
	"plansheaf/publish/wording"
)

// drawings is the index of drawing sheets.
func (c *composer) drawings() *page.Page {
	var cards page.Cards
	for _, p := range c.plan.Parts {
		sheets := c.Pictures.Sheets[p.ID.Text]
		if len(sheets) == 0 {
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
	sale := bill.SaleOf(c.plan, p.ID.Text, p.Buy)
	if sale == nil {
		if p.Buy != nil && p.Buy.AskFor.Given() {
			return c.said("any dealer: ask for %s", p.Buy.AskFor.Value)
		}
		return c.said("any dealer")
	}
	words := c.say("any dealer")
	if s := c.plan.Supplier(sale.Supplier); s != nil {
		words = s.Title.Value
	}
	if sale.Code.Given() {
		words = c.say("%s, code %s", words, sale.Code.Value)
	}
	return page.Words(words)
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

// holeUses names the joints that use a hole, or says what it is for.
func (c *composer) holeUses(p *plan.Part, h *plan.Hole) []page.Inline {
	var items [][]page.Inline
	seen := map[string]bool{}
	for _, s := range c.all {
		for _, a := range c.order {
			for _, j := range a.Joints {
				id := a.ID.Text + "." + j.ID.Text
				if !seen[id] && c.jointUses(s, a, j, p, h) {
					seen[id] = true
					items = append(items, []page.Inline{c.linkTo(assemblyTarget(a), a.Title.Value+", "+strings.ReplaceAll(j.ID.Text, "_", " "))})
				}
			}
		}
	}
	words := joined(items)
	if h.Note.Given() {
		if len(words) > 0 {
			words = append(words, page.Text("; "))
		}
		words = append(words, c.inline(h.Note)...)
	}
	return words
}

func (c *composer) jointUses(s *check.Situation, a *plan.Assembly, j *plan.Joint, p *plan.Part, h *plan.Hole) bool {
	return j.Only.Fits(s.Case.Options) && joins(s, a, layersOf(j), func(spot reckon.Spot) bool { return spot.Part == p && spot.Hole == h })
}

// layersOf is everything that a joint holds together, with the places written out.
func layersOf(j *plan.Joint) []plan.Layer {
	layers := append([]plan.Layer{j.Mine, j.Theirs}, j.Through...)
	for _, place := range j.Also {
		layers = append(layers, plan.Layer{Features: place})
	}
	return layers
}

// joins reports whether layers of a joint hold a spot of the kind asked for.
func joins(s *check.Situation, a *plan.Assembly, layers []plan.Layer, is func(reckon.Spot) bool) bool {
	for _, layer := range layers {
		for _, w := range layer.Features {
			if slices.ContainsFunc(s.Reckoning.Spots(a, w), is) {
				return true
			}
		}
	}
	return false
}

// whereUsed links the steps that a part has to do with.
func (c *composer) whereUsed(p *plan.Part) page.List {
	var list page.List
	for _, a := range c.order {
		for _, st := range a.Steps {
			only, exists := c.only(func(s *check.Situation) bool { return c.handles(s, a, st, p) })
			if !exists {
				continue
			}
			list.Items = append(list.Items, page.Item{Only: only, Blocks: []page.Block{page.Paragraph{Words: []page.Inline{
				c.linkTo(stepTarget(a, st.ID.Text), a.Title.Value+": "+st.Title.Value),
			}}}})
		}
	}
	return list
}

// handles reports whether a step adds a part, fastens with it, uses it up, or makes,
// starts, prepares or tightens a joint that the part is in.
func (c *composer) handles(s *check.Situation, a *plan.Assembly, st *plan.Step, p *plan.Part) bool {
	if !st.Only.Fits(s.Case.Options) || !takes(s, a) {
		return false
	}
	uses, fasteners := taken(s, a, st)
	for _, b := range append(uses, fasteners...) {
		if b.part == p.ID.Text {
			return true
		}
	}
	for _, u := range st.Uses {
		if u.Part.Text == p.ID.Text {
			return true
		}
	}
	own := func(spot reckon.Spot) bool { return spot.Part == p }
	for _, list := range [][]plan.Word{st.Fastens, st.Loose, st.Tightens} {
		for _, w := range list {
			in, j := c.jointOf(s, a, w)
			if j == nil {
				continue
			}
			glue, _ := j.With.Pick(s.Case.Options)
			if glue.Text == p.ID.Text || slices.Contains(s.Reckoning.JointParts(j), p.ID.Text) || joins(s, in, layersOf(j), own) {
				return true
			}
		}
	}
	// What is put in for a later joint are its nuts, and they go into its last layer.
	for _, w := range st.SlidesIn {
		in, j := c.jointOf(s, a, w)
		if j == nil {
			continue
		}
		nut, _ := j.Into.Pick(s.Case.Options)
		if nut.Text == p.ID.Text || joins(s, in, j.Through[max(0, len(j.Through)-1):], own) {
			return true
		}
	}
	return false
}

// jointOf is the joint that a step of an assembly names, its own or another's, with
// the assembly that has it; nil for none under these choices.
func (c *composer) jointOf(s *check.Situation, a *plan.Assembly, w plan.Word) (*plan.Assembly, *plan.Joint) {
	in, id := a, w.Text
	if path := w.Path(); len(path) == 2 {
		in, id = c.plan.Assembly(path[0]), path[1]
	}
	if in == nil {
		return nil, nil
	}
	j := in.Joint(id)
	if j == nil || !j.Only.Fits(s.Case.Options) {
		return nil, nil
	}
	return in, j
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
