package changes

import (
	"errors"

	"plansheaf/design/solid"
	"plansheaf/publish/picture"
	"plansheaf/publish/view"
)

const (
	paper  = 150.0 // mm, the largest width of what is drawn
	tall   = 150.0 // mm, its largest height
	gap    = 12.0  // mm between views
	rim    = 6.0   // mm of paper around
	key    = 9.0   // mm below the drawing for what its lines mean
	letter = 3.5   // mm, height of capitals
	// mostScale is how much larger than it is a part is drawn.
	mostScale = 20
)

// errAlike says that two bodies look the same from all sides.
var errAlike = errors.New("no line differs")

// An overlaid view is one direction with its lines sorted.
type overlaid struct {
	name              string
	went, came, stays []picture.Curve
	box               picture.Box
}

// Overlay draws two bodies over each other, from the front, from above and from the
// right, with their own axes as what they have in common and as if they were of glass:
// what lies behind is drawn where it differs. Lines of the old one alone are dashed,
// those of the new one alone are wide; what both have is thin. The name is the
// picture's own.
func Overlay(name, title string, old, new *solid.Solid) (*picture.Picture, error) {
	views, differs, err := overlays(old, new)
	if err != nil {
		return nil, err
	}
	if !differs {
		return nil, errAlike
	}
	return laidOut(name, title, views), nil
}

// overlays are two bodies from the front, from above and from the right.
func overlays(old, new *solid.Solid) (views []overlaid, differs bool, err error) {
	for _, side := range []string{"front", "top", "right"} {
		v, err := overlay(side, old, new)
		if err != nil {
			return nil, false, err
		}
		differs = differs || len(v.went)+len(v.came) > 0
		views = append(views, v)
	}
	return views, differs, nil
}

func overlay(side string, old, new *solid.Solid) (overlaid, error) {
	dir, _ := view.Named(side)
	lines := func(s *solid.Solid) (all, seen []picture.Curve, err error) {
		d, err := view.Project([]view.Body{{Solid: s, At: solid.Stay}}, dir, view.Options{NoThreads: true})
		if err != nil {
			return nil, nil, err
		}
		seen = d.Curves(true, view.Edge, view.Silhouette)
		return append(d.Curves(false, view.Edge, view.Silhouette), seen...), seen, nil
	}
	was, _, err := lines(old)
	if err != nil {
		return overlaid{}, err
	}
	is, seen, err := lines(new)
	if err != nil {
		return overlaid{}, err
	}
	v := overlaid{name: side}
	v.went, v.came, _ = compared(was, is)
	_, _, v.stays = compared(was, seen) // what lies behind and stays would only be in the way
	v.box = picture.CurveBounds(append(append([]picture.Curve{}, was...), is...))
	return v, nil
}

// laidOut puts the view from above over that from the front and the one from the right
// beside it, at one scale.
func laidOut(name, title string, views []overlaid) *picture.Picture {
	front, top, right := views[0], views[1], views[2]
	const words = letter + 4 // below each view
	left := max(front.box.Width(), top.box.Width())
	beside := left + right.box.Width()
	low := max(front.box.Height(), right.box.Height())
	scale := min((paper-gap)/max(beside, 1e-6), (tall-gap-2*words)/max(top.box.Height()+low, 1e-6), mostScale)
	// Each view's words need room of their own.
	column := max(left*scale, width(top.name), width(front.name))
	p := &picture.Picture{
		Name: name, Title: title + ", old and new laid over each other",
		Description: "Seen from the front, from above and from the right, as if of glass. Dashed lines were there before and are gone, wide lines are new, thin lines stay.",
		Width:       2*rim + column + gap + max(right.box.Width()*scale, width(right.name)),
		Height:      2*rim + top.box.Height()*scale + low*scale + gap + 2*words + key,
	}
	p.Width = max(p.Width, 2*rim+keyWidth())
	under := rim + top.box.Height()*scale + words + gap
	for _, one := range []struct {
		overlaid
		x, y float64 // of its lower left corner
	}{{top, rim, rim + top.box.Height()*scale}, {front, rim, under + low*scale}, {right, rim + column + gap, under + low*scale}} {
		shift := picture.Point{X: one.x - one.box.Min.X*scale, Y: one.y - one.box.Max.Y*scale}
		draw(p, one.overlaid, scale, shift)
		p.Add(picture.Text{At: picture.Point{X: one.x, Y: one.y + words - 1}, Words: from[one.name], Height: letter})
	}
	explain(p)
	return p
}

// width is that of a view's words.
func width(side string) float64 { return picture.TextWidth(from[side], letter, picture.Sans) }

// draw adds sorted lines to a picture: what stays undermost, what is new on top.
func draw(p *picture.Picture, v overlaid, scale float64, shift picture.Point) {
	for _, one := range []struct {
		curves []picture.Curve
		line   picture.LineType
		ink    picture.Colour
	}{{v.stays, picture.Thin, picture.Faint}, {v.went, picture.Hidden, picture.Ink}, {v.came, picture.Accented, ""}} {
		if len(one.curves) > 0 {
			p.Add(picture.Path{Curves: picture.MoveCurves(one.curves, scale, shift), Line: one.line, Ink: one.ink})
		}
	}
}

// The kinds of line, in words.
var kinds = []struct {
	words string
	line  picture.LineType
	ink   picture.Colour
}{{"before", picture.Hidden, picture.Ink}, {"now", picture.Accented, ""}, {"both", picture.Thin, picture.Faint}}

const sample = 12.0 // mm, length of a line beside its words

// keyWidth is how wide the meanings of the lines are.
func keyWidth() float64 {
	all := 0.0
	for _, k := range kinds {
		all += sample + 8 + picture.TextWidth(k.words, letter, picture.Sans)
	}
	return all
}

// explain draws what the three kinds of line mean along the picture's lower edge.
func explain(p *picture.Picture) {
	x, y := rim, p.Height-rim
	for _, k := range kinds {
		p.Add(
			picture.Path{Curves: []picture.Curve{picture.Line{A: picture.Point{X: x, Y: y}, B: picture.Point{X: x + sample, Y: y}}}, Line: k.line, Ink: k.ink},
			picture.Text{At: picture.Point{X: x + sample + 2, Y: y}, Words: k.words, Height: letter, Rise: picture.MidCapital},
		)
		x += sample + 8 + picture.TextWidth(k.words, letter, picture.Sans)
	}
}

// from are the directions in words.
var from = map[string]string{"front": "from the front", "top": "from above", "right": "from the right"}
