package sheet

import (
	"cmp"
	"math"
	"slices"

	"plansheaf/publish/picture"
)

// Running dimensions (ISO 129-1, superimposed): several dimensions from one datum on
// one line, which has its origin marked and an arrow at each extension line; the
// values stand at the ends of these.

// running is how dimensions from one datum may run along one line.
type running struct {
	least int  // how many it takes; 0 for none, however many
	below bool // all below or at the left, where most of the others stand
}

// leastRun is how many dimensions from one datum make running ones worth their
// unusual look; before that, those of the longest runs alone are tried, of longRun at
// least.
const (
	leastRun = 4
	longRun  = 7
)

// Distances of running dimensions on paper, mm.
const (
	runOrigin = 1.2         // radius of the circle that marks the origin
	runJog    = 4.0         // over which extension lines bend apart to their values
	runApart  = clear + 0.1 // between values
)

// gather makes runs of the strips of a view that begin at one place and go the same
// way, on the side that is nearer to what all of them measure.
func (l *layout) gather(list []strip) {
	type key struct {
		view  int
		level bool
		datum int // place of the datum's end, hundredths of a millimetre
		way   bool
	}
	runs := map[key][]int{}
	var order []key
	for i, s := range list {
		start, ok := l.part.datumEnd(l.scheme.list[s.dimension])
		if !ok {
			continue
		}
		datum := s.ends[start].along
		k := key{s.view, s.side.horizontal(), int(math.Round(datum * 100)), s.ends[1-start].along > datum}
		if runs[k] == nil {
			order = append(order, k)
		}
		runs[k] = append(runs[k], i)
	}
	for n, k := range order {
		if len(runs[k]) >= l.running.least {
			l.run(list, runs[k], n+1)
		}
	}
}

// run lays the strips of one run on one side.
func (l *layout) run(list []strip, members []int, number int) {
	var best []strip
	least := math.Inf(1)
	sides := l.sidesFor(list[members[0]].dimension, list[members[0]].view)
	for k, side := range sides {
		if k > 0 && l.running.below {
			break
		}
		var tries []strip
		reach := 0.0
		for _, i := range members {
			s := l.stripOn(list[i].dimension, list[i].view, side)
			start, _ := l.part.datumEnd(l.scheme.list[s.dimension])
			s.datum, s.run, s.deep = s.ends[start].along, number, l.deepens(s)
			s.low, s.high = s.span()
			tries = append(tries, s)
			reach += l.reach(s)
		}
		if reach < least-3 {
			best, least = tries, reach
		}
	}
	for n, i := range members {
		list[i] = best[n]
	}
}

// datumEnd is which end of a linear dimension lies at its axis' datum; false for
// other dimensions and for those that lead past it.
func (p *part) datumEnd(d Dimension) (end int, ok bool) {
	if d.Kind != Linear || d.Reference {
		return 0, false
	}
	at := p.levels[d.axis][p.datum(d.axis)].at
	switch {
	case math.Abs(d.Low-at) < near:
		return 0, true
	case math.Abs(d.High-at) < near:
		return 1, true
	}
	return 0, false
}

// runs are the ways in which dimensions may run, the usual look without any first.
func (s *scheme) runs() []running {
	count := [3]int{}
	for _, d := range s.list {
		if _, ok := s.part.datumEnd(d); ok {
			count[d.axis]++
		}
	}
	switch most := slices.Max(count[:]); {
	case most >= longRun:
		return []running{{}, {least: longRun}, {least: leastRun}, {least: leastRun, below: true}}
	case most >= leastRun:
		return []running{{}, {least: leastRun}, {least: leastRun, below: true}}
	}
	return []running{{}}
}

// deepens is how far a running dimension's value reaches beyond its line.
func (l *layout) deepens(s strip) float64 {
	return overrun + runJog + lift + picture.TextWidth(s.words, l.height, picture.Sans)
}

