package sheet

import (
	"cmp"
	"math"
	"slices"

	"plansheaf/design/solid"
	"plansheaf/publish/picture"
)

// A tip is where a leader may end: on an edge, coming from outside along away.
type tip struct {
	at   point
	away point // unit direction from the edge towards the words; zero: any
}

// leaderRequest asks for words at the end of a leader line.
type leaderRequest struct {
	tips  []tip
	lines []string // above and below the level end of the leader
	class string
	plain bool        // no arrowhead: a dot-free line from another line
	box   picture.Box // the view: words had better stand outside it
	reach float64     // longest leader, mm; 0 for the usual
}

// leaderTry is one way to run a leader.
type leaderTry struct {
	tip, knee, end point
	cost           float64
	order          int // of its ray
}

// leaderWords are the lines at a leader's end, measured once.
type leaderWords struct {
	lines        []string
	width        float64 // of the longest
	above, below float64 // how far they reach from the leader's level end
}

func (l *layout) measure(lines []string) leaderWords {
	w := leaderWords{lines: lines}
	for i, words := range lines {
		text := picture.Text{Words: words, Height: l.height}
		w.width = max(w.width, text.Width())
		if i == 0 {
			w.above = lift + text.Descent() + l.height
		} else {
			w.below = lift + l.height + text.Descent()
		}
	}
	return w
}

// Costs by which leaders are chosen, in millimetres of leader.
const (
	costCrossing = 5.0  // for each line that it crosses
	costInside   = 12.0 // for words within the view
	costTurn     = 6.0  // for a radian off the tip's own direction
)

// leaderAngles are the directions of leaders in degrees, the usual ones first:
// never level or upright, where they would pass for dimension lines.
var leaderAngles = []float64{45, 60, 30, 75, 20, 135, 120, 150, 105, 160, -45, -60, -30, -75, -20, -135, -120, -150, -105, -160}

// Leaders are tried in growing lengths, mm.
const (
	leaderShortest = 5.0
	leaderLongest  = 110.0
	leaderStep     = 2.5
	leaderTurnMost = 1.3 // radians off the tip's own direction
)

// A ray is one direction in which a leader may leave one of its tips.
type ray struct {
	tip       point
	direction point
	off       float64 // radians off the tip's own direction
	order     int
	looked    bool
	sight     sight
	dead      bool // no longer leader finds a place either
}

// rays of a leader, those that turn too far from their tip's direction left out.
func (r leaderRequest) rays() []ray {
	list := make([]ray, 0, len(r.tips)*len(leaderAngles)/2)
	for _, t := range r.tips {
		for _, direction := range leaderDirections {
			off := 0.0
			if t.away != (point{}) {
				off = math.Acos(max(-1, min(1, direction.X*t.away.X+direction.Y*t.away.Y)))
				if off > leaderTurnMost {
					continue
				}
			}
			list = append(list, ray{tip: t.at, direction: direction, off: off, order: len(list)})
		}
	}
	return list
}

// leaderDirections are the unit vectors of leaderAngles on the sheet, y down.
var leaderDirections = func() []point {
	var list []point
	for _, degrees := range leaderAngles {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		list = append(list, point{X: cos, Y: -sin})
	}
	return list
}()

// manyTries is how many places are tried before the board is counted up.
const manyTries = 2000

// leader runs a leader to the best free place. It reports whether there was one.
//
// Short leaders are tried first, in all directions, since none longer than what the
// best costs can be better.
func (l *layout) leader(r leaderRequest) bool {
	words := l.measure(r.lines)
	c := l.board.index
	rays := r.rays()
	var best *leaderTry
	tries := 0
	for run := leaderShortest; run < cmp.Or(r.reach, leaderLongest) && (best == nil || run <= best.cost); run += leaderStep {
		if tries > manyTries {
			c.count() // pays where places are rare
		}
		for i := range rays {
			if y := &rays[i]; !y.dead {
				tries++
				if try, ok := c.try(r, words, y, run, best); ok {
					best = &try
				}
			}
		}
	}
	if best == nil {
		return false
	}
	l.paintLeader(r, *best)
	return true
}

// better reports whether a leader of a cost, the given ray's, is to be preferred:
// of two as good the one whose ray comes first.
func (t *leaderTry) better(cost float64, order int) bool {
	return t == nil || cost < t.cost || cost == t.cost && order < t.order
}

