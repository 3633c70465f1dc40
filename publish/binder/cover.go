package binder

import (
	"strings"

	"plansheaf/publish/page"
	"plansheaf/publish/picture"
	"plansheaf/publish/wording"
)

// coverAnchor and contentsAnchor are places that no page's id can name.
const (
	coverAnchor    = ":cover"
	contentsAnchor = ":contents"
)

// cover composes the first leaf: title, summary, the machine pictured, and a
// title block with revision, date, choices, authors and licence.
func (c *composer) cover() leaf {
	c.page, c.near = "cover", ""
	width, room := c.paper.textWidth(), c.paper.room()
	col := column{0, width, 30, 0}
	var atoms []atom
	add := func(text string, st style, before, share float64) {
		if strings.TrimSpace(text) == "" {
			return
		}
		w := &writer{composer: c}
		w.text(text, st, destination{})
		col.size = st.size
		set := c.shortened(c.set(w.out, col), room*share)
		if len(set) > 0 {
			set[0].before = before
			atoms = append(atoms, set...)
		}
	}
	atoms = append(atoms, atom{height: 9, marks: []mark{boxMark{rect: rect{0, 0, 34, 2.2}, fill: &accentInk}}})
	if c.doc.Draft {
		add(c.say("%s – not released: findings of error severity stand", draftWord), style{bold, 11, accentInk}, 0, 0.1)
	}
	size := 30.0
	for size > 16 && c.fonts.width(line(c.doc.Title), bold, size) > width*1.8 {
		size -= 2
	}
	add(c.doc.Title, style{bold, size, ink}, 1, 0.22)
	col.width = measure
	add(c.doc.Summary, style{regular, 12, faintInk}, 4, 0.16)
	col.width = width
	head := stacked(atoms)
	block := c.coverBlock(column{0, width, bodySize, 0}, room-head.height-8)
	marks := append([]mark{anchorMark{0, coverAnchor}}, head.marks...)
	blockTop := room - block.height
	for _, m := range block.marks {
		marks = append(marks, m.moved(0, blockTop))
	}
	if p := c.frontPicture(); p != nil {
		if free := blockTop - head.height - 20; free > 30 && c.usable(p) {
			// A cover may show the machine larger than elsewhere.
			scale := min(1.5, width/p.Width, free/p.Height)
			c.onCover = p
			marks = append(marks, pictureMark{(width - p.Width*scale) / 2,
				head.height + (blockTop-head.height-p.Height*scale)/2, scale, p, false})
		}
	}
	return leaf{marks: marks, bare: true}
}

// frontPicture is the first picture of the front page.
func (c *composer) frontPicture() *picture.Picture {
	for _, p := range c.order {
		if p.Kind != page.Front {
			continue
		}
		for _, b := range p.Blocks {
			if f, ok := b.(page.Figure); ok && f.Picture != nil && f.Only.Fits(c.choices) {
				return f.Picture
			}
		}
	}
	return nil
}

// coverBlock is the cover's title block, at most height millimetres high.
func (c *composer) coverBlock(col column, height float64) atom {
	facts := c.coverFields()
	block := stacked(c.facts(facts, col))
	for block.height > height && len(facts) > 1 {
		c.problem(Problem{Kind: Shortened, Text: "the cover has no room for all choices and authors"})
		facts = facts[:len(facts)*3/4]
		block = stacked(c.facts(facts, col))
	}
	return block
}

// systems are the systems of units.
var systems = map[string]wording.Phrase{"metric": "Metric", "inch": "Inch"}

// coverFields are the fields of the cover's title block.
func (c *composer) coverFields() []page.Fact {
	var facts []page.Fact
	add := func(label, text string) {
		if text = line(text); text != "" {
			facts = append(facts, page.Fact{Label: label, Words: page.Words(text)})
		}
	}
	add(c.say("Machine"), c.doc.Machine)
	add(c.say("Revision"), c.doc.Revision)
	add(c.say("Date"), c.doc.Date)
	add(c.say("Units"), c.say(systems[c.doc.System]))
	for _, choice := range c.doc.Choices {
		add(c.say("Built with: %s", line(choice.Title)), c.option(choice.ID))
	}
	names := make([]string, 0, len(c.doc.Authors))
	for _, a := range c.doc.Authors {
		names = append(names, line(a))
	}
	label := c.say("Author")
	if len(names) > 1 {
		label = c.say("Authors")
	}
	add(label, strings.Join(names, ", "))
	add(c.say("Licence"), c.doc.License)
	for i, f := range facts {
		if text := plain(f.Words, nil); len([]rune(text)) > 300 {
			c.problem(Problem{Kind: Shortened, Text: "the cover has no room for all of " + excerpt(text)})
			facts[i].Words = page.Words(string([]rune(text)[:300]) + "…")
		}
	}
	return facts
}

