package binder

import (
	"strings"

	"plansheaf/publish/notation"
	"plansheaf/publish/page"
	"plansheaf/publish/picture"
)

// Measures of equations.
const (
	equationPad  = 2.6  // inside the frame, mm
	equationLead = 7.0  // of lines below a left side that stands alone, mm
	equationGap  = 1.7  // between lines, mm
	leftMost     = 0.28 // of the column: a longer left side stands alone
	equalsSign   = 1.45 // ems that the equals sign takes with its blanks
	formulaSize  = 9.8  // points
)

// equation composes a formula, the same with values put in, and its result, aligned
// behind their equals signs; what else is known of the result stands below.
func (c *composer) equation(e page.Equation, col column) []atom {
	inner := col
	inner.x, inner.width = col.x+equationPad, col.width-2*equationPad
	atoms := []atom{gap(equationPad)}
	if e.ID != "" {
		c.near = e.ID
		atoms[0].marks = append(atoms[0].marks, c.anchor(e.ID))
	}
	if len(e.About) > 0 {
		about := inner
		about.size = tableSize
		atoms = append(atoms, c.set(c.runs(e.About, style{italic, tableSize, faintInk}, false), about)...)
		atoms = append(atoms, gap(0.8))
	}
	lines := c.equationLines(e, inner)
	for i := range lines {
		lines[i].before = equationGap
	}
	atoms = append(atoms, lines...)
	if facts := c.equationFacts(e.Facts, inner); len(facts) > 0 {
		atoms = append(append(atoms, gap(1)), facts...)
	}
	atoms = closed(together(atoms, c.paper.room()/2), equationPad)
	edge := hairInk
	return spaced(framed(atoms, panel(col, white, &edge)), 3)
}

// equationLines are the left side and each right side behind an equals sign.
func (c *composer) equationLines(e page.Equation, col column) []atom {
	em := formulaSize * mmPerPoint
	right := col
	var atoms []atom
	var left *atom
	if e.Name != nil {
		name := c.formulaAtoms([]*notation.Node{e.Name}, em, col.x, col.width)
		if long := notation.Width(e.Name) * em; long <= leftMost*col.width {
			left = &name[0]
			right.x, right.width = col.x+long+0.3*em, col.width-long-0.3*em
		} else {
			atoms = append(atoms, name...)
			right.x, right.width = col.x+equationLead, col.width-equationLead
		}
	}
	side := func(body []atom) {
		if e.Name != nil && len(body) > 0 {
			body[0] = c.level(c.equals(right.x, em), body[0])
		}
		if left != nil && len(body) > 0 {
			body[0] = c.level(*left, body[0])
			left = nil
		}
		atoms = append(atoms, body...)
	}
	behind := right
	if e.Name != nil {
		behind.x, behind.width = right.x+equalsSign*em, right.width-equalsSign*em
	}
	show := func(n *notation.Node) {
		if n != nil {
			side(c.formulaAtoms(notation.Lines(n, behind.width/em, 0), em, behind.x, behind.width))
		}
	}
	show(e.Is)
	for _, w := range e.Worked {
		if w.When.Fits(c.choices) {
			show(w.Is)
			break
		}
	}
	if len(e.Result) > 0 {
		behind.size = bodySize
		side(c.set(c.runs(e.Result, style{bold, bodySize, ink}, false), behind))
	}
	return atoms
}

// equals is an equals sign as an atom.
func (c *composer) equals(x, em float64) atom {
	sign := notation.Sign("=")
	return c.formulaAtoms([]*notation.Node{sign}, em, x+0.3*em, em)[0]
}

// formulaAtoms sets the lines of a formula, one atom a line; a line wider than the
// column is set smaller.
func (c *composer) formulaAtoms(lines []*notation.Node, em, x, width float64) []atom {
	var atoms []atom
	for _, n := range lines {
		box := notation.Layout(n, em)
		if box.Width > width && width > 0 {
			box = notation.Layout(n, em*width/box.Width*0.999)
		}
		atoms = append(atoms, c.boxAtom(box, notation.Words(n), x, em))
	}
	return atoms
}

// boxAtom is a set formula as an atom, at least as high as a line of letters.
func (c *composer) boxAtom(box notation.Box, words string, x, em float64) atom {
	up, down := max(box.Up, 0.76*em), max(box.Down, 0.24*em)
	a := atom{height: up + down, base: up}
	if box.Width <= 0 {
		return a
	}
	drawn := &picture.Picture{Name: "formula", Title: words, Width: box.Width, Height: up + down}
	drawn.Add(box.Moved(picture.Point{Y: up})...)
	if c.sound(looked(drawn)) {
		a.marks = []mark{pictureMark{x, 0, 1, drawn, true}}
	}
	return a
}

// level puts two atoms on one baseline.
func (c *composer) level(left, right atom) atom {
	base := func(a atom) float64 {
		if a.base > 0 {
			return a.base
		}
		return baselineOf(bodySize)
	}
	up := max(base(left), base(right))
	out := right
	out.base, out.marks = up, nil
	for _, a := range []atom{left, right} {
		for _, m := range a.marks {
			out.marks = append(out.marks, m.moved(0, up-base(a)))
		}
		out.height = max(out.height, up-base(a)+a.height)
	}
	return out
}

// equationFacts are labelled values in running text.
func (c *composer) equationFacts(facts []page.Fact, col column) []atom {
	col.size = tableSize
	w := &writer{composer: c}
	for _, f := range facts {
		if !f.Only.Fits(c.choices) {
			continue
		}
		if len(w.out) > 0 {
			w.text("\u00a0\u00a0\u00a0 ", style{regular, tableSize, ink}, destination{})
		}
		w.text(strings.ReplaceAll(f.Label, " ", string(noBreak))+string(noBreak)+string(noBreak), style{regular, labelSize, faintInk}, destination{})
		w.inlines(f.Words, style{regular, tableSize, ink}, destination{}, 0)
	}
	return c.set(w.out, col)
}

// formula sets a formula on a line of text.
func (w *writer) formula(n *notation.Node, st style, link destination) {
	if n == nil {
		return
	}
	for _, p := range notation.Pieces(n) {
		look := st
		look.size = st.size * p.Scale
		if p.Slanted {
			look.face = slanted[st.face]
		}
		from := len(w.out)
		w.text(p.Text, look, link)
		for i := from; i < len(w.out); i++ {
			w.out[i].rise = p.Rise * st.size * mmPerPoint
		}
	}
}
