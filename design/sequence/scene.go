package sequence

import (
	"math"

	"plansheaf/design/solid"
	"plansheaf/design/solid/proximity"
)

// A surround is what stands around an axis at one moment: bodies by index, seen in
// the axes of the tool.
type surround struct {
	b     *bench
	frame solid.Frame
	into  solid.Placement // from the assembly's axes to the frame's
	out   solid.Placement
	there []int  // bodies that count
	floor *floor // in the axes of the tool; nil for none
	seen  map[int]sight
	calls int     // how often all bodies were gone through
	piece polygon // the one visited
}

// A sight is a body as it is seen from the axes of a tool.
type sight struct {
	*proximity.Body
	at solid.Placement
}

// around looks at the bodies that count from an axis.
func (b *bench) around(frame solid.Frame, there []int) *surround {
	out := solid.Placement{Turn: [3]solid.Vec{frame.X, frame.Y, frame.Z}, Move: frame.O}
	return &surround{b: b, frame: frame, into: out.Inverse(), out: out, there: there, floor: b.floor.under(frame), seen: map[int]sight{}}
}

// pieces visits what of the bodies' triangles lies between two heights and not much
// further than reach from the axis; what lies in a box, in the axes of the tool, for
// which skip holds is left out. A nil skip holds for none.
func (s *surround) pieces(from, to, reach float64, skip func(box solid.Box) bool, visit func(body int, p *polygon) (goOn bool)) {
	if !(from < to) || s.b.store.looks > mostLooks {
		return
	}
	s.b.store.looks += len(s.there)
	s.calls++
	box := solid.Box{Min: solid.Vec{X: -reach, Y: -reach, Z: from}, Max: solid.Vec{X: reach, Y: reach, Z: to}}
	world := boxUnder(box, s.out)
	for _, i := range s.there {
		if !s.b.boxes[i].Meets(world) {
			continue
		}
		see, known := s.seen[i]
		if !known {
			see = sight{s.b.store.ways.Bodies().Of(s.b.bodies[i].Solid), s.b.at[i].Then(s.into)}
			s.seen[i] = see
		}
		var skipped func(solid.Box) bool
		if skip != nil {
			skipped = func(part solid.Box) bool { return skip(boxUnder(part, see.at)) }
		}
		goOn := true
		see.Within(boxUnder(box, see.at.Inverse()), skipped, func(t [3]solid.Vec) bool {
			s.b.store.looks++
			s.piece = cut([3]solid.Vec{see.at.Point(t[0]), see.at.Point(t[1]), see.at.Point(t[2])}, from, to)
			if s.piece.n > 0 {
				goOn = visit(i, &s.piece)
			}
			return goOn
		})
		if !goOn {
			return
		}
	}
}

// pierced is the first body found within a stem, and false where it is free.
func (s *surround) pierced(one stem) (body int, blocked bool) {
	is := s.ask("what stands in a stem", one.numbers(nil), []solid.Box{one.box()}, func() (out answer) {
		out.Body, out.Yes = s.piercing(one)
		return out
	})
	return is.Body, is.Yes
}

func (s *surround) piercing(one stem) (body int, blocked bool) {
	s.pieces(one.From+touching, one.To, one.R-touching, nil, func(i int, p *polygon) bool {
		if p.distance() < one.R-touching {
			body, blocked = i, true
		}
		return !blocked
	})
	if !blocked && one.From < one.To && s.floor != nil && s.floor.above(stem{one.From + touching, one.To, one.R - touching}) < 0 {
		return onFloor, true
	}
	return body, blocked
}

// room is how high above the plane a round of a radius stays free, up to most.
func (s *surround) room(r, most float64) float64 {
	all := stem{0, most, r}
	return s.ask("how high a stem stays free", all.numbers(nil), []solid.Box{all.box()}, func() (out answer) {
		low, high := 0.0, most
		for range 12 { // to 1/4096 of most
			middle := (low + high) / 2
			if _, blocked := s.piercing(stem{0, middle, r}); blocked {
				high = middle
			} else {
				low = middle
			}
		}
		out.Room = low
		return out
	}).Room
}