// contents composes the list of pages with their numbers, dots leading to them.
func (c *composer) contents(entries []entry) []leaf {
	c.page, c.near = "contents", ""
	width := c.paper.textWidth()
	drawn := false
	for _, e := range entries {
		drawn = drawn || len(e.drawings) > 0
	}
	col := column{0, width, titleSize, 0}
	head := c.set([]run{{words: c.say("Contents"), style: style{bold, titleSize, ink}}}, col)
	shift(&head[0], 3.2)
	head[0].marks = append(head[0].marks, anchorMark{0, contentsAnchor}, ruleMark{0, 0, 26, 0, 1.1, accentInk, false})
	head[0].stay, head[0].after = glued, 4
	head[0].start = &start{c.say("Contents")}
	atoms := head
	if drawn {
		small := style{regular, labelSize, faintInk}
		number, drawing := c.say("Page"), c.say("Drawing")
		labels := atom{height: 3, after: 0.5, stay: glued, marks: []mark{
			textMark{width - c.fonts.width(number, regular, labelSize), 2, number, small},
			textMark{width - drawingColumn - c.fonts.width(drawing, regular, labelSize), 2, drawing, small},
		}}
		atoms = append(atoms, labels)
	}
	for _, e := range entries {
		atoms = append(atoms, c.contentsLine(e, width, drawn)...)
	}
	return paginate(atoms, c.paper.room())
}

// drawingColumn is how far left of the page numbers those of drawings end.
const drawingColumn = 16.0

// contentsLine composes one entry.
func (c *composer) contentsLine(e entry, width float64, drawn bool) []atom {
	st := style{regular, 9.2, ink}
	indent := 5.5 * float64(min(e.depth, 4))
	if e.depth == 0 {
		st.face = bold
	}
	numbers := 13.0
	if drawn {
		numbers += drawingColumn
	}
	w := &writer{composer: c}
	w.text(e.title, st, destination{anchor: e.anchor})
	col := column{indent, width - indent - numbers, st.size, 0}
	lines := c.setLines(w.out, col.width)
	set := c.shortened(c.set(w.out, col), c.paper.room()/3)
	if len(set) == 0 {
		set, lines = []atom{{height: lineHeight(st.size)}}, []textLine{{}}
	}
	holding(set, glued)
	set[0].before = 0.3
	if e.depth == 0 {
		set[0].before = 2.2
	}
	end := &set[len(set)-1]
	y := baselineOf(st.size)
	number := c.fonts.width(c.digits, st.face, st.size)
	to := width - number - 2
	end.marks = append(end.marks, pageMark{x: width, y: y, width: number, anchor: e.anchor, style: st},
		linkMark{rect: rect{width - numbers, 0, numbers, end.height}, destination: destination{anchor: e.anchor}})
	if len(e.drawings) > 0 {
		small := st
		small.face = regular
		x := width - drawingColumn
		end.marks = append(end.marks, pageMark{x: x, y: y, width: number, anchor: e.drawings[0], style: small},
			linkMark{rect: rect{x - number, 0, number, end.height}, destination: destination{anchor: e.drawings[0]}})
		end.marks = append(end.marks, leader(x+1.5, to, y)...)
		to = x - number - 2
	}
	end.marks = append(end.marks, leader(indent+lines[len(set)-1].width+1.5, to, y)...)
	return set
}

// leader is a row of dots on baseline y; the dots of all lines stand below each
// other.
func leader(from, to, y float64) []mark {
	const step = 1.9
	first := float64(int(from/step)+1) * step
	if to-first < 2*step {
		return nil
	}
	return []mark{ruleMark{first, y - 0.25, to, y - 0.25, 0.28, faintInk, true}}
}
