package layout

import (
	"fmt"
	"math"
	"slices"

	"plansheaf/design/plan"
	"plansheaf/design/solid"
)

// presser finds what presses on a belt, in the belt's plane: a round feature by its
// radius where its axis stands across the plane, all else by its reference point.
func (l *Layout) presser(a *plan.Assembly, use *plan.Use, b *Belt) {
	t, why := l.reach(a, use.Pressed.Path())
	if why != nil {
		l.missing(use.Pressed, a, use, why, fmt.Sprintf("there is no %q to press on it", use.Pressed.Text))
		return
	}
	body := l.body(t.use)
	if body == nil {
		return
	}
	f, ok := bodyFeature(body, t.name)
	if !ok {
		f, _ = axisFeature(body, "")
		if face, round := runningFace(body, f, 0); round {
			f.D = 2 * face.r
		}
	}
	f = Placed(f, t.at)
	d := f.At.Sub(b.Frame.O)
	w := &wheel{At: solid.Vec2{X: d.Dot(b.Frame.X), Y: d.Dot(b.Frame.Y)}}
	if math.Abs(f.Dir.Dot(b.Frame.Z)) > 1-solid.Tolerance {
		w.R = f.D / 2
	}
	b.press = w
}

// pressIn leads a belt that is too long by what presses on it: on the run and from
// the side that use up most of the slack without asking for more. Where it reaches no
// run, the belt stays as it is.
func (b *Belt) pressIn() {
	if b.press == nil || b.Over() <= b.gives() {
		return
	}
	best := b.Over()
	for run := range b.free.wheels {
		for _, back := range []bool{true, false} {
			w := wheel{At: b.press.At, R: b.press.R + b.Inside, Back: back}
			if back {
				w.R = b.press.R + b.Back
			}
			w.R = math.Max(w.R, solid.MinSize)
			path, bad, _ := around(slices.Insert(slices.Clone(b.free.wheels), run+1, w))
			slack := b.Stated - path.Length
			if bad >= 0 || slack < -b.gives() || slack >= best-solid.Tolerance {
				continue
			}
			best, b.loop, b.Slack = slack, path, slack
			b.Line, _, _ = path.outline(0)
			for i := range b.Pulleys {
				at := i
				if i > run {
					at++
				}
				b.Pulleys[i].wrapped(path.Wrap[at])
			}
		}
	}
}
