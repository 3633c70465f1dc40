package sequence

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/solid"
	"plansheaf/design/standards"
)

// A deal is one joint handled at one moment on a bench.
type deal struct {
	b      *bench
	turn   int // place in the bench's order
	word   plan.Word
	owner  *plan.Assembly
	joint  *plan.Joint
	rank   int   // what ranks below it in the step is there
	bodies []int // what the joint brings here, all places
	parts  map[string]bool
	last   int  // highest rank of its own parts in this step, -1 for none
	strict bool // all parts of the step are there, also those named after the joint's own
	floors map[moment]*floor
}

// A moment is when a joint is handled, and how the work lies then.
type moment struct {
	turn, rank int
	face       string
}

// deal prepares to handle a joint that a step names; nil for one that the case leaves
// out.
func (b *bench) deal(turn int, w plan.Word, rank int) *deal {
	owner, j := JointOf(b.r.Plan, b.a, w)
	if j == nil || b.g.Handled(j) == nil {
		return nil
	}
	d := &deal{b: b, turn: turn, word: w, owner: owner, joint: j, rank: rank, last: -1, floors: map[moment]*floor{}}
	for i := range b.bodies {
		if body := &b.bodies[i]; body.Of == j && b.since[i] <= turn {
			d.bodies = append(d.bodies, i)
		}
	}
	d.parts = d.paths(Features(j))
	for i := range b.bodies {
		if b.since[i] == turn && b.bodies[i].Of == nil && d.parts[b.bodies[i].Path] {
			d.last = max(d.last, b.rank[i])
		}
	}
	return d
}

// paths are the parts on the bench that features of the joint belong to.
func (d *deal) paths(features []plan.Word) map[string]bool {
	out := map[string]bool{}
	for _, f := range features {
		for _, spot := range d.b.r.Spots(d.owner, f) {
			for _, i := range d.bodies {
				path := strings.TrimPrefix(spot.Path, d.b.guestOf[d.joint])
				if prefix := d.b.bodies[i].Path; prefix != "" {
					path = prefix + "." + path
				}
				out[path] = true
			}
		}
	}
	return out
}

// lastParts are the parts of the joint's last layer.
func (d *deal) lastParts() map[string]bool {
	var features []plan.Word
	if n := len(d.joint.Through); n > 0 {
		features = append(features, d.joint.Through[n-1].Features...)
	}
	for _, place := range d.joint.Also {
		features = append(features, place[max(0, len(place)-1):]...)
	}
	return d.paths(features)
}

// there are the bodies that stand around one place of the joint: all from before; of
// the step's own parts those that the joint needs, and those named before them. What
// the place itself consists of is left out.
func (d *deal) there(body int, ownJoint bool) []int {
	me := &d.b.bodies[body]
	return d.b.before(d.turn, d.rank, func(i int) bool {
		other := &d.b.bodies[i]
		if other.Of == d.joint && other.Path == me.Path {
			return !ownJoint || other.Place == me.Place
		}
		return !d.strict && d.b.since[i] == d.turn && d.b.rank[i] < afterParts && d.b.rank[i] > d.last
	})
}

// screws are the joint's screws here.
func (d *deal) screws() []int {
	var list []int
	for _, i := range d.bodies {
		if d.b.bodies[i].Role == Screw {
			list = append(list, i)
		}
	}
	return list
}

// nutOf is the nut of a screw's place, -1 for none.
func (d *deal) nutOf(screw int) int {
	me := &d.b.bodies[screw]
	for _, i := range d.bodies {
		if o := &d.b.bodies[i]; o.Role == Nut && o.Path == me.Path && o.Place == me.Place {
			return i
		}
	}
	return -1
}

// outcome is what trying one place gave.
type outcome struct {
	ok    bool
	tool  Wrench // where ok
	hold  Wrench // what holds the nut; zero where nothing must
	kind  Kind
	tried []string
	by    int  // body in the way
	what  Kind // of OnlyBench: what would not go
}

// tighten tries every tool on one screw, and on its nut where that must be held.
func (d *deal) tighten(screw int, there []int) outcome {
	f := d.b.bodies[screw].Part.Fastener
	if f == nil {
		return outcome{ok: true}
	}
	list := d.b.store.wrenches(f)
	if len(list) == 0 || d.setBefore(screw) {
		return outcome{ok: true}
	}
	if f.Kind == standards.Ring { // from either side
		frame := axisFrame(d.b.at[screw])
		one := d.try(frame, list, there)
		if !one.ok {
			if other := d.try(solid.FrameAlong(frame.Point(0, 0, d.b.sizes[screw].Max.Z), frame.Z.Mul(-1)), list, there); other.ok {
				return other
			}
		}
		return one
	}
	nut, nutList := d.held(screw, there)
	frame := d.driveFrame(screw, *f)
	head := d.try(frame, list, there)
	if nut < 0 {
		return head
	}
	nutFrame := axisFrame(d.b.at[nut])
	if head.ok {
		hold := d.try(nutFrame, still(nutList), there)
		if hold.ok {
			head.hold = hold.tool
			return head
		}
		hold.kind = NutNotHeld
		head = hold
	}
	// The other way round: the nut is turned, the head held.
	turned := d.try(nutFrame, nutList, there)
	if turned.ok {
		if held := d.try(frame, still(list), there); held.ok {
			turned.hold = held.tool
			return turned
		}
	}
	return head
}

