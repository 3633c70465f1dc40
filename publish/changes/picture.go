package changes

import (
	"errors"
	"fmt"

	"plansheaf/design/change"
	"plansheaf/design/check"
	"plansheaf/design/solid"
	"plansheaf/publish/picture"
	"plansheaf/publish/view"
)

const (
	// mostPictures is how many changed parts are drawn; the rest are told in words.
	mostPictures = 60
	// mostFaces is how many faces a part that is drawn may have in either revision.
	mostFaces = 4000

	paper  = 250.0 // mm, width of the views on a picture
	gap    = 12.0  // mm between views
	rim    = 8.0
	legend = 16.0
	letter = 2.5 // mm, height of capitals
)

// Pictures draws changed parts, each as it was and as it is laid over each other, by the
// part's name in the new revision. What cannot be drawn is left out: the words say it.
func Pictures(c *change.Comparison, old, new *check.Work) (map[string]*picture.Picture, error) {
	out := map[string]*picture.Picture{}
	for _, x := range c.Changes {
		if x.Kind != change.OfPart || x.What == change.Added || x.What == change.Removed || len(out) >= mostPictures {
			continue
		}
		was := x.ID
		if x.Was != "" {
			was = x.Was
		}
		before, after := old.Default().Reckoning.Part(was), new.Default().Reckoning.Part(x.ID)
		if before == nil || after == nil || before.Solid == nil || after.Solid == nil {
			continue
		}
		if len(before.Solid.Faces) > mostFaces || len(after.Solid.Faces) > mostFaces {
			continue
		}
		p, err := Overlay("parts/"+x.ID, x.Title, before.Solid, after.Solid)
		if errors.Is(err, errAlike) {
			continue
		}
		if err != nil {
			return nil, fmt.Errorf("draw part %q over what it was: %w", x.ID, err)
		}
		out[x.ID] = p
	}
	return out, nil
}

// errAlike says that two bodies look the same from all sides.
var errAlike = errors.New("no line differs")

// An overlaid view is one direction with its lines sorted.
type overlaid struct {
	name              string
	went, came, stays []picture.Curve
	box               picture.Box
}

// Overlay draws two bodies over each other, from the front, from above and from the
// right, with their own axes as what they have in common. Lines of the old one alone are
// dashed, those of the new one alone are wide; what both have is thin. The name is the
// picture's own.
func Overlay(name, title string, old, new *solid.Solid) (*picture.Picture, error) {
	var views []overlaid
	differs := false
	for _, side := range []string{"front", "top", "right"} {
		v, err := overlay(side, old, new)
		if err != nil {
			return nil, err
		}
		differs = differs || len(v.went)+len(v.came) > 0
		views = append(views, v)
	}
	if !differs {
		return nil, errAlike
	}
	return laidOut(name, title, views), nil
}

func overlay(side string, old, new *solid.Solid) (overlaid, error) {
	dir, _ := view.Named(side)
	lines := func(s *solid.Solid) ([]picture.Curve, error) {
		d, err := view.Project([]view.Body{{Solid: s, At: solid.Stay}}, dir, view.Options{VisibleOnly: true, NoThreads: true})
		if err != nil {
			return nil, err
		}
		return d.Curves(true, view.Edge, view.Silhouette), nil
	}
	was, err := lines(old)
	if err != nil {
		return overlaid{}, err
	}
	is, err := lines(new)
	if err != nil {
		return overlaid{}, err
	}
	v := overlaid{name: side}
	v.went, v.came, v.stays = compared(was, is)
	v.box = picture.CurveBounds(append(append([]picture.Curve{}, was...), is...))
	return v, nil
}

// laidOut puts views side by side at one scale, with what the lines mean below.
func laidOut(name, title string, views []overlaid) *picture.Picture {
	wide, high := gap*float64(len(views)-1), 0.0
	all := 0.0
	for _, v := range views {
		all += v.box.Max.X - v.box.Min.X
		high = max(high, v.box.Max.Y-v.box.Min.Y)
	}
	scale := min((paper-wide)/max(all, 1e-6), 120/max(high, 1e-6), 20)
	p := &picture.Picture{
		Name: name, Title: title + ", old and new laid over each other",
		Description: "Seen from the front, from above and from the right. Dashed lines were there before and are gone, wide lines are new, thin lines stay.",
		Width:       paper + 2*rim, Height: high*scale + 2*rim + legend,
	}
	x := rim
	for _, v := range views {
		shift := picture.Point{X: x - v.box.Min.X*scale, Y: rim + high*scale - v.box.Max.Y*scale}
		draw := func(list []picture.Curve, line picture.LineType, ink picture.Colour) {
			if len(list) > 0 {
				p.Add(picture.Path{Curves: picture.MoveCurves(list, scale, shift), Line: line, Ink: ink})
			}
		}
		draw(v.stays, picture.Thin, picture.Faint)
		draw(v.went, picture.Hidden, picture.Ink)
		draw(v.came, picture.Accented, "")
		width := (v.box.Max.X - v.box.Min.X) * scale
		p.Add(picture.Text{At: picture.Point{X: x + width/2, Y: p.Height - legend + letter}, Words: sides[v.name], Height: letter, Anchor: picture.Middle})
		x += width + gap
	}
	explain(p)
	return p
}

// explain draws what the three kinds of line mean along the picture's lower edge.
func explain(p *picture.Picture) {
	x, y := rim, p.Height-rim/2
	for _, one := range []struct {
		words string
		line  picture.LineType
		ink   picture.Colour
	}{{"before", picture.Hidden, picture.Ink}, {"now", picture.Accented, ""}, {"both", picture.Thin, picture.Faint}} {
		p.Add(
			picture.Path{Curves: []picture.Curve{picture.Line{A: picture.Point{X: x, Y: y}, B: picture.Point{X: x + 14, Y: y}}}, Line: one.line, Ink: one.ink},
			picture.Text{At: picture.Point{X: x + 16, Y: y}, Words: one.words, Height: letter, Rise: picture.MidCapital},
		)
		x += 44
	}
}

// sides are the directions in words.
var sides = map[string]string{"front": "from the front", "top": "from above", "right": "from the right"}
