package scene

import (
	"fmt"
	"math"
	"strings"

	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/solid"
	"plansheaf/publish/picture"
	"plansheaf/publish/view"
)

const (
	wide = 150.0 // mm, the largest width of a picture
	high = 120.0 // mm, the largest height
	edge = 2.0   // mm of paper around what is drawn
	// smallest is the shortest edge that is drawn, mm on paper: below it, lines run
	// together at phone width. Taken apart, things stand alone, and small ones keep
	// their outline.
	smallest      = 0.8
	smallestApart = 0.3
	// group is the line group, mm: pictures of many parts need narrow lines, but a
	// picture as wide as a phone's screen, 320 px, still has 0.75 px for each.
	group = 0.35
)

// Whole draws an assembly put together; nil when nothing in it has a shape and a
// place.
func Whole(l *layout.Layout, a *plan.Assembly) (*picture.Picture, error) {
	pieces := l.Pieces(a)
	pic, _, err := draw(pieces, func(layout.Piece) bool { return false }, view.Isometric, &picture.Picture{
		Name: "assemblies/" + a.ID.Text, Title: a.Title.Value,
		Description: fmt.Sprintf("%s put together, seen from the front, the right and above: %d bodies.", a.Title.Value, len(pieces)),
	})
	return pic, err
}

// Steps draws an assembly at each of its steps, by step id: what is there by then,
// and what the step adds in the accent colour. Steps of another choice, and those
// that add nothing with a shape, are left out.
func Steps(l *layout.Layout, a *plan.Assembly, sel plan.Selection) (map[string]*picture.Picture, error) {
	pieces := l.Pieces(a)
	out := map[string]*picture.Picture{}
	there := map[string]bool{} // uses and joints of earlier steps
	for _, st := range a.Steps {
		if !st.Only.Fits(sel) {
			continue
		}
		fresh := news(a, st, there)
		var now []layout.Piece
		added := false
		for _, p := range pieces {
			k := key(p)
			if there[k] || fresh[k] {
				now = append(now, p)
				added = added || fresh[k]
			}
		}
		for k := range fresh {
			there[k] = true
		}
		if !added {
			continue
		}
		pic, err := step(a, st, now, func(p layout.Piece) bool { return fresh[key(p)] })
		if err != nil {
			return nil, err
		}
		if pic != nil {
			out[st.ID.Text] = pic
		}
	}
	return out, nil
}

// step draws one step, from where its author says; where he does not, from the
// first side that shows enough of what is new, or else the one that shows most.
func step(a *plan.Assembly, st *plan.Step, pieces []layout.Piece, fresh func(layout.Piece) bool) (*picture.Picture, error) {
	sides := viewpoints
	if d, given := direction(st); given {
		sides = []view.Direction{d}
	}
	var best *picture.Picture
	most := -1.0
	for _, side := range sides {
		pic := &picture.Picture{
			Name: "steps/" + a.ID.Text + "." + st.ID.Text, Title: st.Title.Value,
			Description: fmt.Sprintf("%s at the step %q: what it adds is drawn in the accent colour.", a.Title.Value, st.Title.Value),
		}
		pic, share, err := draw(pieces, fresh, side, pic)
		if err != nil || pic == nil {
			return nil, err
		}
		if share > most {
			best, most = pic, share
		}
		if share >= enough {
			break
		}
	}
	return best, nil
}

// enough is the share of a picture's lines that what is new must have for the
// picture to show it plainly: judged by eye on the example.
const enough = 0.012

// viewpoints are the sides that a step may be seen from, the usual one first.
var viewpoints = []view.Direction{
	view.Isometric, look(-1, -1, 1), look(1, 1, 1), look(-1, 1, 1), look(1, -1, -1), look(-1, 1, -1),
}

func look(x, y, z float64) view.Direction {
	d, err := view.Look(solid.Vec{X: x, Y: y, Z: z}, solid.Vec{Z: 1})
	if err != nil {
		panic(err) // the directions above are none along z
	}
	return d
}

// key names what brings a piece: its use or its joint.
func key(p layout.Piece) string {
	if p.Joint != "" {
		return "joint " + p.Joint
	}
	return p.Use
}

// news are the keys that a step brings and no earlier one did.
func news(a *plan.Assembly, st *plan.Step, there map[string]bool) map[string]bool {
	fresh := map[string]bool{}
	for _, w := range st.Adds {
		use := a.Use(w.Path()[0])
		if use == nil {
			continue
		}
		fresh[w.Text] = true
		if use.Count.Given() && w.Text == use.ID.Text {
			for i := 1; i <= maxNumbered; i++ {
				fresh[fmt.Sprintf("%s.%d", w.Text, i)] = true
			}
		}
	}
	for _, list := range [][]plan.Word{st.Fastens, st.Loose} {
		for _, w := range list {
			fresh["joint "+w.Text] = true
		}
	}
	for k := range fresh {
		if there[k] {
			delete(fresh, k)
		}
	}
	return fresh
}