// try tests one direction and length; false also for what is no better than the best
// so far.
func (c *crowd) try(r leaderRequest, w leaderWords, y *ray, run float64, best *leaderTry) (leaderTry, bool) {
	try := leaderTry{tip: y.tip, knee: y.tip.Plus(y.direction.Times(run)), cost: run + costTurn*y.off, order: y.order}
	if !best.better(try.cost, y.order) || !c.board.limit.Contains(picture.BoxAround(try.knee)) {
		y.dead = true
		return try, false
	}
	way := math.Copysign(1, y.direction.X)
	try.end = try.knee.Plus(point{X: way * (shoulder + w.width)})
	from := point{X: try.knee.X + way*shoulder, Y: try.knee.Y}
	around := picture.BoxAround(from, try.end)
	around.Min.Y -= w.above
	around.Max.Y += w.below
	if r.box.Overlaps(around) {
		try.cost += costInside
	}
	if !best.better(try.cost, y.order) || !c.free(around) { // both lines and what lies between them
		return try, false
	}
	if !y.looked {
		y.looked, y.sight = true, c.look(y.tip, y.direction, leaderLongest)
	}
	if y.sight.words < run {
		y.dead = true
		return try, false
	}
	try.cost += costCrossing * float64(y.sight.crossed(run))
	return try, best.better(try.cost, y.order) && c.clean(try.knee, try.end)
}

func (l *layout) paintLeader(r leaderRequest, try leaderTry) {
	l.board.draw(picture.Line{A: try.tip, B: try.knee}, picture.Line{A: try.knee, B: try.end})
	l.add(picture.Path{Curves: picture.Polyline(try.tip, try.knee, try.end), Line: picture.Thin})
	if !r.plain {
		d := try.tip.Minus(try.knee)
		l.add(arrow(try.tip, d.Times(1/try.tip.Distance(try.knee))))
	}
	anchor, from := picture.Start, try.knee.X+shoulder
	if try.end.X < try.knee.X {
		anchor, from = picture.End, try.knee.X-shoulder
	}
	for i, words := range r.lines {
		text := picture.Text{Words: words, Height: l.height, Anchor: anchor, Class: r.class}
		text.At = point{X: from, Y: try.knee.Y - lift - text.Descent()}
		if i > 0 {
			text.At.Y, text.Rise = try.knee.Y+lift, picture.TopCapital
		}
		l.board.take(text.Bounds())
		l.add(text)
	}
}

// callouts paints the sizes: holes, rings, round steps, radii. It reports
// whether all found a place.
func (l *layout) callouts() bool {
	type job struct {
		request leaderRequest
		width   float64
	}
	var jobs []job
	for i := range l.scheme.list {
		d := &l.scheme.list[i]
		view, tips := l.tipsFor(d)
		if tips == nil {
			continue
		}
		d.View = l.panes[view].name()
		lines := []string{d.Text}
		if d.Second != "" {
			lines = append(lines, d.Second)
		}
		jobs = append(jobs, job{leaderRequest{tips: tips, lines: lines, class: "callout", box: l.panes[view].outline()},
			picture.TextWidth(d.Text, l.height, picture.Sans)})
	}
	// The widest is the hardest to place.
	slices.SortStableFunc(jobs, func(a, b job) int { return compare(b.width, a.width) })
	ok := true
	for _, j := range jobs {
		ok = l.leader(j.request) && ok
	}
	return ok
}

// tipsFor are the places that a size may point to, in the view that shows it
// best; nil when the dimension has no leader.
func (l *layout) tipsFor(d *Dimension) (int, []tip) {
	switch d.Kind {
	case Callout:
		return l.holeTips(d.holes)
	case Ring:
		return l.ringTips(l.part.groups[d.group])
	case Radius:
		return l.roundTips(l.part.rounds[d.round])
	case Diameter:
		return l.barrelTips(d.barrel)
	case Chamfer, Taper:
		return l.bevelTips(d.bevels)
	}
	return 0, nil
}

