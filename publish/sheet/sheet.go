package sheet

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"plansheaf/publish/picture"
)

// ErrNoSolid is returned when there is nothing to draw.
var ErrNoSolid = errors.New("no solid to draw")

// Draw makes the sheet. It returns ErrNoSolid for a request without a solid, or
// one without faces. What the request asks for and cannot have becomes a Fault
// in the result, and the sheet is made without it.
func Draw(r Request) (*Result, error) {
	if r.Solid == nil || len(r.Solid.Faces) == 0 {
		return nil, fmt.Errorf("draw sheet %q: %w", r.Name, ErrNoSolid)
	}
	result := &Result{}
	fault := func(f Fault) { result.Faults = append(result.Faults, f) }
	p := study(r.Solid, r.Body, r.Along)
	p.sides = r.Sides
	s := p.plan(&r, fault)
	panes := p.choose(&r, fault)
	s.farSides(panes)
	p.details = p.readDetails(&r, fault)
	if wantsPicture(&r) {
		pictured, err := pictureOf(r.Solid)
		if err != nil {
			return nil, fmt.Errorf("draw sheet %q: %w", r.Name, err)
		}
		p.pictured = pictured
	}
	for i := range panes {
		err := p.project(&panes[i])
		if c := panes[i].cut; c != nil && err != nil {
			fault(Fault{"views", -1, fmt.Sprintf("section %s cannot be cut: %v", c.letter, err), "cut through another feature"})
			panes[i].cut = nil
			err = p.project(&panes[i])
		}
		if err != nil {
			return nil, fmt.Errorf("draw sheet %q: %w", r.Name, err)
		}
	}
	best := bestLayout(&r, p, s, panes, fault)
	pic := &picture.Picture{Name: r.Name, Title: best.title(), Description: best.description(),
		Width: best.paper.width, Height: best.paper.height, Group: best.paper.group(), Marks: best.marks}
	result.Picture, result.Size, result.Scale = pic, best.paper.name, best.scale.name
	for _, q := range best.panes {
		result.Views = append(result.Views, q.name())
	}
	result.Dimensions, result.Facts, result.Ties = s.list, p.facts(), s.ties
	return result, nil
}

func newLayout(r *Request, p *part, s *scheme, panes []pane, paper paper, scale scale) *layout {
	l := &layout{request: r, part: p, scheme: s, paper: paper, scale: scale, height: paper.lettering()}
	l.panes = append(l.panes, panes...)
	for i := range l.panes {
		l.panes[i].scale, l.panes[i].at = scale.factor, point{}
		l.panes[i].snap(p)
	}
	l.board = newBoard(paper.space().Grow(-0.5))
	return l
}

// paint draws everything in its place. It reports whether all words found room.
func (l *layout) paint() bool {
	l.views()
	l.cutSteps()
	spots := l.spots()
	for _, s := range spots {
		l.detailRing(s)
	}
	l.datumMarks()
	ok := l.dimensionLines(l.strips())
	ok = l.angleMarks() && ok
	ok = l.holeLabels() && ok
	ok = l.callouts() && ok
	ok = l.cuttingPlanes() && ok
	for _, s := range spots {
		ok = l.detailView(s) && ok
	}
	l.fineDetails()
	if wantsPicture(l.request) {
		// Where there is no room the views speak for themselves, unless the
		// author asked for it.
		ok = (l.pictorial() || !asks(l.request, "pictorial")) && ok
	}
	return ok
}

// asks reports whether the request names a kind of view.
func asks(r *Request, kind string) bool {
	return slices.ContainsFunc(r.Views, func(v ViewRequest) bool { return v.Kind == kind })
}

// wantsPicture reports whether the sheet gets a pictorial view: when the views
// are chosen here, or the author names it.
func wantsPicture(r *Request) bool { return len(r.Views) == 0 || asks(r, "pictorial") }

func (l *layout) title() string {
	return strings.TrimSpace(fmt.Sprintf("%s, drawing %s", l.request.Title, l.request.Number))
}

// description says in words what the sheet holds.
func (l *layout) description() string {
	var views []string
	for _, q := range l.panes {
		views = append(views, q.name())
	}
	size := l.part.box.Size()
	words := fmt.Sprintf("Dimensioned drawing of %s at scale %s. Views: %s. Overall %s by %s by %s mm.", l.request.Title, l.scale.name,
		strings.Join(views, ", "), decimals(size.X, 2), decimals(size.Y, 2), decimals(size.Z, 2))
	for _, d := range l.scheme.list {
		if d.Kind == Callout || d.Kind == Table && d.Axis == "" {
			words += " " + d.To + ": " + d.Text + "."
		}
	}
	return words
}
