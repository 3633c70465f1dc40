package binder

import (
	"strings"

	"plansheaf/publish/page"
)

// list composes a bulleted, numbered or tick list.
func (c *composer) list(l page.List, col column) []atom {
	number := l.Start
	if number == 0 {
		number = 1
	}
	indent := 5.2
	if l.Ordered {
		widest := itoa(number+len(l.Items)) + "."
		indent = max(indent, c.fonts.width(widest, regular, col.size)+2)
	}
	var atoms []atom
	for _, item := range l.Items {
		if !item.Only.Fits(c.choices) {
			continue
		}
		label := ""
		if l.Ordered {
			label = itoa(number) + "."
			number++
		}
		atoms = append(atoms, c.item(item, label, indent, col)...)
	}
	return spaced(atoms, col.size*mmPerPoint*0.6)
}

// item composes one entry with its number, bullet or tick box before it.
func (c *composer) item(item page.Item, label string, indent float64, col column) []atom {
	inner := col.indented(indent)
	inner.width = min(inner.width, measure-indent)
	atoms := c.blocks(item.Blocks, inner)
	if len(atoms) == 0 {
		atoms = []atom{{height: lineHeight(col.size)}}
	}
	tight := col.size * mmPerPoint * 0.28
	atoms[0].before, atoms[len(atoms)-1].after = tight, tight
	base := baselineOf(col.size)
	// A column too narrow to move in leaves no room for a label before the words.
	if inner.x > col.x {
		switch {
		case item.Tick != "":
			atoms[0].marks = append(atoms[0].marks, tickBox(col.x, base, col.size))
		case label != "":
			st := style{regular, col.size, faintInk}
			atoms[0].marks = append(atoms[0].marks, textMark{col.x, base, label, st})
		default:
			side := col.size * mmPerPoint * 0.26
			fill := accentInk
			atoms[0].marks = append(atoms[0].marks,
				boxMark{rect: rect{col.x + 1, base - side*2.1, side, side}, fill: &fill})
		}
	}
	return atoms
}

// tickBox is a box to tick with a pen, standing on baseline y.
func tickBox(x, y, size float64) mark {
	side := size * mmPerPoint * 0.86
	edge := ink
	return boxMark{rect: rect{x, y - side*0.92, side, side}, ink: &edge, width: 0.25, radius: 0.35}
}

// quote composes quoted text beside a bar.
func (c *composer) quote(q page.Quote, col column) []atom {
	atoms := c.blocks(q.Blocks, col.indented(5))
	x := col.x
	return framed(atoms, &frame{draw: func(top, bottom float64, _, _ bool) []mark {
		fill := hairInk
		return []mark{boxMark{rect: rect{x + 1, top, 0.9, bottom - top}, fill: &fill}}
	}})
}

// code composes preformatted text; lines too long for the column are broken.
func (c *composer) code(code page.Code, col column) []atom {
	const pad = 2.2
	inner := col
	inner.x, inner.width, inner.size = col.x+pad, col.width-2*pad, 7.8
	st := style{mono, inner.size, ink}
	atoms := []atom{gap(pad)}
	source := strings.NewReplacer("\r\n", "\n", "\t", "    ", " ", string(noBreak)).Replace(strings.TrimRight(code.Text, "\r\n"))
	for _, text := range strings.Split(source, "\n") {
		w := &writer{composer: c}
		w.text(text, st, destination{})
		set := c.set(w.out, inner)
		if len(set) == 0 {
			set = []atom{{height: lineHeight(inner.size)}}
		}
		atoms = append(atoms, set...)
	}
	atoms = closed(unwidowed(atoms), pad)
	return spaced(framed(atoms, panel(col, ground, nil)), 3)
}

// closed adds the room below the last atom inside a frame.
func closed(atoms []atom, pad float64) []atom {
	atoms[len(atoms)-1].stay, atoms[len(atoms)-1].after = glued, 0
	end := gap(pad)
	end.stay = free
	return append(atoms, end)
}

// panel is a frame across a column, filled and perhaps outlined.
func panel(col column, fill colour, edge *colour) *frame {
	return &frame{pad: framePad, draw: func(top, bottom float64, _, _ bool) []mark {
		fill := fill
		return []mark{boxMark{rect: rect{col.x, top, col.width, bottom - top}, fill: &fill, ink: edge, width: 0.25}}
	}}
}

// thematicBreak composes a short rule between two thoughts.
func (c *composer) thematicBreak(col column) []atom {
	const long = 30.0
	x := col.x + (min(col.width, measure)-long)/2
	rule := ruleMark{x, 1, x + long, 1, 0.2, hairInk, false}
	return spaced([]atom{{height: 2, marks: []mark{rule}}}, 4)
}

// footnotes composes the notes of a page's prose under a rule.
func (c *composer) footnotes(f page.Footnotes, col column) []atom {
	col.size = min(col.size, tableSize)
	atoms := []atom{{height: 1, before: 5, after: 1, stay: glued,
		marks: []mark{ruleMark{col.x, 0.5, col.x + 40, 0.5, 0.2, faintInk, false}}}}
	for _, note := range f.Notes {
		label := itoa(note.Number)
		item := c.item(page.Item{Blocks: note.Blocks}, label, max(5.2, c.fonts.width(label, regular, col.size)+2), col)
		item[0].marks = append(item[0].marks, anchorMark{0, c.noteAnchor(note.Number)})
		atoms = append(atoms, item...)
	}
	atoms[len(atoms)-1].stay = free
	return atoms
}