func (l *layout) holeTips(holes []int) (int, []tip) {
	first := l.part.holes[holes[0]]
	for _, i := range holes { // of those at both ends of a bar, one that a view shows
		if slices.ContainsFunc(l.panes, func(q pane) bool { return q.covers(l.part.holes[i]) }) {
			first = l.part.holes[i]
			break
		}
	}
	view := -1
	for i := range l.panes {
		if q := &l.panes[i]; q.covers(first) {
			e := q.eye
			// The mouth's side shows a counterbore or countersink best.
			if view < 0 || e.Toward.Dot(first.dir) < 0 && l.panes[view].eye.Toward.Dot(first.dir) > 0 {
				view = i
			}
		}
	}
	if view < 0 {
		if view, tips := l.cutTips(holes); tips != nil {
			return view, tips
		}
		return l.askew(first)
	}
	q := &l.panes[view]
	var tips []tip
	for _, i := range holes {
		h := l.part.holes[i]
		if !q.covers(h) {
			continue // at the other end
		}
		if h.long > 0 {
			half := h.along.Mul((h.long - h.d) / 2)
			for _, end := range []float64{-1, 1} {
				tips = append(tips, rimTips(q.place(h.at.Add(half.Mul(end))), h.rim()*q.scale, q.place(h.at))...)
			}
			continue
		}
		tips = append(tips, rimTips(q.place(h.at), h.rim()*q.scale, point{})...)
		if len(tips) > mostTips {
			break
		}
	}
	return view, tips
}

// mostTips bounds the search on large patterns.
const mostTips = 160

// rimTips stand around a circle; those that face a middle are left out, as the
// inner side of a slot's end is.
func rimTips(centre point, radius float64, middle point) []tip {
	var tips []tip
	for degrees := 15; degrees < 360; degrees += 15 {
		angle := float64(degrees) * math.Pi / 180
		away := point{X: math.Cos(angle), Y: -math.Sin(angle)}
		if in := middle.Minus(centre); middle != (point{}) && away.X*in.X+away.Y*in.Y > 0 {
			continue
		}
		if degrees%90 == 0 {
			continue // along the centre mark
		}
		tips = append(tips, tip{centre.Plus(away.Times(radius)), away})
	}
	return tips
}

// askew points at the mouth of a hole that no view shows as a circle.
func (l *layout) askew(h hole) (int, []tip) {
	q := &l.panes[0]
	return 0, []tip{{at: q.place(h.at)}}
}

func (l *layout) ringTips(g group) (int, []tip) {
	first := l.part.holes[g.holes[0]]
	centre := l.part.circles[g.pattern]
	for i := range l.panes {
		q := &l.panes[i]
		if !sameWay(first.dir, q.eye.Toward) {
			continue
		}
		middle, radius := q.place(centre), q.scale*first.at.Dist(centre)
		start := q.place(first.at).Minus(middle)
		angle := math.Atan2(start.Y, start.X)
		var tips []tip
		n := len(g.holes)
		for k := range n { // between holes
			a := angle + 2*math.Pi*(float64(k)+0.5)/float64(n)
			away := point{X: math.Cos(a), Y: math.Sin(a)}
			tips = append(tips, tip{middle.Plus(away.Times(radius)), away})
		}
		return i, tips
	}
	return 0, nil
}

func (l *layout) roundTips(r rounding) (int, []tip) {
	for i := range l.panes {
		q := &l.panes[i]
		if !sameWay(r.at[0].Z, q.eye.Toward) {
			continue
		}
		var tips []tip
		for k, c := range r.at {
			if !sameWay(c.Z, q.eye.Toward) {
				continue
			}
			for _, share := range []float64{0.5, 0.35, 0.65} {
				at := q.place(c.Point(r.sweep[k][0] + share*(r.sweep[k][1]-r.sweep[k][0])))
				away := at.Minus(q.place(c.O))
				away = away.Times(1 / at.Distance(q.place(c.O)))
				if r.inside[k] {
					away = away.Times(-1)
				}
				tips = append(tips, tip{at, away})
			}
		}
		return i, tips
	}
	return 0, nil
}

