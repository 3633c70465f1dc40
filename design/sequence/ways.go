package sequence

import (
	"fmt"
	"math"
	"slices"

	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/solid"
	"plansheaf/design/way"
)

// A unit is what a step adds as one, on its way in.
type unit struct {
	name   string
	bodies []int
	use    *plan.Use // of the assembly's own, nil for one further in
	word   plan.Word
}

// unitsOf are the units that a step adds, in the order of its words.
func (b *bench) unitsOf(turn int) []*unit {
	var list []*unit
	step := b.g.Steps[b.order[turn]].Step
	for i, since := range b.since {
		if since != turn || b.unit[i] == "" || b.soft(i) {
			continue
		}
		at := slices.IndexFunc(list, func(u *unit) bool { return u.name == b.unit[i] })
		if at < 0 {
			at = len(list)
			u := &unit{name: b.unit[i], word: step.ID}
			if n := b.rank[i]; n < len(step.Adds) {
				u.word = step.Adds[n]
			}
			u.use = b.useOf(b.unit[i])
			list = append(list, u)
		}
		list[at].bodies = append(list[at].bodies, i)
	}
	slices.SortStableFunc(list, func(x, y *unit) int { return b.rank[x.bodies[0]] - b.rank[y.bodies[0]] })
	return list
}

// useOf is the use at the end of a path.
func (b *bench) useOf(path string) *plan.Use {
	a := b.a
	var use *plan.Use
	for _, word := range (plan.Word{Text: path}).Path() {
		if isNumber(word) {
			continue
		}
		if a == nil {
			return use
		}
		if use = a.Use(word); use == nil {
			return nil
		}
		id, _ := use.Assembly.Pick(b.r.Case.Options)
		a = b.r.Plan.Assembly(id.Text)
	}
	return use
}

// soft reports whether a body bends: belts and strands find their own way.
func (b *bench) soft(i int) bool {
	body := &b.bodies[i]
	return body.Of == nil && body.Part != nil && (body.Part.Part.Loop != nil || body.Part.Part.Strand != nil)
}

// waysIn tries whether all that a step adds has a way in, with the work on its bench.
func (b *bench) waysIn(turn int) []Obstruction {
	ground := b.floorUnder(b.on(turn), b.before(turn, afterParts, b.soft))
	b.floor = ground
	found := b.comeIn(turn)
	b.floor = nil
	if ground == nil || len(found) == 0 {
		return found
	}
	free := b.comeIn(turn)
	if b.picked(turn) {
		return free
	}
	for _, o := range found {
		if !slices.ContainsFunc(free, func(other Obstruction) bool { return other.Name == o.Name }) {
			o.What, o.Kind, o.Latest = o.Kind, OnlyBench, -1
			o.Blocks, o.Since, o.Tried = Body{}, -1, b.throughBench(turn, o.Name, ground)
			free = append(free, o)
		}
	}
	return free
}

// throughBench says by which way a unit of a step would come but for the bench.
func (b *bench) throughBench(turn int, name string, ground *floor) []string {
	for _, u := range b.unitsOf(turn) {
		if u.name != name {
			continue
		}
		if e := b.leaves(turn, u, b.before(turn, nothing, b.soft)); e.ok {
			return []string{fmt.Sprintf("moved out %s it meets the bench after %s", toward(e.dir), millimetres(ground.runs(b.boxAround(u.bodies), e.dir)))}
		}
	}
	return []string{"its ways in lead through the bench"}
}

// comeIn tries whether all that a step adds has a way in. The units of one step may
// come in any order, and as one where none can come alone.
func (b *bench) comeIn(turn int) []Obstruction {
	left := b.unitsOf(turn)
	if len(left) == 0 {
		return nil
	}
	base := b.before(turn, nothing, b.soft)
	for progress := true; progress && len(left) > 0; {
		progress = false
		for i := len(left) - 1; i >= 0; i-- {
			there := slices.Clone(base)
			for k, other := range left {
				if k != i {
					there = append(there, other.bodies...)
				}
			}
			if b.leaves(turn, left[i], there).ok {
				left = slices.Delete(left, i, i+1)
				progress = true
			}
		}
	}
	if len(left) > 1 {
		whole := &unit{name: left[0].name, word: left[0].word}
		for _, u := range left {
			whole.bodies = append(whole.bodies, u.bodies...)
		}
		if b.leaves(turn, whole, base).ok {
			return nil
		}
	}
	var found []Obstruction
	for i, u := range left {
		there := slices.Clone(base)
		for k, other := range left {
			if k != i {
				there = append(there, other.bodies...)
			}
		}
		found = append(found, b.shutOut(turn, u, there))
	}
	return found
}

