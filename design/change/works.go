package change

import (
	"slices"
	"strconv"

	"plansheaf/design/bill"
	"plansheaf/design/plan"
	"plansheaf/design/sequence"
)

// works is the order of work of one side under one choice of options: what each step
// puts in and joins, and what is tied to what.
type works struct {
	*side
	graph *sequence.Graph
	order []int      // of the graph's steps
	adds  [][]string // by step, the uses that it puts in
	joins [][]string // by step, the joints that it makes
	// at tells of two uses which is put in later, since of two joints which is made later.
	at, since map[string]int
	// ties are a joint's bodies, place by place, and tied the joints of a use by name;
	// both of joints that a step makes.
	ties map[string][][]body
	tied map[string][]string
	// putIn and made are known answers of use and joint.
	putIn, made map[string]Subject
	with        map[[2]string][]string // known answers of partners
}

// A body is what a joint holds: the uses that lead to it, the outermost first.
type body []string

func newWorks(s *side) *works {
	w := &works{
		side: s, graph: s.own.Sequence().Graph, at: map[string]int{}, since: map[string]int{},
		ties: map[string][][]body{}, tied: map[string][]string{}, putIn: map[string]Subject{}, made: map[string]Subject{}, with: map[[2]string][]string{},
	}
	w.order = working(w.graph)
	w.adds, w.joins = make([][]string, len(w.graph.Steps)), make([][]string, len(w.graph.Steps))
	note := func(in map[string]int, name string) {
		if in[name] == 0 {
			in[name] = len(in) + 1
		}
	}
	for _, i := range w.order {
		w.adds[i], w.joins[i] = s.addedBy(w.graph.Steps[i]), s.joinedBy(w.graph.Steps[i])
		for _, name := range w.adds[i] {
			note(w.at, name)
		}
		for _, name := range w.joins[i] {
			note(w.since, name)
			w.tie(name)
		}
	}
	for _, list := range w.tied {
		slices.Sort(list)
	}
	return w
}

// tie notes what a joint holds.
func (w *works) tie(name string) {
	if _, noted := w.ties[name]; noted {
		return
	}
	a, j := w.jointOf(name)
	w.ties[name] = w.bodies(a, j)
	for _, word := range sequence.Features(j) {
		for _, use := range w.holders(a, word.Path()) {
			if !slices.Contains(w.tied[use], name) {
				w.tied[use] = append(w.tied[use], name)
			}
		}
	}
}

// bodies are what a joint holds together at each of its places, and what fits into each
// other in it.
func (w *works) bodies(a *plan.Assembly, j *plan.Joint) [][]body {
	var out [][]body
	group := func(words []plan.Word) {
		var one []body
		for _, word := range words {
			b := body(w.holders(a, word.Path()))
			if len(b) > 0 && !slices.ContainsFunc(one, func(other body) bool { return slices.Equal(other, b) }) {
				one = append(one, b)
			}
		}
		if len(one) > 1 && !slices.ContainsFunc(out, func(other []body) bool {
			return slices.EqualFunc(other, one, func(x, y body) bool { return slices.Equal(x, y) })
		}) {
			out = append(out, one)
		}
	}
	placed := w.own.Layout.Fastenings(a, j)
	for _, f := range placed {
		var words []plan.Word
		for _, c := range f.Crossings {
			words = append(words, c.Word)
		}
		group(words)
	}
	if fits := slices.Concat(j.Mine.Features, j.Theirs.Features); len(fits) > 0 {
		group(fits)
	} else if len(placed) == 0 {
		group(sequence.Features(j))
	}
	return out
}

// partners are the bodies that a joint ties to a use, each by its outermost use.
func (w *works) partners(joint, use string) []string {
	key := [2]string{joint, use}
	if known, asked := w.with[key]; asked {
		return known
	}
	var out []string
	for _, place := range w.ties[joint] {
		if !slices.ContainsFunc(place, func(b body) bool { return slices.Contains(b, use) }) {
			continue
		}
		for _, b := range place {
			if !slices.Contains(b, use) && !slices.Contains(out, b[0]) {
				out = append(out, b[0])
			}
		}
	}
	w.with[key] = out
	return out
}

// working is a graph's order of work: each step once all that it needs is done, the
// first of the files first.
func working(g *sequence.Graph) []int {
	var order []int
	state := make([]int, len(g.Steps)) // 1: being gone through, 2: placed
	var visit func(i int)
	visit = func(i int) {
		if state[i] != 0 {
			return
		}
		state[i] = 1
		for _, need := range g.Needs(i) {
			visit(need)
		}
		state[i] = 2
		order = append(order, i)
	}
	for i := range g.Steps {
		visit(i)
	}
	return order
}

// addedBy are the uses that a step puts in, as "assembly.use".
func (s *side) addedBy(st sequence.Step) []string {
	var list []string
	for _, w := range st.Step.Adds {
		if holders := s.holders(st.Assembly, w.Path()); len(holders) > 0 {
			list = append(list, holders[len(holders)-1])
		}
	}
	return list
}

// joinedBy are the joints that a step makes, as "assembly.joint".
func (s *side) joinedBy(st sequence.Step) []string {
	var list []string
	for _, w := range st.Step.Fastens {
		if a, j := sequence.JointOf(s.plan, st.Assembly, w); j != nil {
			list = append(list, a.ID.Text+"."+j.ID.Text)
		}
	}
	return list
}

// holders are the uses that a path from an assembly leads through, the outermost first.
func (s *side) holders(a *plan.Assembly, path []string) []string {
	var list []string
	for len(path) > 0 && a != nil {
		u := a.Use(path[0])
		if u == nil {
			break
		}
		list = append(list, a.ID.Text+"."+u.ID.Text)
		path = path[1:]
		if len(path) > 0 {
			if _, err := strconv.Atoi(path[0]); err == nil {
				path = path[1:]
			}
		}
		sub, _ := u.Assembly.Pick(s.own.Case.Options)
		a = s.plan.Assembly(sub.Text)
	}
	return list
}

// use is a use with what it holds, as a task names it.
func (w *works) use(name string) Subject {
	s, known := w.putIn[name]
	if !known {
		s = Subject{Name: name}
		if _, p, n := w.held(name); p != nil {
			s.Items = []Item{{p.Part.ID.Text, bill.Title(p), n}}
		}
		w.putIn[name] = s
	}
	return s
}

// joint is a joint with what it takes, as a task names it.
func (w *works) joint(name string) Subject {
	s, known := w.made[name]
	if !known {
		s = Subject{Name: name, Joint: true}
		if a, j := w.jointOf(name); j != nil {
			s.Items = w.hardware(a, j)
		}
		w.made[name] = s
	}
	return s
}