// bevelTips stand in the middle of chamfers, in the view that shows most of them as a
// line.
func (l *layout) bevelTips(at []bevel) (int, []tip) {
	view := 0
	var best []tip
	for i := range l.panes {
		q := &l.panes[i]
		var tips []tip
		for _, b := range at {
			switch {
			case b.radius == 0 && sameAxis(q.eye.Toward, b.normal):
				middle := q.place(b.middle)
				tips = append(tips, tip{middle, q.place(b.middle.Add(b.out)).Minus(middle).Times(1 / q.scale)})
			case b.radius > 0 && !sameAxis(q.eye.Toward, b.axis):
				side := b.axis.Vec().Cross(q.eye.Toward)
				for _, way := range []float64{1, -1} {
					rim, middle := q.place(b.middle.Add(side.Mul(way*b.radius))), q.place(b.middle)
					tips = append(tips, tip{rim, rim.Minus(middle).Times(1 / rim.Distance(middle))})
				}
			}
		}
		if len(tips) > len(best) {
			view, best = i, tips
		}
	}
	return view, best
}

// barrelTips stand on both silhouettes of a round step in a view that shows them,
// hidden only where none does; or on its rim when no view shows it from the side.
func (l *layout) barrelTips(index int) (int, []tip) {
	b := l.part.barrels[index]
	for _, hidden := range []bool{false, true} {
		for i := range l.panes {
			q := &l.panes[i]
			if sameAxis(q.eye.Toward, b.axis) || !hidden && !slices.Contains(q.lit, index) {
				continue
			}
			if tips := q.silhouetteTips(b, 0.5, 0.3, 0.7, 0.15, 0.85); tips != nil {
				return i, tips
			}
			return i, q.silhouetteTips(b, 0.02, 0.98) // a break leaves no more of it
		}
	}
	for i := range l.panes {
		q := &l.panes[i]
		return i, rimTips(q.place(b.centre), b.d/2*q.scale, point{})
	}
	return 0, nil
}

// silhouetteTips stand on both silhouettes of a round step at shares of its length
// that the view does not leave out.
func (q *pane) silhouetteTips(b barrel, shares ...float64) (tips []tip) {
	side := b.axis.Vec().Cross(q.eye.Toward)
	for _, share := range shares {
		middle := b.centre.Add(b.axis.Vec().Mul((share - 0.5) * (b.to - b.from)))
		if q.gone(middle) {
			continue
		}
		for _, way := range []float64{1, -1} {
			at := q.place(middle.Add(side.Mul(way * b.d / 2)))
			away := at.Minus(q.place(middle))
			tips = append(tips, tip{at, away.Times(1 / math.Hypot(away.X, away.Y))})
		}
	}
	return tips
}

// labelReach is how far a label may stand from its hole, mm: beyond it nobody finds
// the one from the other among many.
const labelReach = 25.0

// holeLabels writes the labels of the hole table beside their holes. It reports
// whether all found a place; of many the first that finds none settles it.
func (l *layout) holeLabels() bool {
	ok := true
	l.labels = l.scheme.tableLetters(l.height)
	for _, r := range l.scheme.rows() {
		ok = l.label(l.part.holes[r.hole], r.label) && ok
		if !ok && !l.forced {
			break
		}
	}
	return ok
}

func (l *layout) label(h hole, words string) bool {
	letters := cmp.Or(l.labels, l.height)
	for i := range l.panes {
		q := &l.panes[i]
		if !q.covers(h) {
			continue
		}
		at := q.place(h.at)
		half := solid.Vec{}
		if h.long > 0 {
			half = h.along.Mul((h.long - h.d) / 2)
		}
		reach := q.place(h.at.Add(half)).Minus(at)
		radius := h.rim() * q.scale
		for _, out := range []float64{0.8, 1.8, 3, 4.5, 6.5} {
			for _, degrees := range []float64{45, 135, -45, -135, 25, 65, 155, 115, -25, -65, -155, -115} {
				angle := degrees * math.Pi / 180
				away := point{X: math.Cos(angle), Y: -math.Sin(angle)}
				text := picture.Text{Words: words, Height: letters, Class: "label", Rise: picture.MidCapital,
					At: at.Plus(point{X: math.Copysign(math.Abs(reach.X), away.X), Y: math.Copysign(math.Abs(reach.Y), away.Y)}).Plus(away.Times(radius + out))}
				if away.X < 0 {
					text.Anchor = picture.End
				}
				text.At.Y += math.Copysign(letters*math.Abs(away.Y)/2, away.Y)
				if l.board.free(text.Bounds()) {
					l.board.take(text.Bounds())
					l.add(text)
					return true
				}
			}
		}
		return l.leader(leaderRequest{tips: rimTips(at, radius, point{}), lines: []string{words}, class: "label", box: q.outline(), reach: labelReach})
	}
	return true
}