// blockedAngles are the directions in which a bar meets something. A bar that lies on
// something touches it.
func (s *surround) blockedAngles(bars []arm) angles {
	numbers, boxes := regionOf(nil, bars)
	is := s.ask("where bars meet something", numbers, boxes, func() (out answer) {
		out.Taken, out.Yes = s.shadows(bars).packed()
		return out
	})
	return unpacked(is.Taken, is.Yes)
}

func (s *surround) shadows(bars []arm) *angles {
	taken := angles{cover: newCover()}
	for _, bar := range bars {
		half := bar.Half - touching
		if taken.all {
			break
		}
		s.pieces(bar.From+touching, bar.To-touching, math.Min(bar.Reach, far), func(box solid.Box) bool {
			return taken.cover.left < coverParts && taken.cover.hides(box, half)
		}, func(i int, p *polygon) bool {
			p.shadow(half, bar.Inner, bar.Reach, &taken)
			return !taken.all
		})
		if s.floor != nil && !taken.all {
			s.floor.shadow(bar.lessTouching(), &taken)
		}
	}
	return &taken
}

// lessTouching is the bar by what it may reach into something.
func (a arm) lessTouching() arm {
	a.From, a.To, a.Half = a.From+touching, a.To-touching, a.Half-touching
	return a
}

// hides reports whether whatever lies in a box, seen along the axis, takes only angles
// that are taken, for a bar of half width half.
func (c *cover) hides(box solid.Box, half float64) bool {
	x, y := math.Max(0, math.Max(box.Min.X, -box.Max.X)), math.Max(0, math.Max(box.Min.Y, -box.Max.Y))
	near := math.Hypot(x, y)
	if near <= half || near == 0 {
		return false
	}
	first := math.Atan2(box.Centre().Y, box.Centre().X)
	low, high := 0.0, 0.0
	for _, at := range [4][2]float64{{box.Min.X, box.Min.Y}, {box.Max.X, box.Min.Y}, {box.Max.X, box.Max.Y}, {box.Min.X, box.Max.Y}} {
		d := math.Remainder(math.Atan2(at[1], at[0])-first, full)
		low, high = math.Min(low, d), math.Max(high, d)
	}
	wide := math.Asin(half / near)
	return c.holds(first+low-wide, high-low+2*wide)
}

// blocking is the body that takes most of the angles in which a bar meets something; -1
// where nothing does.
func (s *surround) blocking(bars []arm) int {
	numbers, boxes := regionOf(nil, bars)
	return s.ask("what blocks bars most", numbers, boxes, func() answer { return answer{Body: s.shading(bars)} }).Body
}

func (s *surround) shading(bars []arm) int {
	var taken angles
	share := map[int]float64{}
	note := func(i, n int, all bool) {
		for _, one := range taken.taken[n:] {
			share[i] += one.width
		}
		if taken.all && !all {
			share[i] += full
		}
	}
	for _, bar := range bars {
		s.pieces(bar.From+touching, bar.To-touching, math.Min(bar.Reach, far), nil, func(i int, p *polygon) bool {
			n, all := len(taken.taken), taken.all
			p.shadow(bar.Half-touching, bar.Inner, bar.Reach, &taken)
			note(i, n, all)
			return !taken.all
		})
		if s.floor != nil && !taken.all {
			n := len(taken.taken)
			s.floor.shadow(bar.lessTouching(), &taken)
			note(onFloor, n, false)
		}
	}
	body := -1
	for i, most := range share {
		if body == -1 || most > share[body] || most == share[body] && i < body {
			body = i
		}
	}
	return body
}

// A failing says why a tool does not reach, in what it found and what it would need.
type failing struct {
	body int     // the body in the way
	way  bool    // it would have room, but no way there
	room float64 // mm above the plane that are free for the stem
	need float64 // mm that the stem needs
	turn float64 // radians that the arm can swing; counts where room reaches
}

