package sequence

import (
	"slices"
	"strings"

	"plansheaf/design/plan"
	"plansheaf/design/reckon"
)

// A Graph is the order of work of a case: which step comes before which, over all
// assemblies, and what each does. A step comes after those that it needs (the one
// above where it does not say), and after all steps of an assembly that it adds.
type Graph struct {
	// Steps are those of the assemblies that the case builds, in the order of the
	// files; everything else names a step by its index here.
	Steps []Step

	r       *reckon.Reckoning
	at      map[*plan.Step]int
	after   []bits // for each step, those before it; nil: too many to say
	added   map[*plan.Assembly]map[string][]int
	within  map[*plan.Assembly]map[string]bool // paths inside of which something is added
	handled map[*plan.Joint]*Handling
	place   map[*plan.Step]int   // of each step in its assembly
	follows map[*plan.Step][]int // known answers of needed
	circles [][]int
}

// A Step is one step of one assembly.
type Step struct {
	Assembly *plan.Assembly
	Step     *plan.Step
}

// String is how a waiver names a step: "frame.square_up".
func (s Step) String() string { return s.Assembly.ID.Text + "." + s.Step.ID.Text }

// A Handling is what steps do with a joint, in the order of the files.
type Handling struct {
	Owner                            *plan.Assembly
	Fastens, Loose, Tightens, Slides []Deed
}

