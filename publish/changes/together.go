package changes

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"plansheaf/design/layout"
	"plansheaf/design/solid"
	"plansheaf/publish/picture"
	"plansheaf/publish/scene"
	"plansheaf/publish/view"
)

const (
	// mostNumbered is how many differences have balloons; the rest are counted.
	mostNumbered = 24
	// mostAlone is how many pieces that differ are drawn each as if nothing stood before
	// it; more would hide what they show, and each is seen as far as others let it.
	mostAlone = 40
	// apart is how far, mm on paper, something must have moved for both outlines to be
	// drawn: nearer they would run into one.
	apart = 1.2
	// arrow is the least length of an arrow, mm on paper, and mostArrows how many of them
	// one difference has.
	arrow      = 7.0
	mostArrows = 8
	tip        = 2.2 // mm, length of an arrow's head
	// frameWide and frameHigh are the largest size of what balloons stand around, mm.
	frameWide = 112.0
	frameHigh = 96.0
	// nearBy is the share of an assembly's width and height below which what differs is
	// drawn from near by, with so much of its size around it as surroundings says.
	nearBy       = 0.45
	surroundings = 0.6
)

// An artist draws assemblies over what they were.
type artist struct {
	studio *scene.Studio
	frame  picture.Box
	scale  float64
}

// drawn draws an assembly with its differences from what it was; nil where nothing of it
// has a shape. The first so many differences are news: they have numbers, and words in
// order of the numbers.
func (a *artist) drawn(id, title string, list []*difference, fresh int, stays []layout.Piece) (*picture.Picture, []string, error) {
	var old, new []layout.Piece
	for _, d := range list {
		old, new = append(old, d.old...), append(new, d.new...)
	}
	differs := scene.Frame(old).Join(scene.Frame(new))
	whole := differs.Join(scene.Frame(stays))
	if whole.Empty() || whole.Width() <= 0 || whole.Height() <= 0 {
		return nil, nil, nil
	}
	near := false
	a.frame, near = closer(whole, differs)
	a.scale = min(frameWide/a.frame.Width(), frameHigh/a.frame.Height())
	seen := ""
	if near {
		seen = ", a part of it"
	}
	v, spots, err := a.lines(list, stays, len(old)+len(new) <= mostAlone)
	if err != nil {
		return nil, nil, err
	}
	corner := a.frame.Min
	for i := range spots {
		for k := range spots[i] {
			spots[i][k] = spots[i][k].Minus(corner).Times(a.scale)
		}
	}
	numbers := scene.Arranged(picture.Box{Max: a.frame.Max.Minus(corner).Times(a.scale)}, spots[:min(fresh, mostNumbered)])
	words := legend(list, fresh, numbers.Shown())
	p := &picture.Picture{
		Name: "assemblies/" + id, Title: title + seen + ", old and new laid over each other", Group: 0.35,
		Description: "Seen from the front, the right and above. Dashed lines were there before and are gone, wide lines are new, thin lines stay; arrows show which way things moved, not how far. " + strings.Join(words, " "),
		Width:       max(a.frame.Width()*a.scale+2*numbers.Margin, 2*rim+keyWidth()),
		Height:      a.frame.Height()*a.scale + 2*numbers.Margin + key,
	}
	a.put(p, v, list, numbers, near)
	explain(p)
	return p, words, nil
}

// put adds lines, arrows and balloons to a picture; from near by, lines end at the frame.
func (a *artist) put(p *picture.Picture, v overlaid, list []*difference, numbers scene.Callouts, near bool) {
	margin := picture.Point{X: (p.Width - a.frame.Width()*a.scale) / 2, Y: numbers.Margin}
	shift := margin.Minus(a.frame.Min.Times(a.scale))
	if near {
		edge := picture.Rectangle(margin, a.frame.Width()*a.scale, a.frame.Height()*a.scale)
		within := &picture.Picture{}
		draw(within, v, a.scale, shift)
		p.Add(picture.Clip{Outline: edge, Marks: within.Marks}, picture.Path{Curves: edge, Line: picture.Hair})
	} else {
		draw(p, v, a.scale, shift)
	}
	for _, i := range numbers.Shown() {
		ways := list[i].ways
		for _, w := range ways[:min(len(ways), mostArrows)] {
			pointed(p, view.Isometric.Flat(w[0]).Times(a.scale).Plus(shift), view.Isometric.Flat(w[1]).Times(a.scale).Plus(shift))
		}
	}
	var letters []string
	for i, d := range list {
		letters = append(letters, strconv.Itoa(i+1)+string(d.sign))
	}
	numbers.Draw(p, margin, letters)
}

// closer is what of a whole is drawn to show what differs: all of it, or a part of it
// from near by where the rest would only make it small.
func closer(whole, differs picture.Box) (frame picture.Box, near bool) {
	size := max(differs.Width(), differs.Height())
	if differs.Empty() || size <= 0 || differs.Width() > nearBy*whole.Width() || differs.Height() > nearBy*whole.Height() {
		return whole, false
	}
	frame = differs.Grow(surroundings * size)
	frame.Min = picture.Point{X: max(frame.Min.X, whole.Min.X), Y: max(frame.Min.Y, whole.Min.Y)}
	frame.Max = picture.Point{X: min(frame.Max.X, whole.Max.X), Y: min(frame.Max.Y, whole.Max.Y)}
	return frame, true
}