// runMarks draws the runs among the strips. It reports whether all values found
// room.
func (l *layout) runMarks(list []strip) bool {
	done, ok := map[int]bool{}, true
	for _, s := range list {
		if s.run == 0 || done[s.run] {
			continue
		}
		done[s.run] = true
		var members []strip
		for _, m := range list {
			if m.run == s.run {
				members = append(members, m)
			}
		}
		ok = l.runMark(members) && ok
	}
	return ok
}

// A runEnd is one extension line of a run: where it stands along the side, where its
// value does, and the value.
type runEnd struct {
	along, label float64
	words        string
}

// runMark draws one run: its line, the origin, arrows and values.
func (l *layout) runMark(members []strip) bool {
	first := members[0]
	side, across := first.side, l.line(first)
	ends := []runEnd{{first.datum, first.datum, "0"}}
	for _, m := range members {
		low, high := m.span()
		far := high
		if math.Abs(high-m.datum) < math.Abs(low-m.datum) {
			far = low
		}
		ends = append(ends, runEnd{far, far, m.words})
	}
	slices.SortStableFunc(ends, func(a, b runEnd) int { return cmp.Compare(a.along, b.along) })
	tallest := 0.0 // brackets are taller than figures
	for _, e := range ends {
		tallest = max(tallest, picture.Text{Words: e.words, Height: l.height}.Bounds().Height())
	}
	spreadApart(ends, tallest+runApart)
	origin := side.point(first.datum, across)
	l.stroke(picture.Thin, picture.Circle(origin, runOrigin)...)
	low, high := ends[0].along, ends[len(ends)-1].along
	if low < first.datum-near {
		l.stroke(picture.Thin, picture.Line{A: side.point(first.datum-runOrigin, across), B: side.point(low, across)})
	} else {
		l.stroke(picture.Thin, picture.Line{A: side.point(first.datum+runOrigin, across), B: side.point(high, across)})
	}
	ok := true
	for _, e := range ends {
		if e.words != "0" {
			way := math.Copysign(1, e.along-first.datum)
			l.add(arrow(side.point(e.along, across), side.point(way, 0)))
		}
		ok = l.runValue(side, across, e) && ok
	}
	return ok
}

// runValue bends an extension line to its value and sets that in line with it.
func (l *layout) runValue(side edgeSide, across float64, e runEnd) bool {
	out := side.outward()
	from := across + out*overrun
	to := from + out*runJog
	text := picture.Text{Words: e.words, Height: l.height, Class: "dimension", Rise: picture.MidCapital,
		At: side.point(e.label, to+out*lift), Anchor: picture.Start}
	if side == below || side == leftOf {
		text.Anchor = picture.End
	}
	if side.horizontal() {
		text.Turn = math.Pi / 2
	}
	bend := picture.Line{A: side.point(e.along, from), B: side.point(e.label, to)}
	words, _ := l.board.crossings(bend.A, bend.B)
	if words > 0 || !l.board.free(text.Bounds()) {
		return false
	}
	l.stroke(picture.Thin, bend)
	l.board.take(text.Bounds())
	l.add(text)
	return true
}

// spreadApart moves the values of a run along it until they keep a distance, each as
// near its place as the others allow; ends are in order.
func spreadApart(ends []runEnd, apart float64) {
	type block struct {
		from, count int
		middle      float64 // where the block's members would have its middle, on average
	}
	var blocks []block
	for i, e := range ends {
		b := block{i, 1, e.along}
		for len(blocks) > 0 {
			last := blocks[len(blocks)-1]
			if b.middle-last.middle >= apart*float64(last.count+b.count)/2-1e-9 {
				break
			}
			n := last.count + b.count
			// Each member's place, less what it stands before or behind the middle.
			b = block{last.from, n, (last.middle*float64(last.count) + b.middle*float64(b.count)) / float64(n)}
			blocks = blocks[:len(blocks)-1]
		}
		blocks = append(blocks, b)
	}
	for _, b := range blocks {
		for k := range b.count {
			ends[b.from+k].label = b.middle + (float64(k)-float64(b.count-1)/2)*apart
		}
	}
}
