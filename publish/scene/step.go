package scene

import (
	"fmt"
	"math"

	"golang.org/x/sync/errgroup"

	"plansheaf/design/layout"
	"plansheaf/design/memo"
	"plansheaf/design/plan"
	"plansheaf/design/way"
	"plansheaf/publish/picture"
	"plansheaf/publish/view"
)

// Steps draws an assembly at each of its steps, by step id: what is there by then,
// and what the step adds in the accent colour, seen from where that is seen best and
// from near by where it is small. Steps of another choice, those that add nothing
// with a shape, and those for which wanted says no are left out.
func (s *Studio) Steps(l *layout.Layout, a *plan.Assembly, sel plan.Selection, wanted func(*plan.Step) bool) (map[string]*picture.Picture, error) {
	cast := s.cast(l, a)
	out := map[string]*picture.Picture{}
	there := map[string]bool{} // uses and joints of earlier steps
	standing := make([]bool, len(cast.pieces))
	looks := lookouts{s: s, a: a, sel: sel, cast: cast, on: map[string]*lookout{}}
	rests := a.Rests(sel)
	drawing := newEasels(len(a.Steps))
	for n, st := range a.Steps {
		if !st.Only.Fits(sel) {
			continue
		}
		news := way.News(a, st, there)
		var fresh []int
		for i, k := range cast.brings {
			if !standing[i] && news[k] {
				fresh, standing[i] = append(fresh, i), true
			}
		}
		for k := range news {
			there[k] = true
		}
		if len(fresh) == 0 {
			continue
		}
		looks.enter(fresh)
		if !wanted(st) {
			continue
		}
		side, given := direction(st, rests[st].On)
		if !given {
			side = looks.as(rests[st].On).best(fresh)
		}
		now := newStage(cast, standing, fresh)
		drawing.start(n, func() (*picture.Picture, error) { return s.step(a, st, rests[st].On, now, side) })
	}
	pics, err := drawing.done()
	for n, pic := range pics {
		if pic != nil {
			out[a.Steps[n].ID.Text] = pic
		}
	}
	return out, err
}

// mostEasels is how many pictures are drawn at a time: while one goes through what no
// two processors can share, the other uses them.
const mostEasels = 2

// easels draw pictures beside each other.
type easels struct {
	group errgroup.Group
	pics  []*picture.Picture
	errs  []error
}

func newEasels(pictures int) *easels {
	e := &easels{pics: make([]*picture.Picture, pictures), errs: make([]error, pictures)}
	e.group.SetLimit(mostEasels)
	return e
}

// start begins the k-th picture.
func (e *easels) start(k int, draw func() (*picture.Picture, error)) {
	e.group.Go(func() error {
		e.pics[k], e.errs[k] = draw()
		return nil
	})
}

// done waits for all pictures; of several errors the one of the first picture counts.
func (e *easels) done() ([]*picture.Picture, error) {
	e.group.Wait()
	for _, err := range e.errs {
		if err != nil {
			return nil, err
		}
	}
	return e.pics, nil
}

// A stage is what stands at a step.
type stage struct {
	*cast
	now   []int  // indices
	isNew []bool // by place in now
}

func newStage(c *cast, standing []bool, fresh []int) stage {
	on := stage{cast: c}
	added := make([]bool, len(c.pieces))
	for _, i := range fresh {
		added[i] = true
	}
	for i, stands := range standing {
		if stands {
			on.now, on.isNew = append(on.now, i), append(on.isNew, added[i])
		}
	}
	return on
}

// step draws one step from a side, as the work lies on a face. What is hidden, or stands
// beside what the picture shows, may change without the picture being drawn again.
func (s *Studio) step(a *plan.Assembly, st *plan.Step, on string, there stage, side view.Direction) (*picture.Picture, error) {
	v := memo.Sure(s.memory.Kept, "what is seen of a step", func() vista {
		return s.vista(there.some(there.now), there.isNew, side)
	}, there.key(there.now), there.isNew, side)
	if len(v.Seen) == 0 {
		return nil, nil
	}
	seen := stage{cast: there.cast}
	for _, k := range v.Seen {
		seen.now, seen.isNew = append(seen.now, there.now[k]), append(seen.isNew, there.isNew[k])
	}
	return memo.Do(s.memory.Kept, "a step", func() (*picture.Picture, error) {
		return s.drawStep(a, st, on, seen, v, side)
	}, a.ID.Text, a.Title.Value, st.ID.Text, st.Title.Value, on, seen.key(seen.now), seen.isNew, side, v.Box, v.Part)
}