// An exit is what trying to take a unit out gave.
type exit struct {
	ok    bool
	given bool    // only the way that the plan gives was tried
	free  float64 // mm, the furthest it gets
	long  float64 // its own length on that way
	dir   solid.Vec
	by    int
}

// leaves tries whether a unit gets out past some bodies: as the machine rests, then
// with its motions elsewhere.
func (b *bench) leaves(turn int, u *unit, there []int) exit {
	if f := b.floor; f != nil {
		if low, _ := span(b.boxAround(u.bodies), f.up); low <= f.level+way.Allowance {
			b.floor = nil // it stands on the bench itself: the others are set down on it
			defer func() { b.floor = f }()
		}
	}
	e := b.exit(turn, u, there)
	if e.ok {
		return e
	}
	for _, p := range b.otherPoses() {
		b.swap(p)
		other := b.exit(turn, u, there)
		b.swap(p)
		if other.ok {
			return other
		}
	}
	return e
}

// swap takes the bodies to another pose, and back.
func (b *bench) swap(p *pose) {
	b.at, p.at = p.at, b.at
	b.boxes, p.boxes = p.boxes, b.boxes
	b.space, p.space = p.space, b.space
}

func (b *bench) exit(turn int, u *unit, there []int) exit {
	if u.use != nil && len(u.use.Way) > 0 {
		return b.givenWay(u, there)
	}
	dirs := b.directions(turn, u)
	for _, dir := range dirs { // boxes alone tell of most
		if len(b.ahead(u.bodies, there, dir)) == 0 && math.IsInf(b.overFloor(u.bodies, dir), 1) {
			return exit{ok: true, free: math.Inf(1), dir: dir, by: -1}
		}
	}
	best := exit{by: -1, free: -1}
	for _, dir := range dirs {
		free, by := b.runs(u.bodies, there, dir)
		if math.IsInf(free, 1) {
			return exit{ok: true, free: free, dir: dir, by: -1}
		}
		if free > best.free+solid.Tolerance { // of equal ones the first
			best = exit{free: free, dir: dir, by: by, long: b.extent(u.bodies, dir)}
		}
	}
	if b.floor != nil && b.slipsOut(u, there, dirs) {
		return exit{ok: true, free: math.Inf(1), dir: b.floor.up.Mul(-1), by: -1}
	}
	return best
}

// slipsOut tries whether a unit that goes down as far as the bench lets it then gets out
// sideways.
func (b *bench) slipsOut(u *unit, there []int, dirs []solid.Vec) bool {
	down := b.floor.up.Mul(-1)
	drop := b.overFloor(u.bodies, down)
	if free, _ := b.runs(u.bodies, there, down); drop < way.Allowance || free < drop-solid.Tolerance {
		return false
	}
	was, boxes, space := b.at, b.boxes, b.space
	defer func() { b.at, b.boxes, b.space = was, boxes, space }()
	b.shift(u.bodies, down.Mul(drop))
	for _, dir := range dirs {
		if math.Abs(dir.Dot(down)) > sameDirection {
			continue
		}
		if free, _ := b.runs(u.bodies, there, dir); math.IsInf(free, 1) {
			return true
		}
	}
	return false
}

// overFloor is how far bodies move along a direction before they meet the bench.
func (b *bench) overFloor(bodies []int, dir solid.Vec) float64 {
	if b.floor == nil {
		return math.Inf(1)
	}
	return b.floor.runs(b.boxAround(bodies), dir)
}

// boxAround is the box around some bodies.
func (b *bench) boxAround(bodies []int) solid.Box {
	box := solid.EmptyBox()
	for _, i := range bodies {
		box = box.Join(b.boxes[i])
	}
	return box
}

