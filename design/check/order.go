package check

import (
	"slices"
	"strings"

	"plansheaf/design/plan"
)

// An order is the order of work of a situation: which step comes before which,
// over all assemblies, what is there when, and what each joint goes through. A
// step comes after those that it needs (the one above where it does not say), and
// after all steps of an assembly that it adds.
type order struct {
	s       *Situation
	steps   []stepRef
	at      map[*plan.Step]int
	after   []bits // for each step, those before it
	added   map[*plan.Assembly]map[string][]int
	handled map[*plan.Joint]*handling
	ends    []endUse                           // asked for once, see endUses
	within  map[*plan.Assembly]map[string]bool // paths inside of which something is added
	place   map[*plan.Step]int                 // of each step in its assembly
	follows map[*plan.Step][]int               // known answers of needed
}

type stepRef struct {
	assembly *plan.Assembly
	step     *plan.Step
}

// A handling is what steps do with a joint, in the order of the files.
type handling struct {
	owner                            *plan.Assembly
	fastens, loose, tightens, slides []deed
}

// A deed is one step's word about a joint or use.
type deed struct {
	step int
	word plan.Word
}

// bits is a set of small numbers.
type bits []uint64

func (b bits) has(i int) bool { return b[i/64]>>(i%64)&1 == 1 }
func (b bits) add(i int)      { b[i/64] |= 1 << (i % 64) }
func (b bits) join(other bits) {
	for i := range b {
		b[i] |= other[i]
	}
}

// order works the order of work out, once.
func (s *Situation) order() *order {
	if s.facts.order != nil {
		return s.facts.order
	}
	o := &order{
		s: s, at: map[*plan.Step]int{}, added: map[*plan.Assembly]map[string][]int{}, handled: map[*plan.Joint]*handling{},
		within: map[*plan.Assembly]map[string]bool{}, place: map[*plan.Step]int{}, follows: map[*plan.Step][]int{},
	}
	s.facts.order = o
	for _, a := range s.Reckoning.Plan.Assemblies {
		for i, st := range a.Steps {
			o.place[st] = i
		}
	}
	s.eachStep(func(a *plan.Assembly, st *plan.Step) {
		o.at[st] = len(o.steps)
		o.steps = append(o.steps, stepRef{a, st})
	})
	s.eachJoint(func(a *plan.Assembly, j *plan.Joint) { o.handled[j] = &handling{owner: a} })
	for i, ref := range o.steps {
		o.note(i, ref)
	}
	o.close()
	return o
}

// note records what a step adds and does to joints.
func (o *order) note(i int, ref stepRef) {
	there := o.added[ref.assembly]
	if there == nil {
		there = map[string][]int{}
		o.added[ref.assembly] = there
		o.within[ref.assembly] = map[string]bool{}
	}
	for _, w := range ref.step.Adds {
		paths, _ := o.s.instances(ref.assembly, w)
		for _, p := range paths {
			there[p] = append(there[p], i)
			for end := strings.LastIndexByte(p, '.'); end > 0; end = strings.LastIndexByte(p[:end], '.') {
				o.within[ref.assembly][p[:end]] = true
			}
		}
	}
	p := o.s.Reckoning.Plan
	record := func(words []plan.Word, list func(h *handling) *[]deed) {
		for _, w := range words {
			if _, j := jointOf(p, ref.assembly, w); j != nil && o.handled[j] != nil {
				into := list(o.handled[j])
				*into = append(*into, deed{i, w})
			}
		}
	}
	record(ref.step.Fastens, func(h *handling) *[]deed { return &h.fastens })
	record(ref.step.Loose, func(h *handling) *[]deed { return &h.loose })
	record(ref.step.Tightens, func(h *handling) *[]deed { return &h.tightens })
	record(ref.step.SlidesIn, func(h *handling) *[]deed { return &h.slides })
}

// mostSteps bounds how many steps are put in order by their needs; a plan with more
// is taken to be worked through as it is written.
const mostSteps = 4096

// close finds for every step all that come before it.
func (o *order) close() {
	if len(o.steps) > mostSteps {
		return
	}
	o.after = make([]bits, len(o.steps))
	busy := make([]bool, len(o.steps))
	var walk func(i int)
	walk = func(i int) {
		if o.after[i] != nil || busy[i] {
			return // known, or a circle, which reading reports
		}
		busy[i] = true
		set := make(bits, (len(o.steps)+63)/64)
		for _, k := range o.needs(i) {
			walk(k)
			set.add(k)
			if o.after[k] != nil {
				set.join(o.after[k])
			}
		}
		o.after[i] = set
	}
	for i := range o.steps {
		walk(i)
	}
}

// needs are the steps right before one.
func (o *order) needs(i int) []int {
	ref := o.steps[i]
	list := slices.Clone(o.needed(ref))
	for _, w := range ref.step.Adds {
		u := ref.assembly.Use(w.Path()[0])
		if u == nil || !u.Only.Fits(o.s.Case.Options) {
			continue
		}
		id, ok := u.Assembly.Pick(o.s.Case.Options)
		sub := o.s.Reckoning.Plan.Assembly(id.Text)
		if !ok || sub == nil {
			continue
		}
		for _, st := range sub.Steps {
			if k, present := o.at[st]; present && sub != ref.assembly {
				list = append(list, k)
			}
		}
	}
	return list
}

// needed follows a step's needs; in place of one that the case leaves out stand
// that one's own.
func (o *order) needed(ref stepRef) []int {
	if list, known := o.follows[ref.step]; known {
		return list
	}
	o.follows[ref.step] = nil // a circle ends here; reading reports it
	var list []int
	for _, need := range o.needsOf(ref) {
		if k, present := o.at[need.step]; present {
			list = append(list, k)
			continue
		}
		list = append(list, o.needed(need)...)
	}
	slices.Sort(list)
	list = slices.Compact(list)
	o.follows[ref.step] = list
	return list
}

// needsOf are the steps that a step names, or the one above.
func (o *order) needsOf(ref stepRef) []stepRef {
	if !ref.step.NeedsAt.Known() {
		if i := o.place[ref.step]; i > 0 {
			return []stepRef{{ref.assembly, ref.assembly.Steps[i-1]}}
		}
		return nil
	}
	var list []stepRef
	for _, w := range ref.step.Needs {
		a, id := ref.assembly, w.Text
		if owner, rest, dotted := strings.Cut(id, "."); dotted {
			a, id = o.s.Reckoning.Plan.Assembly(owner), rest
		}
		if a == nil {
			continue
		}
		if st := a.Step(id); st != nil {
			list = append(list, stepRef{a, st})
		}
	}
	return list
}

// before reports whether step a comes before step b.
func (o *order) before(a, b int) bool {
	if o.after == nil {
		return a < b
	}
	return o.after[b] != nil && o.after[b].has(a)
}

// by reports whether step a is b or comes before it.
func (o *order) by(a, b int) bool { return a == b || o.before(a, b) }

// there are the steps that add a path of uses of an assembly: itself, or something
// that holds it.
func (o *order) there(a *plan.Assembly, path string) []int {
	added := o.added[a]
	if steps := added[path]; steps != nil {
		return steps
	}
	for end := strings.LastIndexByte(path, '.'); end > 0; end = strings.LastIndexByte(path[:end], '.') {
		if steps := added[path[:end]]; steps != nil {
			return steps
		}
	}
	return nil
}

// say names a step for a message.
func (o *order) say(i int) string { return stepSubject(o.steps[i].assembly, o.steps[i].step) }