// fits reports whether a tool has room to turn, and a way to be put on.
func (s *surround) fits(w *wrench) (f failing, ok bool) {
	if w.lean > 0 {
		return s.leans(w)
	}
	if s.openAbove(w) {
		return failing{}, true
	}
	need := w.top() + w.raise // it must be lifted off again
	for _, one := range w.stems {
		one.To += w.raise
		if body, blocked := s.pierced(one); blocked {
			return failing{body: body, need: need, room: s.room(one.R, need)}, false
		}
	}
	swing := s.blockedAngles(w.arms)
	f = failing{need: need, room: need, turn: swing.widest()}
	if len(w.arms) > 0 && f.turn < w.turn || swing.all {
		f.body = s.blocking(w.arms)
		return f, false
	}
	if lifted := s.blockedAngles(raised(w.arms, 0, w.raise)); !swing.within(&lifted, w.turn) {
		f.body, f.room = s.blocking(raised(w.arms, 0, w.raise)), need-w.raise
		return f, false
	}
	if body, ok := s.enters(w, &swing); !ok {
		f.body, f.way = body, true
		return f, false
	}
	return failing{}, true
}

// openAbove reports whether nothing at all stands above a tool, over an angle that it
// can swing through: most screws are put in like this, and no more is asked then.
func (s *surround) openAbove(w *wrench) bool {
	var stems []stem
	for _, one := range w.stems {
		stems = append(stems, stem{one.From, far, one.R})
	}
	arms := raised(w.arms, 0, far)
	numbers, boxes := regionOf(stems, arms)
	return s.ask("whether all above a tool is free", append(numbers, w.turn), boxes, func() (out answer) {
		for _, one := range stems {
			if _, blocked := s.piercing(one); blocked {
				return out
			}
		}
		open := s.shadows(arms)
		out.Yes = !open.all && open.widest() >= w.turn
		return out
	}).Yes
}

// raised are bars with their lower and upper sides lifted.
func raised(bars []arm, low, high float64) []arm {
	var out []arm
	for _, bar := range bars {
		bar.From, bar.To = bar.From+low, bar.To+high
		out = append(out, bar)
	}
	return out
}

// enters reports whether a tool can be brought to its place from outside: straight
// down the axis, or from the side that its arm points to, lifted far enough to pass
// over what stands around.
func (s *surround) enters(w *wrench, swing *angles) (body int, ok bool) {
	body = -1
	for _, one := range w.stems {
		if i, blocked := s.pierced(stem{one.From, far, one.R}); blocked {
			body = i
			break
		}
	}
	if body == -1 {
		above := raised(w.arms, 0, far)
		open := s.blockedAngles(above)
		if swing.within(&open, w.turn) {
			return -1, true
		}
		defer func() {
			if !ok {
				body = s.blocking(above)
			}
		}()
	}
	for _, more := range lifts {
		lift := w.raise + more
		for _, one := range w.stems {
			one.To += lift
			if _, blocked := s.pierced(one); blocked {
				return body, false
			}
		}
		open := s.blockedAngles(raised(w.arms, 0, lift))
		if open.all {
			continue
		}
		var across []arm
		for _, one := range w.stems {
			across = append(across, arm{From: one.From + lift, To: one.To + lift, Half: one.R, Reach: far})
		}
		for _, bar := range raised(w.arms, lift, lift) {
			bar.Reach = far
			across = append(across, bar)
		}
		side := s.blockedAngles(across)
		open.taken, open.all = append(open.taken, side.taken...), open.all || side.all
		if swing.within(&open, w.turn) {
			return -1, true
		}
	}
	return body, false
}

// lifts (mm) are how much further than off its screw a tool is lifted before it moves
// aside, as far as there is room.
var lifts = []float64{0, 2, 6, 15, 40, 120}

// leans tries a tool upright and leaning to eight sides, by all and by half of what
// it may.
func (s *surround) leans(w *wrench) (f failing, ok bool) {
	upright := *w
	upright.lean = 0
	f, ok = s.fits(&upright)
	for _, share := range []float64{0.5, 1} {
		for i := 0; i < 8 && !ok; i++ {
			sin, cos := math.Sincos(float64(i) * full / 8)
			side := s.frame.X.Mul(cos).Add(s.frame.Y.Mul(sin))
			z := s.frame.Z.Mul(math.Cos(share * w.lean)).Add(side.Mul(math.Sin(share * w.lean)))
			_, ok = s.b.around(solid.FrameAlong(s.frame.O, z), s.there).fits(&upright)
		}
	}
	return f, ok
}
