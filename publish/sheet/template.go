package sheet

import (
	"fmt"
	"math"

	"plansheaf/publish/picture"
)

// Tiles of a template, mm.
const (
	tileMargin  = 10.0  // what home printers leave white
	tileFoot    = 16.0  // strip below the tile for the bar and the words
	tileOverlap = 10.0  // what neighbouring tiles share
	tilePad     = 8.0   // around the part
	barLength   = 100.0 // the bar to measure before drilling
	mostTiles   = 64
)

// Template draws the part's main view at true size for marking out: outline,
// hole centres and sizes. Where one sheet is too small it is cut into tiles that
// overlap by 10 mm, with crosses in the overlap that must fall on each other. Each
// tile has a bar to measure before drilling. The paper is A4 or letter, upright,
// by the request's family. It returns ErrNoSolid without a solid, and an error
// for a part that would take more than 64 tiles.
func Template(r Request) ([]*picture.Picture, error) {
	if r.Solid == nil || len(r.Solid.Faces) == 0 {
		return nil, fmt.Errorf("draw template %q: %w", r.Name, ErrNoSolid)
	}
	p := study(r.Solid, r.Body, r.Along)
	q := pane{eye: p.mainEye(), scale: 1}
	if err := p.project(&q); err != nil {
		return nil, fmt.Errorf("draw template %q: %w", r.Name, err)
	}
	page := r.Family.smallest()
	tile := point{X: page.width - 2*tileMargin, Y: page.height - 2*tileMargin - tileFoot}
	size := point{X: q.extent.Width() + 2*tilePad, Y: q.extent.Height() + 2*tilePad}
	if tilesAlong(size.X, tile.X)*tilesAlong(size.Y, tile.Y) > tilesAlong(size.Y, tile.X)*tilesAlong(size.X, tile.Y) {
		q.eye = q.eye.lying()
		if err := p.project(&q); err != nil {
			return nil, fmt.Errorf("draw template %q: %w", r.Name, err)
		}
		size = point{X: q.extent.Width() + 2*tilePad, Y: q.extent.Height() + 2*tilePad}
	}
	t := template{request: &r, part: p, page: page, tile: tile, across: tilesAlong(size.X, tile.X), down: tilesAlong(size.Y, tile.Y)}
	if t.across*t.down > mostTiles {
		return nil, fmt.Errorf("draw template %q: it would take %d sheets, at most %d are made", r.Name, t.across*t.down, mostTiles)
	}
	q.at = point{X: tilePad, Y: tilePad}.Minus(q.extent.Min)
	marks := t.view(&q)
	var pages []*picture.Picture
	for row := range t.down {
		for column := range t.across {
			pages = append(pages, t.sheet(marks, column, row))
		}
	}
	return pages, nil
}

// tilesAlong is how many tiles a length takes.
func tilesAlong(length, tile float64) int {
	if length <= tile {
		return 1
	}
	return int(math.Ceil((length - tileOverlap) / (tile - tileOverlap)))
}

// template holds what all tiles share.
type template struct {
	request      *Request
	part         *part
	page         paper
	tile         point
	across, down int
}

// view is the whole template before it is cut up, its upper left corner at the
// origin.
func (t *template) view(q *pane) []picture.Mark {
	l := &layout{request: t.request, part: t.part, scheme: &scheme{part: t.part}, scale: scale{"1:1", 1}, height: 2.5}
	l.panes = []pane{*q}
	l.board = newBoard(picture.Box{Min: point{X: -1e4, Y: -1e4}, Max: point{X: 1e4, Y: 1e4}})
	l.panes[0].curves.hidden = nil // nothing to mark out there
	l.views()
	for _, g := range t.part.groups {
		for _, i := range g.holes {
			if h := t.part.holes[i]; q.eye.covers(h) {
				l.label(h, h.words(t.request.System, t.request.Called[h.pattern]))
			}
		}
	}
	return l.marks
}

// name of a tile: A1 is at the upper left, letters run across, numbers down.
func tileName(column, row int) string { return fmt.Sprintf("%s%d", letters(column), row+1) }

