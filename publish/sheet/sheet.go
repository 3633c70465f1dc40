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
	s := p.plan(&r, fault)
	panes := p.choose(&r, fault)
	panes = p.sections(&r, panes, fault)
	p.details = p.readDetails(&r, fault)
	if wantsPicture(&r) {
		pictured, err := pictureOf(r.Solid)
		if err != nil {
			return nil, fmt.Errorf("draw sheet %q: %w", r.Name, err)
		}
		p.pictured = pictured
	}
	for i := range panes {
		curves, err := p.project(panes[i])
		if err != nil {
			return nil, fmt.Errorf("draw sheet %q: %w", r.Name, err)
		}
		panes[i].curves, panes[i].extent = curves, curves.bounds()
	}
	best := bestLayout(&r, p, s, panes, fault)
	pic := &picture.Picture{Name: r.Name, Title: best.title(), Description: best.description(),
		Width: best.paper.width, Height: best.paper.height, Group: best.paper.group(), Marks: best.marks}
	result.Picture, result.Size, result.Scale = pic, best.paper.name, best.scale.name
	for _, q := range best.panes {
		result.Views = append(result.Views, q.eye.name)
	}
	result.Dimensions, result.Facts, result.Ties = s.list, p.facts(), s.ties
	return result, nil
}

// bestLayout finds the sheet: what the request fixes of paper and scale is kept

// when that can be; else it is a fault, and the scale, then the paper too, is

// chosen instead.

// search finds the best sheet for the views as they stand, or with their sections

// moved beside the main view; nil for none.

// beats reports whether a sheet is better than another: legible, then smaller,

// then at a larger scale.

// sectionsBeside moves sections from the ends of the main column to the right of

// the main row: a named section may stand anywhere (ISO 128-3).

// furthestColumn and row of the cross of views.

// searchOne tries papers and scales, the smallest paper and the largest scale

// first, until everything finds a place and is large enough to read; failing

// that, the largest scale at which everything found a place; nil for none.

// better turns an upright A4 or letter sheet when that allows a larger scale.

// scales to try, largest first: enlarged only as far as it takes to show a small

// part, or what is fine on it, well.

// smallestDrawn the least size of a whole part, mm.

// finest is the diameter of the smallest hole or step, the whole size without

// any, mm.

// What reads well on paper, mm: the least diameter of a hole, and that among

// many holes; the least width of a bar that is not round, whose slots and walls

// must show; the least size of the largest view.

// legible reports whether the views are large enough to read.

func newLayout(r *Request, p *part, s *scheme, panes []pane, paper paper, scale scale) *layout {
	l := &layout{request: r, part: p, scheme: s, paper: paper, scale: scale, height: paper.lettering()}
	l.panes = append(l.panes, panes...)
	for i := range l.panes {
		l.panes[i].scale, l.panes[i].at = scale.factor, point{}
	}
	l.board = newBoard(paper.space().Grow(-0.5))
	return l
}

// paint draws everything in its place. It reports whether all words found room.

func (l *layout) paint() bool {
	l.views()
	for i := range l.part.details {
		l.detailRing(l.part.details[i])
	}
	l.datumMarks()
	ok := l.dimensionLines(l.strips())
	ok = l.holeLabels() && ok
	ok = l.callouts() && ok
	ok = l.cuttingPlanes() && ok
	for _, d := range l.part.details {
		ok = l.detailView(d) && ok
	}
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
		views = append(views, q.eye.name)
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

// room is what a view needs around it for its dimensions, mm.

// arrange paints frame, title block, notes and table, and places the views in

// what is left. It reports whether they fit.

// fitWithTable tries the hole table at the right of the views, then above them.

// fitAround places the views from the upper left corner on, down beside the title

// block, where the cross of views leaves that corner free.

// fit places the views in a region. It reports whether they and the room for

// their dimensions fit.

// spread places the views in a region, in its middle or from its upper left

// corner on. It reports whether they fit.

// room that a view needs on each side: its rows of dimensions and, above and at

// the right of the main view, a line or two of callouts.

// draftMark lies across the sheet, under everything.

// datumMarks rings the corner from which a hole table measures.