// A vista is what a step's picture shows.
type vista struct {
	Box  picture.Box // at 1:1
	Part bool        // it is not all that stands
	Seen []int       // the pieces that something is seen of; none where there is no picture
}

func (s *Studio) vista(now []layout.Piece, isNew []bool, side view.Direction) vista {
	var added []layout.Piece
	for i, p := range now {
		if isNew[i] {
			added = append(added, p)
		}
	}
	var v vista
	v.Box, v.Part = window(around(now, side), around(added, side))
	if a := fitted(v.Box, wide, high); a != nil {
		v.Seen = s.survey(now, side, a).shown(len(now))
	}
	return v
}

// drawStep draws the pieces that are seen of a step.
func (s *Studio) drawStep(a *plan.Assembly, st *plan.Step, on string, seen stage, v vista, side view.Direction) (*picture.Picture, error) {
	art := fitted(v.Box, wide, high)
	all := make([]int, len(seen.now))
	for i := range all {
		all[i] = i
	}
	if err := s.draw(art, seen.some(seen.now), all, side, smallest); err != nil {
		return nil, err
	}
	pic := &picture.Picture{
		Name: "steps/" + a.ID.Text + "." + st.ID.Text, Title: st.Title.Value,
		Description: fmt.Sprintf("%s at the step %q: what it adds is drawn in the accent colour.", a.Title.Value, st.Title.Value),
	}
	if on != plan.Bottom && on != plan.Hand {
		pic.Description += fmt.Sprintf(" It lies on its %s.", on)
	}
	if v.Part {
		pic.Description += " The picture shows the part of it where they come."
	}
	var old, new []picture.Curve
	for _, line := range art.lines {
		if seen.isNew[line.Body] {
			new = append(new, line.Curves...)
		} else {
			old = append(old, line.Curves...)
		}
	}
	art.paper(pic, edge)
	var marks []picture.Mark
	if len(old) > 0 {
		line := picture.Visible
		if len(new) > 0 {
			line = picture.Thin
		}
		marks = append(marks, picture.Path{Curves: art.placed(old), Line: line})
	}
	if len(new) > 0 {
		marks = append(marks, picture.Path{Curves: art.placed(new), Line: picture.Accented})
	}
	if v.Part {
		corner := art.point(art.box.Min)
		frame := picture.Rectangle(corner, pic.Width-2*corner.X, pic.Height-2*corner.Y)
		marks = []picture.Mark{picture.Clip{Outline: frame, Marks: marks}, picture.Path{Curves: frame, Line: picture.Hair}}
	}
	pic.Add(marks...)
	return pic, nil
}

const (
	// nearShare is the share of the whole that a step's picture shows at the least,
	// in each direction: less, and nobody sees where on the machine it is.
	nearShare = 0.4
	// newShare is the share of the picture that what is new takes at the most.
	newShare = 0.55
	// farShare is from which share of the whole on all of it is shown.
	farShare = 0.8
)

// window is what a step's picture shows of the whole: what is new with what stands
// around it, or all of it where that would be most of it.
func window(whole, new picture.Box) (box picture.Box, part bool) {
	w := math.Max(nearShare*whole.Width(), new.Width()/newShare)
	h := math.Max(nearShare*whole.Height(), new.Height()/newShare)
	// As wide and high as pictures are, so that nothing shrinks for want of the other.
	if k := wide / high; w < h*k {
		w = h * k
	} else {
		h = w / k
	}
	w, h = math.Min(w, whole.Width()), math.Min(h, whole.Height())
	if w > farShare*whole.Width() && h > farShare*whole.Height() {
		return whole, false
	}
	place := func(middle, size, low, high float64) float64 {
		return math.Min(math.Max(middle-size/2, low), high-size)
	}
	at := picture.Point{
		X: place(new.Centre().X, w, whole.Min.X, whole.Max.X),
		Y: place(new.Centre().Y, h, whole.Min.Y, whole.Max.Y),
	}
	return picture.Box{Min: at, Max: at.Plus(picture.Point{X: w, Y: h})}, true
}