// sheet is one tile on its page.
func (t *template) sheet(marks []picture.Mark, column, row int) *picture.Picture {
	name, words := t.request.Name+"-template", t.request.Title+", drill template at true size"
	if t.across*t.down > 1 {
		name += "-" + tileName(column, row)
		words += fmt.Sprintf(", tile %s of %d × %d", tileName(column, row), t.across, t.down)
	}
	p := &picture.Picture{Name: name, Title: words, Width: t.page.width, Height: t.page.height,
		Description: "Outline and hole centres of " + t.request.Title + " at scale 1:1, to be stuck on the work and centre-punched."}
	corner := point{X: tileMargin, Y: tileMargin}
	from := point{X: float64(column) * (t.tile.X - tileOverlap), Y: float64(row) * (t.tile.Y - tileOverlap)}
	window := picture.Rectangle(corner, t.tile.X, t.tile.Y)
	if t.request.Draft {
		p.Add(draftMark(t.page))
	}
	p.Add(picture.Clip{Outline: window, Marks: []picture.Mark{picture.Group{Shift: corner.Minus(from), Marks: marks}}})
	p.Add(picture.Path{Curves: window, Line: picture.Hair})
	p.Add(t.joins(corner, column, row)...)
	return t.foot(p, words)
}

// joins marks where neighbouring tiles begin, with crosses that fall on those of
// the neighbour.
func (t *template) joins(corner point, column, row int) []picture.Mark {
	var crosses []picture.Curve
	cross := func(x, y float64) {
		const arm = 3.0
		crosses = append(crosses, picture.Line{A: point{X: x - arm, Y: y}, B: point{X: x + arm, Y: y}},
			picture.Line{A: point{X: x, Y: y - arm}, B: point{X: x, Y: y + arm}})
	}
	half := tileOverlap / 2
	for _, share := range []float64{0.15, 0.5, 0.85} {
		if column > 0 {
			cross(corner.X+half, corner.Y+share*t.tile.Y)
		}
		if column < t.across-1 {
			cross(corner.X+t.tile.X-half, corner.Y+share*t.tile.Y)
		}
		if row > 0 {
			cross(corner.X+share*t.tile.X, corner.Y+half)
		}
		if row < t.down-1 {
			cross(corner.X+share*t.tile.X, corner.Y+t.tile.Y-half)
		}
	}
	if crosses == nil {
		return nil
	}
	return []picture.Mark{picture.Path{Curves: crosses, Line: picture.Thin, Ink: picture.Accent}}
}

// foot writes what the sheet is and draws the bar.
func (t *template) foot(p *picture.Picture, words string) *picture.Picture {
	left, y := tileMargin, t.page.height-tileMargin-tileFoot
	bar := []picture.Curve{picture.Line{A: point{X: left, Y: y + 8}, B: point{X: left + barLength, Y: y + 8}}}
	for mm := 0.0; mm <= barLength; mm += 10 {
		tick := 1.5
		if math.Mod(mm, 50) == 0 {
			tick = 2.5
		}
		bar = append(bar, picture.Line{A: point{X: left + mm, Y: y + 8 - tick}, B: point{X: left + mm, Y: y + 8 + tick}})
	}
	width := t.page.width - 2*tileMargin
	const room = 76.0 // mm, of number, revision and date
	number := fmt.Sprintf("%s, revision %s", t.request.Number, t.request.Revision)
	if t.request.Date != "" {
		number += ", " + t.request.Date
	}
	p.Add(picture.Path{Curves: bar, Line: picture.Thin},
		fitted("Print at 100 %. This bar must measure 100 mm [3.937 in]:", point{X: left, Y: y + 4.4}, width, 2.5, picture.Sans, picture.Ink),
		fitted(words, point{X: left, Y: y + 15}, width-room-4, 2.5, picture.SansBold, picture.Ink))
	end := fitted(number, point{X: t.page.width - tileMargin, Y: y + 15}, room, 2.5, picture.Sans, picture.Ink)
	end.Anchor = picture.End
	p.Add(end)
	return p
}
