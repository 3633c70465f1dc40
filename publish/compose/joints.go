package compose

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"plansheaf/design/check"
	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
	"plansheaf/design/standards"
	"plansheaf/publish/page"
	"plansheaf/publish/wording"
)

// joints are the overview and for each assembly a page of what holds it together: what
// each screw goes through, why it is so long and so tight, and how its fits come out.
func (c *composer) joints() []*page.Page {
	t := page.Table{ID: "joints", Columns: []page.Column{{Head: c.said("Assembly")}, {Head: c.said("Joints"), Align: page.Right}, {Head: c.said("Places|of joints"), Align: page.Right}}}
	overview := &page.Page{ID: "joints", Title: c.say("Joints"), Kind: page.Joints, Summary: c.say("What each screw goes through, why it is so long and so tight, and how the fits come out.")}
	pages := []*page.Page{overview}
	for _, a := range c.order {
		only, exists := c.only(func(s *check.Situation) bool { return takes(s, a) })
		if !exists || len(a.Joints) == 0 {
			continue
		}
		count := func(places bool) []page.Inline {
			return c.under(only).vary(func(s *check.Situation) []page.Inline {
				n := 0
				for _, j := range a.Joints {
					switch {
					case !j.Only.Fits(s.Case.Options):
					case places:
						n += s.Reckoning.JointPlaces(a, j)
					default:
						n++
					}
				}
				return number(n)
			})
		}
		pg := c.jointsOf(a, only)
		t.Rows = append(t.Rows, page.Row{Only: only, Cells: cells(
			[]page.Inline{page.Link{To: page.Target{Page: pg.ID}, Words: page.Words(a.Title.Value)}}, count(false), count(true),
		)})
		pages = append(pages, pg)
	}
	if len(t.Rows) == 0 {
		return nil
	}
	overview.Blocks = []page.Block{
		c.paragraph("Everything here is measured on the placed parts, at each place of a joint. A screw serves when it fills as much thread as the material asks for, shows two turns behind a nut, and stands on nothing."),
	}
	if basis := c.basis(); basis != "" {
		overview.Blocks = append(overview.Blocks, page.Paragraph{Words: c.said("Torques and forces: %s.", basis)})
	}
	overview.Blocks = append(overview.Blocks, t)
	return pages
}

// bases are what package joint says that torques assume.
var bases = []wording.Phrase{"VDI 2230, simple form: friction 0.10 to 0.16 in thread and under head, at most 90 % of the screw's yield strength, at most half of what strips an internal thread"}

// basis is what the torques of the document's joints assume; empty where it has none.
func (c *composer) basis() string {
	for _, s := range c.all {
		for _, held := range s.Reckoning.Tally().Joints {
			if t := joint.Tighten(s.Reckoning, held.Assembly, held.Joint); t.Assumes != "" {
				return c.phrased(t.Assumes, bases)
			}
		}
	}
	return ""
}

// jointsInTable is how many joints one table holds: a long page can be parted between
// tables.
const jointsInTable = 12

func (c *composer) jointsOf(a *plan.Assembly, only page.Only) *page.Page {
	c = c.within(nil).under(only)
	pg := &page.Page{ID: "joints/" + a.ID.Text, Title: c.say("Joints: %s|of an assembly", a.Title.Value), Kind: page.Joints, Parent: "joints", Only: only}
	pg.Blocks = []page.Block{page.Paragraph{Words: c.told("Where they are made: %s.", []page.Inline{c.linkTo(assemblyTarget(a), a.Title.Value)})}}
	var screwed, held, others []page.Row
	for _, j := range a.Joints {
		if holding(j) {
			held = append(held, c.jointRows(a, j, len(c.holdColumns()), c.holdCells)...)
		} else if slices.ContainsFunc(c.among(j.Only.Fits).all, func(s *check.Situation) bool { return joint.Screw(s.Reckoning, j) != nil }) {
			screwed = append(screwed, c.jointRows(a, j, screwCells, c.placeRows)...)
		} else {
			others = append(others, c.among(j.Only.Fits).fitRows(a, j)...)
		}
	}
	pg.Blocks = append(pg.Blocks, tables(page.Table{Columns: []page.Column{
		{Head: c.said("Places|of joints")}, {Head: c.said("From the head on"), Wide: true}, {Head: c.said("Clamped"), Align: page.Right},
		{Head: c.said("Thread filled"), Wide: true}, {Head: c.said("Lengths that serve"), Wide: true},
	}}, screwed)...)
	pg.Blocks = append(pg.Blocks, tables(page.Table{Columns: c.holdColumns()}, held)...)
	pg.Blocks = append(pg.Blocks, tables(page.Table{Columns: []page.Column{
		{Head: c.said("Joint")}, {Head: c.said("How it holds")}, {Head: c.said("Shaft and hole"), Wide: true}, {Head: c.said("Play"), Wide: true},
	}}, others)...)
	return pg
}

