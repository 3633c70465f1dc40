package binder

import (
	"plansheaf/publish/page"
)

// stepPicture and leastPicture are the greatest and the least height of a step's
// picture in millimetres. It is made lower where two steps then share a leaf.
const (
	stepPicture  = 74.0
	leastPicture = 54.0
	stepGap      = 7.0
	titleRoom    = 28.0 // what a page's title may take of the leaf that its first step is on
)

// step composes a step of the work: its number and title with a box to tick,
// cautions before all else, the picture beside the bag of parts, screws, facts,
// what to do, what to measure. It is kept on one leaf; one that has no room on a
// leaf says on each further one which step goes on and what it warns of.
func (c *composer) step(s page.Step, col column) []atom {
	if s.Anchor != "" {
		c.near = s.Anchor
		c.bookmark(plain(s.Number, c.choices)+"  "+s.Title, 1, anchorName(c.page, s.Anchor))
	}
	marked := len(c.marks)
	again := func(height float64) []atom {
		c.marks = c.marks[:marked] // a step is bookmarked once, however often it is set
		atoms, _ := c.stepParts(s, col, height)
		return atoms
	}
	atoms := again(stepPicture)
	for _, room := range []float64{(c.paper.room() - stepGap) / 2, c.paper.room() - titleRoom} {
		over := size(atoms) - room
		if s.Figure == nil || over <= 0 || over >= stepPicture-leastPicture {
			continue
		}
		for height := stepPicture - 7; height >= leastPicture; height -= 7 {
			if lower := again(height); size(lower) <= room {
				atoms = lower
				break
			}
		}
		break
	}
	if size(atoms) > c.paper.room()-titleRoom {
		c.marks = c.marks[:marked]
		atoms = c.longStep(s, col)
	} else {
		holding(atoms, whole)
	}
	if len(atoms) > 1 {
		atoms[0].stay = glued
	}
	atoms[0].before = max(atoms[0].before, stepGap)
	return atoms
}

// longStep composes a step that has no room on a leaf: its title, cautions and
// picture stay together, and each further leaf begins with the title and what the
// cautions warn of.
func (c *composer) longStep(s page.Step, col column) []atom {
	head := c.stepGoesOn(s, col)
	full := c.paper
	c.paper.bottom += head.height + headGap
	atoms, opening := c.stepParts(s, col, leastPicture)
	c.paper = full
	holding(atoms[:min(opening+1, len(atoms))], whole)
	together(atoms, full.room())
	for i := range atoms {
		switch h := atoms[i].head; {
		case h == nil:
			atoms[i].head = head
		case h.outer == nil && h != head:
			h.outer = head
		}
	}
	return atoms
}

// stepGoesOn is what stands at the head of a leaf on which a step goes on.
func (c *composer) stepGoesOn(s page.Step, col column) *tableHead {
	const line = 5.6
	words := c.oneLineText(plain(s.Number, c.choices)+"  "+c.say("%s (continued)", s.Title), style{bold, bodySize, ink}, col.width)
	marks := c.lineMarks(words, col.x, baselineOf(bodySize))
	y := line
	for _, b := range s.Cautions {
		if !b.Only.Fits(c.choices) || y+line > c.paper.room()/5 {
			continue
		}
		look := lookOf(b.Signal)
		fill, word := look.fill, c.say(look.word)
		box := c.fonts.width(word, look.face, smallSize) + 2*cautionPad
		marks = append(marks, boxMark{rect: rect{col.x, y, box, line - 1}, fill: &fill},
			textMark{col.x + cautionPad, y + baselineOf(smallSize) + 0.5, word, style{look.face, smallSize, look.words}})
		title := c.oneLineText(plain(b.Title, c.choices), style{bold, tableSize, ink}, col.width-box-2)
		marks = append(marks, c.lineMarks(title, col.x+box+2, y+baselineOf(tableSize))...)
		y += line
	}
	marks = append(marks, ruleMark{col.x, y, col.x + col.width, y, 0.35, ink, false})
	return &tableHead{height: y + 1, marks: marks}
}