// maxNumbered bounds the instances of one repeated use that a picture tells apart.
const maxNumbered = 1000

// direction is from where a step's author wants it seen: "front right above".
func direction(st *plan.Step) (d view.Direction, given bool) {
	if st.Picture == nil || !st.Picture.From.Given() {
		return d, false
	}
	toward := solid.Vec{}
	for _, w := range strings.Fields(st.Picture.From.Text) {
		switch w {
		case "front":
			toward.Y--
		case "back":
			toward.Y++
		case "left":
			toward.X--
		case "right":
			toward.X++
		case "above", "top":
			toward.Z++
		case "below", "bottom":
			toward.Z--
		}
	}
	up := solid.Vec{Z: 1}
	if toward.X == 0 && toward.Y == 0 {
		up = solid.Vec{Y: 1}
	}
	d, err := view.Look(toward, up)
	return d, err == nil
}

// draw fills a picture with pieces, and says which share of its lines is new; the
// picture is nil when there is nothing to draw.
func draw(pieces []layout.Piece, fresh func(layout.Piece) bool, dir view.Direction, pic *picture.Picture) (*picture.Picture, float64, error) {
	art, err := project(pieces, dir, wide, high, smallest)
	if err != nil || art == nil {
		return nil, 0, err
	}
	var old, new []picture.Curve
	var drawn, drawnNew float64
	for _, line := range art.lines {
		drawn += line.Length()
		if fresh(pieces[line.Body]) {
			drawnNew += line.Length()
			new = append(new, line.Curves...)
		} else {
			old = append(old, line.Curves...)
		}
	}
	art.paper(pic, edge)
	if len(old) > 0 {
		line := picture.Visible
		if len(new) > 0 {
			line = picture.Thin
		}
		pic.Add(picture.Path{Curves: art.placed(old), Line: line})
	}
	if len(new) > 0 {
		pic.Add(picture.Path{Curves: art.placed(new), Line: picture.Accented})
	}
	return pic, drawnNew / math.Max(drawn, solid.Tolerance), nil
}

// An art is what is seen of pieces, at 1:1, with the way on to the paper.
type art struct {
	lines []view.Line
	box   picture.Box // at 1:1
	scale float64
	shift picture.Point
}

// project draws pieces to fit into a width and a height in mm, without edges that
// come out shorter than least; nil when there is nothing to draw.
func project(pieces []layout.Piece, dir view.Direction, width, height, least float64) (*art, error) {
	if len(pieces) == 0 {
		return nil, nil
	}
	bodies := make([]view.Body, len(pieces))
	a := &art{box: picture.Nothing}
	for i, p := range pieces {
		bodies[i] = view.Body{Solid: p.Solid, At: p.At, Tag: p.Part.Part.ID.Text}
		a.box = a.box.Join(drawnBox(p, dir))
	}
	a.scale = math.Min((width-2*edge)/(a.box.Max.X-a.box.Min.X), (height-2*edge)/(a.box.Max.Y-a.box.Min.Y))
	if math.IsInf(a.scale, 0) || math.IsNaN(a.scale) || a.scale <= 0 {
		return nil, nil
	}
	drawing, err := view.Project(bodies, dir, view.Options{VisibleOnly: true, Smallest: least / a.scale, NoThreads: true})
	if err != nil {
		return nil, fmt.Errorf("draw %d pieces: %w", len(pieces), err)
	}
	a.lines = drawing.Lines
	return a, nil
}

// paper sizes a picture for the art with a margin in mm around it.
func (a *art) paper(pic *picture.Picture, margin float64) {
	size := a.box.Max.Minus(a.box.Min).Times(a.scale)
	pic.Group, pic.Width, pic.Height = group, size.X+2*margin, size.Y+2*margin
	a.shift = picture.Point{X: margin, Y: margin}.Minus(a.box.Min.Times(a.scale))
}

// placed are curves of the art on the paper.
func (a *art) placed(curves []picture.Curve) []picture.Curve {
	return picture.MoveCurves(curves, a.scale, a.shift)
}

// point is a point of the art on the paper.
func (a *art) point(p picture.Point) picture.Point { return p.Times(a.scale).Plus(a.shift) }

// drawnBox is the box on paper, at 1:1, around a piece's bounding box.
func drawnBox(p layout.Piece, dir view.Direction) picture.Box {
	b := p.Solid.Box()
	var corners []picture.Point
	for i := 0; i < 8; i++ {
		c := b.Min
		if i&1 != 0 {
			c.X = b.Max.X
		}
		if i&2 != 0 {
			c.Y = b.Max.Y
		}
		if i&4 != 0 {
			c.Z = b.Max.Z
		}
		corners = append(corners, dir.Flat(p.At.Point(c)))
	}
	return picture.BoxAround(corners...)
}