// legend are the words of the differences that are news, each with its number and sign.
func legend(list []*difference, fresh int, shown []int) []string {
	var out []string
	for i, d := range list[:fresh] {
		if i == mostNumbered {
			out = append(out, fmt.Sprintf("And %d more that have no number.", fresh-mostNumbered))
			break
		}
		words := fmt.Sprintf("%d%s %s", i+1, d.sign, d.words)
		if d.count > 1 {
			words += fmt.Sprintf(" (%d of them)", d.count)
		}
		if !slices.Contains(shown, i) {
			words += ", not seen from here"
		}
		out = append(out, words+".")
	}
	if fresh < len(list) {
		out = append(out, "What else differs is told by the picture before it.")
	}
	return out
}

// lines sorts the lines of the drawing, at 1:1, and gives for each difference the spots
// that its balloon may point at. What differs is drawn alone, as if nothing stood before
// it, or else as far as it is seen.
func (a *artist) lines(list []*difference, stays []layout.Piece, alone bool) (v overlaid, spots [][]picture.Point, err error) {
	newOf := func(d *difference) []layout.Piece { return d.new }
	oldOf := func(d *difference) []layout.Piece { return d.old }
	still, new, err := a.seen(list, stays, newOf)
	if err != nil {
		return v, nil, err
	}
	var old [][]picture.Curve
	if alone {
		if new, err = a.alone(list, newOf); err == nil {
			old, err = a.alone(list, oldOf)
		}
	} else {
		_, old, err = a.seen(list, stays, oldOf)
	}
	if err != nil {
		return v, nil, err
	}
	var was, is, both []picture.Curve
	for i, d := range list {
		if d.sign != moved || a.far(d) {
			was = append(was, old[i]...)
		}
		is = append(is, new[i]...)
		spot := new[i]
		if len(spot) == 0 {
			spot = old[i]
		}
		spots = append(spots, spotsOn(spot))
	}
	v.went, v.came, both = compared(was, is)
	v.stays = append(still, both...)
	return v, spots, nil
}

// seen are the lines of what stays, and by difference those of its pieces before or now,
// all standing together.
func (a *artist) seen(list []*difference, stays []layout.Piece, pieces func(*difference) []layout.Piece) (still []picture.Curve, by [][]picture.Curve, err error) {
	all := slices.Clone(stays)
	var of []int // by piece beyond those that stay
	for i, d := range list {
		all = append(all, pieces(d)...)
		for range pieces(d) {
			of = append(of, i)
		}
	}
	lines, err := a.studio.Seen(all, a.frame, a.scale)
	if err != nil {
		return nil, nil, err
	}
	by = make([][]picture.Curve, len(list))
	for _, l := range lines {
		if n := l.Body - len(stays); n >= 0 {
			by[of[n]] = append(by[of[n]], l.Curves...)
			continue
		}
		still = append(still, l.Curves...)
	}
	return still, by, nil
}

// alone are by difference the lines of its pieces before or now, with nothing before them.
func (a *artist) alone(list []*difference, pieces func(*difference) []layout.Piece) ([][]picture.Curve, error) {
	by := make([][]picture.Curve, len(list))
	for i, d := range list {
		lines, err := a.studio.Seen(pieces(d), a.frame, a.scale)
		if err != nil {
			return nil, err
		}
		for _, l := range lines {
			by[i] = append(by[i], l.Curves...)
		}
	}
	return by, nil
}

// far reports whether both outlines of what moved can be told apart on paper.
func (a *artist) far(d *difference) bool {
	return slices.ContainsFunc(d.ways, func(w [2]solid.Vec) bool {
		return view.Isometric.Flat(w[0]).Distance(view.Isometric.Flat(w[1]))*a.scale >= apart
	})
}

// mostSpots is how many spots of one difference a leader may choose from.
const mostSpots = 16

// spotsOn are middles of the longest curves, those that leaders may end on.
func spotsOn(curves []picture.Curve) []picture.Point {
	curves = slices.Clone(curves)
	slices.SortStableFunc(curves, func(a, b picture.Curve) int {
		switch x, y := math.Round(a.Length()*1e3), math.Round(b.Length()*1e3); {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	var out []picture.Point
	for _, c := range curves[:min(len(curves), mostSpots)] {
		if arc, round := c.(picture.Arc); round {
			out = append(out, arc.At(arc.Start+arc.Sweep/2))
			continue
		}
		from, to := c.Ends()
		out = append(out, from.Plus(to).Times(0.5))
	}
	return out
}

// pointed draws an arrow from where something was to where it is, longer where it would
// be too short to be seen; none where it would point at the reader.
func pointed(p *picture.Picture, from, to picture.Point) {
	way := to.Minus(from)
	length := math.Hypot(way.X, way.Y)
	if length < 1e-3 {
		return
	}
	way = way.Times(1 / length)
	if length < arrow {
		middle := from.Plus(to).Times(0.5)
		from, to = middle.Minus(way.Times(arrow/2)), middle.Plus(way.Times(arrow/2))
	}
	across := picture.Point{X: -way.Y, Y: way.X}
	base := to.Minus(way.Times(tip))
	head := picture.Polygon(to, base.Plus(across.Times(tip/3)), base.Minus(across.Times(tip/3)))
	shaft := []picture.Curve{picture.Line{A: from, B: base}}
	p.Add(
		picture.Path{Curves: append(picture.Polyline(from, to), head...), Line: picture.Frame, Ink: picture.Paper},
		picture.Path{Curves: shaft, Line: picture.Visible},
		picture.Path{Curves: head, Line: picture.Thin, Fill: picture.Ink},
	)
}