// A Deed is one step's word about a joint or use.
type Deed struct {
	Step int
	Word plan.Word
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

// NewGraph works out the order of work of a reckoning's case.
func NewGraph(r *reckon.Reckoning) *Graph {
	g := &Graph{
		r: r, at: map[*plan.Step]int{}, added: map[*plan.Assembly]map[string][]int{}, handled: map[*plan.Joint]*Handling{},
		within: map[*plan.Assembly]map[string]bool{}, place: map[*plan.Step]int{}, follows: map[*plan.Step][]int{},
	}
	for _, a := range r.Plan.Assemblies {
		built := r.Tally().Assembled[a.ID.Text] > 0
		for i, st := range a.Steps {
			g.place[st] = i
			if built && st.Only.Fits(r.Case.Options) {
				g.at[st] = len(g.Steps)
				g.Steps = append(g.Steps, Step{a, st})
			}
		}
		for _, j := range a.Joints {
			if built && j.Only.Fits(r.Case.Options) {
				g.handled[j] = &Handling{Owner: a}
			}
		}
	}
	for i, ref := range g.Steps {
		g.note(i, ref)
	}
	g.close()
	return g
}

// note records what a step adds and does to joints.
func (g *Graph) note(i int, ref Step) {
	there := g.added[ref.Assembly]
	if there == nil {
		there = map[string][]int{}
		g.added[ref.Assembly] = there
		g.within[ref.Assembly] = map[string]bool{}
	}
	for _, w := range ref.Step.Adds {
		paths, _ := Instances(g.r, ref.Assembly, w)
		for _, p := range paths {
			there[p] = append(there[p], i)
			Around(p, func(outer string) bool {
				if outer != p {
					g.within[ref.Assembly][outer] = true
				}
				return true
			})
		}
	}
	record := func(words []plan.Word, list func(h *Handling) *[]Deed) {
		for _, w := range words {
			if _, j := JointOf(g.r.Plan, ref.Assembly, w); j != nil && g.handled[j] != nil {
				into := list(g.handled[j])
				*into = append(*into, Deed{i, w})
			}
		}
	}
	record(ref.Step.Fastens, func(h *Handling) *[]Deed { return &h.Fastens })
	record(ref.Step.Loose, func(h *Handling) *[]Deed { return &h.Loose })
	record(ref.Step.Tightens, func(h *Handling) *[]Deed { return &h.Tightens })
	record(ref.Step.SlidesIn, func(h *Handling) *[]Deed { return &h.Slides })
}

// mostSteps bounds how many steps are put in order by their needs; a plan with more
// is taken to be worked through as it is written.
const mostSteps = 4096

// close finds for every step all that come before it.
func (g *Graph) close() {
	if len(g.Steps) > mostSteps {
		return
	}
	g.after = make([]bits, len(g.Steps))
	var trail []int
	var walk func(i int)
	walk = func(i int) {
		if from := slices.Index(trail, i); from >= 0 {
			g.circles = append(g.circles, slices.Clone(trail[from:]))
			return
		}
		if g.after[i] != nil {
			return
		}
		trail = append(trail, i)
		set := make(bits, (len(g.Steps)+63)/64)
		for _, k := range g.Needs(i) {
			walk(k)
			set.add(k)
			if g.after[k] != nil {
				set.join(g.after[k])
			}
		}
		g.after[i] = set
		trail = trail[:len(trail)-1]
	}
	for i := range g.Steps {
		walk(i)
	}
}

// Circles are steps that wait for each other, each list in the order in which the
// next is needed by the one before. Those within one file are reported when the plan
// is read; others run through what an assembly's steps add.
func (g *Graph) Circles() [][]int { return g.circles }

// Needs are the steps right before one.
func (g *Graph) Needs(i int) []int {
	ref := g.Steps[i]
	list := slices.Clone(g.needed(ref))
	for _, w := range ref.Step.Adds {
		sub := g.subAssembly(ref.Assembly, w)
		if sub == nil {
			continue
		}
		for _, st := range sub.Steps {
			if k, present := g.at[st]; present && sub != ref.Assembly {
				list = append(list, k)
			}
		}
	}
	return list
}

// subAssembly is the assembly of the use that a word begins with, nil for none.
func (g *Graph) subAssembly(a *plan.Assembly, w plan.Word) *plan.Assembly {
	u := a.Use(w.Path()[0])
	if u == nil || !u.Only.Fits(g.r.Case.Options) {
		return nil
	}
	id, ok := u.Assembly.Pick(g.r.Case.Options)
	if !ok {
		return nil
	}
	return g.r.Plan.Assembly(id.Text)
}

// needed follows a step's needs; in place of one that the case leaves out stand
// that one's own.
func (g *Graph) needed(ref Step) []int {
	if list, known := g.follows[ref.Step]; known {
		return list
	}
	g.follows[ref.Step] = nil // a circle ends here; reading reports it
	var list []int
	for _, need := range g.needsOf(ref) {
		if k, present := g.at[need.Step]; present {
			list = append(list, k)
			continue
		}
		list = append(list, g.needed(need)...)
	}
	slices.Sort(list)
	list = slices.Compact(list)
	g.follows[ref.Step] = list
	return list
}

// needsOf are the steps that a step names, or the one above.
func (g *Graph) needsOf(ref Step) []Step {
	if !ref.Step.NeedsAt.Known() {
		if i := g.place[ref.Step]; i > 0 {
			return []Step{{ref.Assembly, ref.Assembly.Steps[i-1]}}
		}
		return nil
	}
	var list []Step
	for _, w := range ref.Step.Needs {
		a, id := ref.Assembly, w.Text
		if owner, rest, dotted := strings.Cut(w.Text, "."); dotted {
			a, id = g.r.Plan.Assembly(owner), rest
		}
		if a == nil {
			continue
		}
		if st := a.Step(id); st != nil {
			list = append(list, Step{a, st})
		}
	}
	return list
}

// Index is the index of a step; ok is false for one that the case leaves out.
func (g *Graph) Index(st *plan.Step) (i int, ok bool) {
	i, ok = g.at[st]
	return i, ok
}

// Before reports whether step a comes before step b.
func (g *Graph) Before(a, b int) bool {
	if g.after == nil {
		return a < b
	}
	return g.after[b] != nil && g.after[b].has(a)
}

// By reports whether step a is b or comes before it.
func (g *Graph) By(a, b int) bool { return a == b || g.Before(a, b) }

// Handled is what steps do with a joint; nil for one that the case leaves out.
func (g *Graph) Handled(j *plan.Joint) *Handling { return g.handled[j] }

// There are the steps that add a path of uses of an assembly: itself, or something
// that holds it.
func (g *Graph) There(a *plan.Assembly, path string) (steps []int) {
	added := g.added[a]
	Around(path, func(outer string) bool {
		steps = added[outer]
		return steps == nil
	})
	return steps
}

// AddsWithin reports whether a step of an assembly adds something inside of a path.
func (g *Graph) AddsWithin(a *plan.Assembly, path string) bool { return g.within[a][path] }

// Say names a step for a message.
func (g *Graph) Say(i int) string { return g.Steps[i].String() }

// Missing is the first part of a joint of assembly a that is not there when a step
// makes it, and the step that adds it; "" where all are.
func (g *Graph) Missing(a *plan.Assembly, j *plan.Joint, step int) (path string, adds int) {
	for _, w := range Features(j) {
		for _, spot := range g.r.Spots(a, w) {
			adding := g.There(a, spot.Path)
			here := len(adding) == 0
			for _, i := range adding {
				here = here || g.By(i, step)
			}
			if !here {
				return spot.Path, adding[0]
			}
		}
	}
	return "", 0
}