// directions are the ways out to try: up and aside, along the screws that the step
// puts in, along the part's own axes.
func (b *bench) directions(turn int, u *unit) []solid.Vec {
	var list []solid.Vec
	add := func(v solid.Vec) {
		for _, d := range []solid.Vec{v, v.Mul(-1)} {
			if !slices.ContainsFunc(list, func(w solid.Vec) bool { return w.Dist(d) < sameDirection }) {
				list = append(list, d)
			}
		}
	}
	for _, v := range []solid.Vec{{Z: 1}, {Y: -1}, {X: 1}} {
		add(v)
	}
	for i, since := range b.since {
		if since == turn && b.bodies[i].Role == Screw {
			add(b.at[i].Turn[2])
		}
	}
	for _, v := range b.at[u.bodies[0]].Turn {
		add(v)
	}
	return list
}

// sameDirection is how far unit vectors may lie apart and still count as one.
const sameDirection = 1e-4

// extent is how long bodies are along a direction, mm.
func (b *bench) extent(bodies []int, dir solid.Vec) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, i := range bodies {
		from, to := span(b.boxes[i], dir)
		low, high = math.Min(low, from), math.Max(high, to)
	}
	return high - low
}

// span is where a box begins and ends along a direction.
func span(box solid.Box, dir solid.Vec) (from, to float64) {
	middle, half := box.Centre().Dot(dir), box.Size().Mul(0.5)
	reach := math.Abs(dir.X)*half.X + math.Abs(dir.Y)*half.Y + math.Abs(dir.Z)*half.Z
	return middle - reach, middle + reach
}

// ahead are the bodies whose boxes lie in the way of others that move along a
// direction.
func (b *bench) ahead(bodies, there []int, dir solid.Vec) []int {
	swept := b.boxAround(bodies)
	swept = swept.Join(solid.Box{Min: swept.Min.Add(dir.Mul(far)), Max: swept.Max.Add(dir.Mul(far))}).Grow(-way.Allowance)
	var list []int
	for _, k := range there {
		if b.boxes[k].Meets(swept) && b.crosses(bodies, k, dir) {
			list = append(list, k)
		}
	}
	return list
}

// crosses reports whether a body's box lies ahead of the boxes of some bodies, one by
// one.
func (b *bench) crosses(bodies []int, k int, dir solid.Vec) bool {
	other := b.boxes[k]
	for _, i := range bodies {
		box := b.boxes[i]
		swept := box.Join(solid.Box{Min: box.Min.Add(dir.Mul(far)), Max: box.Max.Add(dir.Mul(far))})
		if other.Meets(swept.Grow(-way.Allowance)) {
			return true
		}
	}
	return false
}

// runs is how far bodies move together along a direction, and into what they run.
func (b *bench) runs(bodies, there []int, dir solid.Vec) (free float64, by int) {
	free, by = math.Inf(1), -1
	space := b.roomFor()
	for _, k := range b.ahead(bodies, there, dir) {
		for _, i := range bodies {
			if b.mated(i, k) {
				continue
			}
			if f := space.Free(i, k, dir, false, far); f < free {
				free, by = f, k
			}
		}
	}
	if space.Bounded() {
		return math.Inf(1), -1 // too much to work out: nothing is claimed
	}
	if f := b.overFloor(bodies, dir); f < free {
		return f, onFloor
	}
	return free, by
}

// roomFor is the space of the bodies where they stand.
func (b *bench) roomFor() *way.Space {
	if b.space == nil {
		pieces := make([]layout.Piece, len(b.bodies))
		for i := range b.bodies {
			pieces[i] = b.bodies[i].Piece
			pieces[i].At = b.at[i]
		}
		b.space = way.NewSpace(pieces, b.store.ways)
	}
	return b.space
}

// mated reports whether a thread that runs joins two bodies: they turn into each
// other, whatever their shapes say.
func (b *bench) mated(i, k int) bool {
	x, y := &b.bodies[i], &b.bodies[k]
	return x.Of == nil && y.Of == nil && (b.threads()[[2]string{x.Path, y.Path}] || b.threads()[[2]string{y.Path, x.Path}])
}