// tables are rows as tables like one, parted where a joint begins.
func tables(like page.Table, rows []page.Row) (out []page.Block) {
	t, joints := like, 0
	for _, row := range rows {
		if row.ID != "" {
			if joints == jointsInTable {
				out = append(out, t)
				t, joints = like, 0
			}
			joints++
		}
		t.Rows = append(t.Rows, row)
	}
	if len(t.Rows) > 0 {
		out = append(out, t)
	}
	return out
}

// screwCells is how many cells a place of a joint with a screw has.
const screwCells = 5

// jointRows are a joint's head and a row of so many cells for each group of places that
// come out alike.
func (c *composer) jointRows(a *plan.Assembly, j *plan.Joint, wide int, cellsOf func(*check.Situation, *plan.Assembly, *plan.Joint) [][]page.Cell) []page.Row {
	c = c.among(j.Only.Fits)
	of := make(map[*check.Situation][][]page.Cell, len(c.all))
	most := 0
	for _, s := range c.all {
		of[s] = cellsOf(s, a, j)
		most = max(most, len(of[s]))
	}
	rows := []page.Row{{ID: j.ID.Text, Section: true, Only: onlyOf(j.Only), Cells: cells(c.vary(func(s *check.Situation) []page.Inline { return c.jointHead(s, a, j) }))}}
	for n := range most {
		only, _ := c.only(func(s *check.Situation) bool { return n < len(of[s]) })
		some := c.under(only)
		row := page.Row{Only: append(onlyOf(j.Only), only...)}
		for i := range wide {
			row.Cells = append(row.Cells, page.Cell{Words: some.vary(func(s *check.Situation) []page.Inline {
				if n < len(of[s]) {
					return of[s][n][i].Words
				}
				return nil
			})})
		}
		rows = append(rows, row)
	}
	return rows
}

// jointHead says what a joint is, how tight it is made and what that follows from.
func (c *composer) jointHead(s *check.Situation, a *plan.Assembly, j *plan.Joint) []page.Inline {
	words := page.Words(strings.ReplaceAll(j.ID.Text, "_", " ") + ": ")
	if joint.Screw(s.Reckoning, j) == nil {
		return append(words, c.said(kindsOfJoint[j.Kind.Text])...)
	}
	words = append(words, page.Text(fmt.Sprintf("%d × ", s.Reckoning.JointPlaces(a, j))))
	words = append(words, c.screwWords(s, j)...)
	t := joint.Tighten(s.Reckoning, a, j)
	if tight := c.tightness(t); len(tight) > 0 {
		words = append(append(words, page.Text(", ")), tight...)
	}
	if t.Limit != "" && !t.Hand {
		if t.Known && t.Limit == "the plan" {
			words = append(words, c.said("; the plan gives it|a torque")...)
		} else if t.Known {
			words = append(words, c.told("; it is limited by %s|a torque", page.Words(c.phrased(t.Limit, limits)))...)
		} else {
			words = append(words, c.told("; no table says what this bears: %s", page.Words(c.phrased(t.Limit, limits)))...)
		}
	}
	if t.Least > 0 {
		words = append(words, c.told("; it clamps with %s to %s|a force", c.measured(force(t.Least)), c.measured(force(t.Most)))...)
	}
	return words
}

// force is newtons rounded to two figures: friction decides on the rest.
func force(n float64) quantity.Value {
	return quantity.Value{SI: quantity.Figures(n, 2), Dim: quantity.Force, Unit: "kN"}
}

// limits are the forms in which package joint says what limits a torque.
var limits = []wording.Phrase{
	"the screw, class %s", "the set screw's key", "the thread in %s", "the insert in %s", "the lips of the slot",
	"the pressure under the head on %s", "the pressure under the nut on %s", "a part whose material the plan does not say",
}

// rules are the forms in which package joint says why so much thread is to be filled.
var rules = []wording.Phrase{"the whole nut", "%s in %s|diameters in a material", "%s, its material not being known", "%s, a set screw presses and is not pulled"}

// materials are what the rule about a thread's least length calls the part that it is in.
var materials = []wording.Phrase{
	"steel", "aluminium", "cast iron", "brass, bronze and copper", "plastics", "wood", "rubber",
	"a metal as stiff as steel", "a metal as stiff as aluminium", "a material as stiff as plastics",
}

// phrased is a text that another package says in English in one of some forms, in the
// document's language; as it stands where it has none of them.
func (c *composer) phrased(text string, forms []wording.Phrase) string {
	for _, form := range forms {
		plain, _, _ := strings.Cut(string(form), "|")
		pieces := strings.Split(plain, "%s")
		rest, ok := strings.CutPrefix(text, pieces[0])
		if !ok {
			continue
		}
		var values []any
		for _, piece := range pieces[1:] {
			at := strings.Index(rest, piece)
			if piece == "" {
				at = len(rest)
			}
			if at < 0 {
				ok = false
				break
			}
			value := rest[:at]
			if slices.Contains(materials, wording.Phrase(value)) {
				value = c.say(wording.Phrase(value))
			}
			values = append(values, value)
			rest = rest[at+len(piece):]
		}
		if ok && rest == "" {
			return c.say(form, values...)
		}
	}
	return text
}