// stepParts composes a step with a picture of at most the given height. opening is
// the place of the first atom after title, cautions and picture.
func (c *composer) stepParts(s page.Step, col column, picture float64) (atoms []atom, opening int) {
	atoms = []atom{c.stepTitle(s, col)}
	for _, caution := range s.Cautions {
		atoms = append(atoms, c.block(caution, col)...)
	}
	shown, beside := c.pictureAndBag(s, col, picture)
	atoms = append(atoms, shown...)
	opening = len(atoms)
	if s.Screws != nil {
		atoms = append(atoms, c.block(*s.Screws, col)...)
	}
	if !beside {
		atoms = append(atoms, c.facts(s.Facts, col)...)
	}
	atoms = append(atoms, c.blocks(s.Text, col.deeper())...)
	if len(s.Measures) > 0 {
		if measures := c.list(page.List{Items: s.Measures}, col.deeper()); len(measures) > 0 {
			label := c.set([]run{{words: c.say("Measure"), style: style{bold, tableSize, accentInk}}}, column{col.x, col.width, tableSize, col.depth})
			label[0].before, label[0].stay = 2, glued
			atoms = append(append(atoms, label...), measures...)
		}
	}
	return atoms, opening
}

// deeper is the column for blocks within a block.
func (col column) deeper() column { col.depth++; return col }

// stepTitle is the strip at a step's head.
func (c *composer) stepTitle(s page.Step, col column) atom {
	const pad, doneWidth, numberSize, size = 1.8, 19.0, 11.0, 11.0
	number := &writer{composer: c}
	number.text(plain(s.Number, c.choices), style{bold, numberSize, white}, destination{})
	whole, _ := c.natural(number.out)
	box := min(max(9.0, whole+2*pad), col.width/3)
	w := &writer{composer: c}
	w.text(s.Title, style{bold, size, ink}, destination{})
	title := column{col.x + box + 2.4, col.width - box - 2.4, size, col.depth}
	if s.Tick != "" {
		title.width -= doneWidth
	}
	body := stacked(c.shortened(c.set(w.out, title), c.paper.room()/3))
	height := max(body.height, lineHeight(size)) + 2*pad - 1
	fill := ink
	marks := []mark{boxMark{rect: rect{col.x, 0, box, height}, fill: &fill}}
	if set := c.setLines(number.out, box-pad); len(set) > 0 {
		marks = append(marks, c.lineMarks(set[0], col.x+(box-set[0].width)/2, pad-0.5+baselineOf(size))...)
	}
	for _, m := range body.marks {
		marks = append(marks, m.moved(0, pad-0.5))
	}
	if s.Tick != "" {
		x, y := col.x+col.width, pad-0.5+baselineOf(size)
		done := c.oneLineText(c.say("Done"), style{regular, smallSize, faintInk}, doneWidth-6.5)
		marks = append(append(marks, tickBox(x-5, y, 13)), c.lineMarks(done, x-6.5-done.width, y)...)
	}
	marks = append(marks, ruleMark{col.x, height, col.x + col.width, height, 0.5, ink, false},
		ruleMark{col.x + box, 0, col.x + col.width, 0, 0.18, ink, false})
	if s.Anchor != "" {
		marks = append(marks, c.anchor(s.Anchor))
	}
	return atom{height: height, after: 2.6, marks: marks}
}

// pictureAndBag sets the picture beside the list of parts to lay out, if both
// have room, or one below the other. The facts go under the list where the
// picture leaves room for them; facts says whether they did.
func (c *composer) pictureAndBag(s page.Step, col column, height float64) (atoms []atom, facts bool) {
	const between, bagShare = 5.0, 0.42
	figure, bag := s.Figure, s.Bag
	if figure != nil && !figure.Only.Fits(c.choices) {
		figure = nil
	}
	if bag != nil && (!bag.Only.Fits(c.choices) || len(c.rowsFor(bag.Rows)) == 0) {
		bag = nil
	}
	switch {
	case figure == nil && bag == nil:
		return nil, false
	case figure == nil:
		return c.table(*bag, col), false
	case bag == nil:
		return spaced([]atom{c.captioned(*figure, col, height)}, 3), false
	}
	if col.width >= 130 {
		right := column{col.x + col.width*(1-bagShare), col.width * bagShare, tableSize, col.depth}
		left := column{col.x, col.width*(1-bagShare) - between, col.size, col.depth}
		parts, picture := c.table(*bag, right), c.captioned(*figure, left, height)
		if all := append(parts[:len(parts):len(parts)], c.facts(s.Facts, right)...); size(all) <= picture.height {
			parts, facts = all, true
		}
		if size(parts) <= besideMost {
			return spaced([]atom{beside(picture, stacked(parts))}, 3), facts
		}
	}
	whole := spaced([]atom{c.captioned(*figure, col, height)}, 3)
	return append(whole, c.table(*bag, col)...), false
}