// still are tools that only hold.
func still(list []wrench) []wrench {
	out := slices.Clone(list)
	for i := range out {
		out[i].turn = 0
	}
	return out
}

// driveFrame is the plane that a tool works in on a screw: the top of a head with a
// socket, the underside of a hexagon.
func (d *deal) driveFrame(screw int, f standards.Fastener) solid.Frame {
	frame := axisFrame(d.b.at[screw])
	if f.Drive.Kind == standards.HexSocket || f.Drive.ByDriver() || f.Kind == standards.Rivet || f.Kind == standards.Pin || f.Kind == standards.SpringPin {
		frame.O = frame.O.Add(frame.Z.Mul(d.b.sizes[screw].Max.Z))
	}
	return frame
}

// try tries tools one after the other, on all that stands around an axis.
func (d *deal) try(frame solid.Frame, list []wrench, there []int) outcome {
	s := d.b.around(frame, there)
	out := outcome{kind: OutOfReach, by: -1}
	best := math.Inf(-1)
	for i := range list {
		w := &list[i]
		f, ok := s.fits(w)
		if ok {
			return outcome{ok: true, tool: w.Wrench}
		}
		out.tried = append(out.tried, w.says+": "+d.b.explain(w, f))
		if score := f.score(); score > best {
			best, out.by = score, f.body
		}
		if f.way {
			out.kind = NoWayForTool
		}
	}
	return out
}

// score tells how near a failing came to fitting: what has room and no way is
// nearest.
func (f failing) score() float64 {
	switch {
	case f.way:
		return 2
	case f.room >= f.need:
		return 1
	}
	return f.room / f.need
}

// explain says in words what a tool found.
func (b *bench) explain(w *wrench, f failing) string {
	name := b.nameOf(f.body)
	switch {
	case f.way:
		return fmt.Sprintf("would have room, but %s leaves no way to put it on", name)
	case f.room < f.need:
		return fmt.Sprintf("takes %s above the screw, %s leaves %s", millimetres(f.need), name, millimetres(f.room))
	case w.turn == 0:
		return fmt.Sprintf("%s leaves its handle no room", name)
	}
	return fmt.Sprintf("must turn by %d°, %s leaves %d°", degrees(w.turn), name, degrees(f.turn))
}

func degrees(rad float64) int { return int(math.Floor(rad*180/math.Pi + 0.5)) }

// millimetres is a length to a tenth for a message.
func millimetres(v float64) string {
	return quantity.Text(quantity.MM(math.Round(v*10)/10), quantity.Metric)
}

// held is the nut of a screw where it would turn along, with the tools for it; -1
// where there is none, or where its slot, its seat or walls around its hexagon hold
// it.
func (d *deal) held(screw int, there []int) (nut int, list []wrench) {
	nut = d.nutOf(screw)
	if nut < 0 {
		return -1, nil
	}
	f := d.b.bodies[nut].Part.Fastener
	if f == nil || f.Kind != standards.Nut || f.Flats <= 0 {
		return -1, nil
	}
	frame := axisFrame(d.b.at[nut])
	high := d.b.sizes[nut].Max.Z
	corner := f.Flats / math.Sqrt(3)
	if _, walled := d.b.around(frame, there).pierced(stem{0.3 * high, 0.7 * high, corner}); walled && d.captive(frame, there, f.Flats, high) {
		return -1, nil
	}
	me, shaft := d.b.at[screw], d.b.sizes[screw]
	tip := me.Point(solid.Vec{Z: shaft.Min.Z})
	out := math.Max(0, tip.Sub(frame.O).Dot(frame.Z)-high)
	return nut, nutTools(*f, out)
}

// captive reports whether walls between a hexagon's flats and its corners keep it from
// turning: something stands within the circle of its corners, and nothing within that
// of its flats.
func (d *deal) captive(frame solid.Frame, there []int, flats, high float64) bool {
	_, inside := d.b.around(frame, there).pierced(stem{0.3 * high, 0.7 * high, flats/2 - touching})
	return !inside
}

// nothing ranks below all that a step brings.
const nothing = math.MinInt

// dealt is one joint made tight, or found out of reach.
type dealt struct {
	tools []Wrench // used, each once, in the order of places
	holds []Wrench
	found []Obstruction
}

// tight tries all places of a joint.
func (d *deal) tight() dealt {
	var out dealt
	faults := map[Kind]*Obstruction{}
	screws := d.screws()
	for _, i := range screws {
		try := func() outcome { return d.tighten(i, d.there(i, true)) }
		if got := d.attempt(try); got.ok {
			out.tools, out.holds = once(out.tools, got.tool), once(out.holds, got.hold)
		} else {
			d.fault(faults, got, i, len(screws), try)
		}
	}
	out.found = inOrder(faults)
	return out
}

