package binder

import "plansheaf/publish/page"

// Sizes of cards in millimetres.
const (
	cardPicture = 26.0
	cardPad     = 2.0
	cardGap     = 4.0
)

// cards composes links with pictures as a grid, a row of which is never cut.
func (c *composer) cards(cards page.Cards, col column) []atom {
	var fitting []page.Card
	pictures := false
	for _, card := range cards.Cards {
		if card.Only.Fits(c.choices) {
			fitting = append(fitting, card)
			pictures = pictures || card.Picture != nil
		}
	}
	across := max(1, int((col.width+cardGap)/(40+cardGap)))
	width := (col.width - cardGap*float64(across-1)) / float64(across)
	var atoms []atom
	for from := 0; from < len(fitting); from += across {
		row := atom{before: cardGap, after: cardGap}
		group := fitting[from:min(from+across, len(fitting))]
		var bodies []atom
		for i, card := range group {
			x := col.x + float64(i)*(width+cardGap)
			body := c.card(card, column{x + cardPad, width - 2*cardPad, tableSize, col.depth + 1}, pictures)
			bodies = append(bodies, body)
			row.height = max(row.height, body.height+2*cardPad)
		}
		for i, body := range bodies {
			edge := hairInk
			box := rect{col.x + float64(i)*(width+cardGap), 0, width, row.height}
			row.marks = append(row.marks, boxMark{rect: box, ink: &edge, width: 0.18})
			for _, m := range body.marks {
				row.marks = append(row.marks, m.moved(0, cardPad))
			}
			if to, _ := c.target(group[i].Target); to.anchorOrURL() {
				row.marks = append(row.marks, linkMark{box, to})
			}
		}
		atoms = append(atoms, row)
	}
	return spaced(atoms, cardGap)
}

// card composes one card's picture, title, page number and note.
func (c *composer) card(card page.Card, col column, pictures bool) atom {
	var atoms []atom
	if pictures {
		area := atom{height: cardPicture, after: 1.5}
		if card.Picture != nil {
			if s, ok := c.fitPicture(card.Picture, col.width, cardPicture); ok {
				area.marks = []mark{s.at(col.x+(col.width-s.width)/2, (cardPicture-s.height)/2)}
			}
		}
		atoms = append(atoms, area)
	}
	w := &writer{composer: c}
	w.text(card.Title, style{bold, tableSize, ink}, destination{})
	if to, inside := c.target(card.Target); inside && to.anchorOrURL() {
		small := style{regular, smallSize, faintInk}
		w.out = append(w.out, run{words: " ", style: small}, run{page: to.anchor, style: small})
	}
	text := c.set(w.out, col)
	col.size = smallSize
	text = append(text, c.set(c.runs(card.Note, style{regular, smallSize, faintInk}, false), col)...)
	return stacked(append(atoms, c.shortened(text, c.paper.room()/3)...))
}