// placeRows are the cells of a joint's places, those alike in one row.
func (c *composer) placeRows(s *check.Situation, a *plan.Assembly, j *plan.Joint) [][]page.Cell {
	stacks := s.Stacks(a, j)
	serving := joint.Serving(stacks)
	return c.alike(len(stacks), func(i int) (*layout.Crossing, []page.Cell) {
		p := &stacks[i]
		return &p.Crossings[0], cells(nil, c.layerWords(s, p), c.clampedWords(p), c.threadWords(p), c.lengthWords(p, serving))
	})
}

// alike are the cells of a joint's places, of which one gives the first layer and the
// cells behind the first: those alike in one row, the first cell of which names them.
func (c *composer) alike(places int, one func(i int) (*layout.Crossing, []page.Cell)) [][]page.Cell {
	var rows [][]page.Cell
	var at [][]string
	known := map[string]int{}
	for i := range places {
		first, row := one(i)
		key := fmt.Sprintf("%#v", row)
		n, seen := known[key]
		if !seen {
			n = len(rows)
			known[key] = n
			rows, at = append(rows, row), append(at, nil)
		}
		at[n] = append(at[n], first.Spot.Path+"."+first.Spot.Feature)
	}
	for n := range rows {
		rows[n][0].Words = c.placesWords(at[n], places)
	}
	return rows
}

// mostPlaces bounds how many places a row names.
const mostPlaces = 4

func (c *composer) placesWords(names []string, all int) []page.Inline {
	switch {
	case all == 1:
		return []page.Inline{page.Verbatim(names[0])}
	case len(names) == all:
		return c.said("all %d", all)
	}
	words := c.said("%d of %d", len(names), all)
	for i, name := range names {
		if i == mostPlaces {
			return append(words, page.Text(" …"))
		}
		words = append(words, page.Text(" "), page.Verbatim(name))
	}
	return words
}

// length is millimetres in hundredths.
func (c *composer) length(mm float64) []page.Inline {
	return c.measured(quantity.MM(math.Round(mm*100)/100 + 0))
}

// layerWords list what a screw goes through, with how thick it is and gaps between.
func (c *composer) layerWords(s *check.Situation, p *joint.Stack) []page.Inline {
	var items [][]page.Inline
	add := func(what []page.Inline, mm float64) {
		if mm > 0.005 {
			items = append(items, append(append(what[:len(what):len(what)], page.Text(" ")), c.length(mm)...))
		}
	}
	hardware := func(list []*reckon.Part) {
		for _, part := range list {
			add([]page.Inline{c.partLink(part.Part)}, s.Layout.Thickness(part))
		}
	}
	hardware(p.UnderHead)
	for i := range p.Crossings {
		cross := &p.Crossings[i]
		what := []page.Inline{c.partLink(cross.Part.Part)}
		switch {
		case cross.Feature.Kind == solid.SlotFeature:
			what = c.told("lip of %s|a slot's", what)
		case i == len(p.Crossings)-1 && p.Nut == nil && p.Catch != joint.Nothing:
			what = c.told("thread in %s|a part", what)
		}
		if i == len(p.Crossings)-1 && p.Nut == nil {
			add(what, p.To-p.From)
		} else {
			add(what, cross.Leave-max(cross.Enter, p.Head))
		}
		if i < len(p.Gaps) {
			add(c.said("gap|between layers"), p.Gaps[i])
		}
	}
	hardware(p.UnderNut)
	if p.Nut != nil {
		add([]page.Inline{c.partLink(p.Nut.Part)}, p.To-p.From)
	}
	return joined(items)
}

func (c *composer) clampedWords(p *joint.Stack) []page.Inline {
	if p.Headless() {
		return page.Words("–")
	}
	return c.length(p.Clamped())
}

// threadWords say how much thread the screw fills, how much it must, and why.
func (c *composer) threadWords(p *joint.Stack) []page.Inline {
	if p.Catch == joint.Nothing {
		return page.Words("–")
	}
	words := c.told("%s, needs %s|thread filled", c.length(p.Filled()), c.length(math.Min(p.Needs, p.To-p.From)))
	if p.Rule != "" {
		words = append(words, page.Text(" ("+c.phrased(p.Rule, rules)+")"))
	}
	return words
}

// lengthWords say which lengths of screw serve at a place, and which of those that are
// sold serve at all places.
func (c *composer) lengthWords(p *joint.Stack, serving []standards.Fastener) []page.Inline {
	if p.Catch == joint.Nothing {
		return page.Words("–")
	}
	least, most := p.Least(), p.Most()
	words := c.told("none: at least %s are needed, at most %s go in|lengths", c.length(least), c.length(most))
	if least <= most {
		words = c.told("%s to %s|lengths", c.length(least), c.length(most))
	}
	var sold []string
	for _, f := range serving {
		sold = append(sold, f.LengthText)
	}
	if len(sold) > 0 {
		words = append(words, c.told("; sold: %s, best %s|lengths of screws", page.Words(strings.Join(sold, ", ")), page.Words(sold[0]))...)
	}
	return words
}