func once(list []Wrench, w Wrench) []Wrench {
	if w == (Wrench{}) || slices.Contains(list, w) {
		return list
	}
	return append(list, w)
}

func inOrder(faults map[Kind]*Obstruction) []Obstruction {
	var list []Obstruction
	for _, f := range faults {
		list = append(list, *f)
	}
	slices.SortFunc(list, func(a, b Obstruction) int { return int(a.Kind - b.Kind) })
	return list
}

// fault notes a place that does not go, with the first one's reasons.
func (d *deal) fault(faults map[Kind]*Obstruction, got outcome, body, all int, again func() outcome) {
	me := &d.b.bodies[body]
	f := faults[got.kind]
	if f == nil {
		name := d.joint.ID.Text
		if me.Path != "" {
			name = me.Path + "." + name
		}
		f = &Obstruction{
			Kind: got.kind, Step: d.b.order[d.turn], Word: d.word, Owner: d.owner, Joint: d.joint, Name: name, All: all,
			Tried: got.tried, Since: -1, Later: -1, Latest: d.latest(got.kind, again), What: got.what,
		}
		if got.by >= 0 {
			f.Blocks, f.Since = d.b.bodies[got.by], d.b.stepOf(got.by)
		}
		faults[got.kind] = f
	}
	f.Places = append(f.Places, me.Place)
}

// stepOf is the step that brings a body, -1 for none.
func (b *bench) stepOf(body int) int {
	if at := b.since[body]; at < len(b.order) {
		return b.order[at]
	}
	return -1
}

// latest is the last step before this one after which a place would still go, all of
// the joint's parts being there, for a nut all of the layer that it goes to; -1 for
// none.
func (d *deal) latest(kind Kind, again func() outcome) int {
	first, parts := 0, d.parts
	if kind == NutShutOut || kind == SlotShut {
		parts = d.lastParts()
	}
	for i := range d.b.bodies {
		if d.b.bodies[i].Of == nil && parts[d.b.bodies[i].Path] && d.b.since[i] < absent {
			first = max(first, d.b.since[i])
		}
	}
	was, rank := d.turn, d.rank
	defer func() { d.turn, d.rank = was, rank }()
	for turn := was - 1; turn >= first; turn-- {
		// What stands after that step is what is there before the next one.
		d.turn, d.rank = turn+1, nothing
		if kind == OnlyBench {
			d.b.floor = d.b.floorUnder(d.b.on(turn), d.b.before(turn+1, nothing, d.b.soft))
		}
		ok := d.posed(again).ok
		d.b.floor = nil
		if ok {
			return d.b.order[turn]
		}
	}
	return -1
}

// attempt tries something with the work on its bench. What only the bench keeps from
// going goes where the work is light enough to be picked up.
func (d *deal) attempt(try func() outcome) outcome {
	b := d.b
	if b.floor = d.ground(); b.floor == nil {
		return d.posed(try)
	}
	got := d.posed(try)
	if b.floor = nil; got.ok {
		return got
	}
	if free := d.posed(try); !free.ok || d.apart() || b.picked(d.turn) {
		return free
	}
	got.what, got.kind, got.by = got.kind, OnlyBench, onFloor
	return got
}

// apart reports whether the joint is made in hand, apart from all that is there: the step
// itself adds what it joins, and that is light.
func (d *deal) apart() bool {
	units := map[string]bool{}
	for i := range d.b.bodies {
		if body := &d.b.bodies[i]; body.Of == nil && d.parts[body.Path] {
			if d.b.since[i] != d.turn {
				return false
			}
			units[d.b.unit[i]] = true
		}
	}
	kg, known := 0.0, true
	for i := range d.b.bodies {
		if body := &d.b.bodies[i]; units[d.b.unit[i]] && d.b.unit[i] != "" {
			kg, known = kg+body.Part.Mass, known && body.Part.Weighed
		}
	}
	return known && kg < handy
}

// standing are the bodies that the work rests on while the joint is handled: what is
// there, and all parts of the step; of the joint's own only what was put in before.
func (d *deal) standing() []int {
	rank := d.rank
	if rank > nothing {
		rank = max(rank, afterParts)
	}
	return d.b.before(d.turn, rank, func(i int) bool {
		return d.b.soft(i) || !d.strict && d.b.bodies[i].Of == d.joint
	})
}

// ground is the bench under the work while the joint is handled.
func (d *deal) ground() *floor {
	now := moment{d.turn, d.rank, d.b.on(d.turn)}
	f, known := d.floors[now]
	if !known {
		f = d.b.floorUnder(now.face, d.standing())
		d.floors[now] = f
	}
	return f
}

// posed tries something as the machine rests, then with its motions elsewhere.
func (d *deal) posed(try func() outcome) outcome {
	got := try()
	if got.ok {
		return got
	}
	for _, p := range d.b.otherPoses() {
		d.b.swap(p)
		other := try()
		d.b.swap(p)
		if other.ok {
			return other
		}
	}
	return got
}