// threads are the pairs of paths that a running thread joins.
func (b *bench) threads() map[[2]string]bool {
	if b.running != nil {
		return b.running
	}
	b.running = map[[2]string]bool{}
	for _, j := range b.a.Joints {
		if j.Kind.Text != plan.Run || !j.Only.Fits(b.r.Case.Options) {
			continue
		}
		for _, w := range j.Mine.Features {
			for _, mine := range b.r.Spots(b.a, w) {
				for _, v := range j.Theirs.Features {
					for _, other := range b.r.Spots(b.a, v) {
						b.running[[2]string{mine.Path, other.Path}] = true
					}
				}
			}
		}
	}
	return b.running
}

// givenWay tries the way that the plan gives: the last leg backward first, then the
// others, the first one all the way out.
func (b *bench) givenWay(u *unit, there []int) exit {
	list := u.use.Way
	e := exit{ok: true, given: true, by: -1, dir: axis(list[0].Axis.Text).Mul(-1)}
	was, boxes, space := b.at, b.boxes, b.space
	defer func() { b.at, b.boxes, b.space = was, boxes, space }()
	gone := 0.0
	for i := len(list) - 1; i >= 0; i-- {
		dir := axis(list[i].Axis.Text).Mul(-1)
		long := math.Inf(1)
		if i > 0 {
			v, ok := b.r.QuantityIn(list[i].By, quantity.Length)
			if !ok {
				return exit{ok: true} // not given, or reported where it is worked out
			}
			long = v.SI * 1000
			if long < 0 {
				dir, long = dir.Mul(-1), -long
			}
		}
		if free, by := b.runs(u.bodies, there, dir); free < long-solid.Tolerance {
			e.ok, e.free, e.by, e.dir = false, gone+free, by, dir
			return e
		}
		gone += long
		b.shift(u.bodies, dir.Mul(long))
	}
	return e
}

// shift moves bodies aside for what follows; the caller puts the old places back.
func (b *bench) shift(bodies []int, by solid.Vec) {
	if math.IsInf(by.Len(), 1) || math.IsNaN(by.Len()) {
		return
	}
	b.at, b.boxes, b.space = slices.Clone(b.at), slices.Clone(b.boxes), nil
	for _, i := range bodies {
		b.at[i] = b.at[i].Then(solid.Moved(by))
		b.boxes[i] = boxUnder(b.sizes[i], b.at[i])
	}
}

// axis is the direction of a word such as "-z"; upward where reading found none.
func axis(word string) solid.Vec {
	if word == "" {
		return solid.Vec{Z: 1}
	}
	v := map[byte]solid.Vec{'x': {X: 1}, 'y': {Y: 1}, 'z': {Z: 1}}[word[len(word)-1]]
	if word[0] == '-' {
		return v.Mul(-1)
	}
	return v
}

// shutOut says why a unit has no way in.
func (b *bench) shutOut(turn int, u *unit, there []int) Obstruction {
	e := b.leaves(turn, u, there)
	o := Obstruction{Kind: PartShutOut, Step: b.order[turn], Word: u.word, Owner: b.a, Name: u.name, Since: -1, Latest: -1, Later: -1}
	switch {
	case e.given:
		o.Kind = WayBlocked
	case e.free >= e.long:
		o.Kind = PartMeets
	}
	if e.by >= 0 {
		o.Blocks, o.Since = b.bodies[e.by], b.stepOf(e.by)
		o.Tried = []string{fmt.Sprintf("moved out %s it meets %s after %s", toward(e.dir), o.Blocks.Name(), millimetres(e.free))}
	}
	for earlier := turn - 1; earlier >= 0; earlier-- {
		if b.leaves(turn, u, b.before(earlier+1, nothing, b.soft)).ok {
			o.Latest = b.order[earlier]
			break
		}
	}
	return o
}

// toward names a direction.
func toward(v solid.Vec) string {
	names := []struct {
		v    solid.Vec
		name string
	}{{solid.Vec{Z: 1}, "upward"}, {solid.Vec{Z: -1}, "downward"}, {solid.Vec{X: 1}, "to the right"}, {solid.Vec{X: -1}, "to the left"}, {solid.Vec{Y: -1}, "to the front"}, {solid.Vec{Y: 1}, "to the back"}}
	for _, n := range names {
		if n.v.Dist(v) < sameDirection {
			return n.name
		}
	}
	return "aslant"
}
