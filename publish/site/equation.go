package site

import (
	"html/template"
	"strings"

	"plansheaf/publish/notation"
	"plansheaf/publish/page"
)

// How wide formulas may be, in ems: on a screen with room for a left side and a right
// side beside each other, and on a phone, where the right side stands below. The style
// sheet changes from one to the other at the width that goes with them. DejaVu Sans, by
// which they are measured, is wider than the fonts that screens show.
const (
	wideFormula   = 36
	narrowFormula = 18
	leftMost      = 10 // a longer left side stands alone everywhere
	pieceMost     = 8  // of a formula on a line of text, between two places to break
)

type equationView struct {
	ID     string
	About  template.HTML
	Name   template.HTML
	Alone  bool // the left side has a line of its own
	Lines  []equationLine
	Result template.HTML
	Facts  factsView
}

// equationLine is a right side; Narrow is empty where Wide has room on a phone.
type equationLine struct {
	Wide, Narrow template.HTML
	Only         only
}

func (w *pageWriter) equation(e page.Equation) equationView {
	view := equationView{ID: e.ID, About: w.words(e.About), Result: w.words(e.Result), Facts: w.facts(e.Facts, only{})}
	room := float64(wideFormula)
	if e.Name != nil {
		view.Name = template.HTML(notation.MathML([]*notation.Node{e.Name}, true))
		if left := notation.Width(e.Name); left > leftMost {
			view.Alone = true
		} else {
			room -= left
		}
	}
	line := func(n *notation.Node, o only) {
		if n == nil {
			return
		}
		l := equationLine{Only: o}
		wide, narrow := notation.Lines(n, room, 0), notation.Lines(n, narrowFormula, 0)
		l.Wide = template.HTML(notation.MathML(wide, true))
		if notation.Width(n) > narrowFormula {
			l.Narrow = template.HTML(notation.MathML(narrow, true))
		}
		view.Lines = append(view.Lines, l)
	}
	line(e.Is, only{})
	for _, worked := range e.Worked {
		line(worked.Is, w.only(worked.When))
	}
	return view
}

// writeFormula sets a formula on a line of text: a piece of MathML between any two
// places where the line may end.
func writeFormula(b *strings.Builder, n *notation.Node) {
	if n == nil {
		return
	}
	for i, piece := range notation.Segments(notation.Linear(n), pieceMost) {
		if i > 0 {
			b.WriteString(" ")
		}
		b.WriteString(notation.MathML([]*notation.Node{piece}, false))
	}
}

// saidFormula is a formula in plain words; empty for none.
func saidFormula(n *notation.Node) string {
	if n == nil {
		return ""
	}
	return notation.Words(n)
}
