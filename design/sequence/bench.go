package sequence

import (
	"math"
	"slices"

	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/solid"
	"plansheaf/design/way"
)

// absent is when something arrives that no step brings.
const absent = math.MaxInt

// A bench is where one assembly is put together: its steps in the order in which
// they are worked through, and its bodies with the step that brings each.
type bench struct {
	r     *reckon.Reckoning
	g     *Graph
	a     *plan.Assembly
	store *Store
	order []int       // graph steps, as worked through
	turns map[int]int // graph step -> its place in order

	bodies    []Body
	own       int                    // how many of them are the assembly's; the others are guests
	guestOf   map[*plan.Joint]string // what leads here from the owner of a joint with guests, with its dot
	sizes     []solid.Box            // in each one's own axes
	at        []solid.Placement      // where each stands in the pose looked at
	boxes     []solid.Box
	since     []int    // place in order of the step that brings it; absent
	rank      []int    // within that step: parts by their place under adds, then what joints bring
	unit      []string // of what a step adds as one: "frame.feet.2"
	space     *way.Space
	laid      *layout.Layout
	elsewhere *elsewhere
	poses     []*pose
	posed     bool           // the poses were worked out
	measured  *joint.Machine // laid out when first asked for
	running   map[[2]string]bool
	rests     map[*plan.Step]plan.Rest
	tryOn     string                          // a face that is tried instead of what the plan says; "" for none
	floor     *floor                          // what the work stands on while something is tried; nil for nothing
	parts     map[*plan.Joint]map[string]bool // known answers of takes
}

// A pose is the same bodies with the machine's motions elsewhere.
type pose struct {
	at    []solid.Placement
	boxes []solid.Box
	space *way.Space
}

// newBench prepares an assembly; nil for one without steps or bodies.
func newBench(r *reckon.Reckoning, l *layout.Layout, g *Graph, a *plan.Assembly, store *Store, other *elsewhere) *bench {
	b := &bench{r: r, g: g, a: a, store: store, turns: map[int]int{}, laid: l, elsewhere: other, rests: a.Rests(r.Case.Options), guestOf: map[*plan.Joint]string{}}
	b.order = workingOrder(g, a)
	for i, k := range b.order {
		b.turns[k] = i
	}
	if len(b.order) == 0 {
		return nil
	}
	b.bodies = Bodies(r, l, a)
	if len(b.bodies) == 0 {
		return nil
	}
	b.own = len(b.bodies)
	b.guests()
	all := make([]int, len(b.bodies))
	for i := range b.bodies {
		body := &b.bodies[i]
		all[i] = i
		b.sizes = append(b.sizes, body.Solid.Box())
		b.at = append(b.at, body.At)
		b.boxes = append(b.boxes, boxUnder(b.sizes[i], body.At))
	}
	if store.Kept == nil { // else most of it may be known
		store.prepare(b, all)
	}
	b.arrive()
	return b
}

// workingOrder is the order in which the steps of an assembly are worked through: as
// the file has them, but each after those that it needs.
func workingOrder(g *Graph, a *plan.Assembly) []int {
	var list, out []int
	for _, st := range a.Steps {
		if k, present := g.Index(st); present {
			list = append(list, k)
		}
	}
	done := map[int]bool{}
	for len(out) < len(list) {
		next := -1
		for _, k := range list {
			if done[k] {
				continue
			}
			waits := slices.ContainsFunc(list, func(other int) bool { return !done[other] && other != k && g.Before(other, k) })
			if !waits {
				next = k
				break
			}
			if next < 0 {
				next = k // a circle, which is reported: the file's order decides
			}
		}
		done[next] = true
		out = append(out, next)
	}
	return out
}

// arrive finds when each body comes.
func (b *bench) arrive() {
	n := len(b.bodies)
	b.since, b.rank, b.unit = make([]int, n), make([]int, n), make([]string, n)
	for i := range b.bodies {
		body := &b.bodies[i]
		b.since[i] = absent
		if i >= b.own {
			b.guestComes(i)
			continue
		}
		if body.Of != nil && b.deeds(i) {
			continue
		}
		b.added(i, body.Path)
	}
}

// added notes the first step that adds a path, and as what.
func (b *bench) added(i int, path string) {
	Around(path, func(outer string) bool {
		steps := b.g.added[b.a][outer]
		if len(steps) == 0 {
			return true
		}
		for _, k := range steps {
			if at, mine := b.turns[k]; mine && at < b.since[i] {
				b.since[i], b.rank[i], b.unit[i] = at, b.addedAs(k, outer), outer
			}
		}
		// A repeated use added as a whole comes in one by one.
		if rest := path[len(outer):]; len(rest) > 1 && b.unit[i] == outer {
			if number, _, _ := cutDot(rest[1:]); isNumber(number) {
				b.unit[i] = outer + "." + number
			}
		}
		return false
	})
}

// addedAs is the place of a path under a step's adds.
func (b *bench) addedAs(step int, path string) int {
	for n, w := range b.g.Steps[step].Step.Adds {
		paths, _ := Instances(b.r, b.a, w)
		if slices.Contains(paths, path) {
			return n
		}
	}
	return 0
}

// deeds notes when a joint's body comes where a step of the bench makes the joint;
// false where none does and it comes with the assembly that it belongs to.
func (b *bench) deeds(i int) bool {
	body := &b.bodies[i]
	h := b.g.Handled(body.Of)
	if h == nil {
		return false
	}
	for _, d := range h.Fastens {
		if at, mine := b.turns[d.Step]; mine && at < b.since[i] {
			b.since[i], b.rank[i] = at, afterParts+b.fastenedAs(d)
		}
	}
	if b.since[i] == absent {
		return body.Path == ""
	}
	if body.Role == Nut {
		for _, d := range h.Slides {
			if at, mine := b.turns[d.Step]; mine && at < b.since[i] {
				b.since[i], b.rank[i] = at, beforeParts
			}
		}
	}
	return true
}

const (
	// afterParts ranks what joints bring in a step after its parts, beforeParts the
	// nuts that it slides in before them.
	afterParts  = 1 << 20
	beforeParts = -1
)

// fastenedAs is the place of a joint under a step's fastens.
func (b *bench) fastenedAs(d Deed) int {
	return slices.IndexFunc(b.g.Steps[d.Step].Step.Fastens, func(w plan.Word) bool { return w == d.Word })
}

// cutDot cuts a path at its first dot.
func cutDot(path string) (first, rest string, dotted bool) {
	for i := range len(path) {
		if path[i] == '.' {
			return path[:i], path[i+1:], true
		}
	}
	return path, "", false
}

func isNumber(s string) bool {
	for _, c := range s {
		if c < '0' || c > '9' {
			return false
		}
	}
	return s != ""
}

// before are the bodies that are there at a moment: of steps before at, and of that
// step those of a lower rank; but for those that skip names.
func (b *bench) before(at, rank int, skip func(i int) bool) []int {
	var list []int
	for i, since := range b.since {
		if (since < at || since == at && b.rank[i] < rank) && (skip == nil || !skip(i)) {
			list = append(list, i)
		}
	}
	return list
}
