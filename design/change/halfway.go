package change

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"plansheaf/design/bill"
	"plansheaf/design/plan"
	"plansheaf/design/sequence"
)

// A Halfway is what a builder who is in the middle of the old revision does to go on
// with the new one. What the done steps put in is taken as made and bought, and
// nothing of later steps.
type Halfway struct {
	Done  []string `json:"done" about:"steps of the old revision that are taken as done: those named, those above them and all that come before"`
	First []string `json:"first" about:"what to undo because the new revision has no place for it, the last done first"`
	Steps []Ahead  `json:"steps" about:"what to do about done steps, and new ones among them, in the order of the new revision"`
	Stay  []string `json:"stay" about:"steps whose work stays as it is"`
	Next  string   `json:"next,omitempty" about:"the step to go on with; none where all is done"`
}

// An Ahead is what one step of the new revision asks of somebody who has done it in the
// old one.
type Ahead struct {
	Step  string   `json:"step"`
	Title string   `json:"title"`
	New   bool     `json:"new,omitempty" about:"the old revision has no such step, or it came later"`
	Undo  []string `json:"undo,omitempty"`
	Buy   []string `json:"buy,omitempty"`
	Cut   []string `json:"cut,omitempty" about:"pieces to make anew, or to shorten"`
	Drill []string `json:"drill,omitempty" about:"holes that pieces get which are there already"`
	Do    []string `json:"do,omitempty"`
}

func (a *Ahead) empty() bool {
	return len(a.Undo)+len(a.Buy)+len(a.Cut)+len(a.Drill)+len(a.Do) == 0
}

// Midway works out a Halfway: done names the last steps done of the old revision, as
// "frame.square_up", and choose the builder's choices. Errors say that there is no such
// step or choice.
func Midway(old, new Revision, done []string, choose plan.Selection) (*Halfway, error) {
	was, is := newSide(old), newSide(new)
	m := match(was, is)
	w := &walk{m: m, changed: map[Kind]map[string]Change{}, opened: map[string]bool{}, last: map[string]int{}, out: &Halfway{}}
	if was.own = old.Work.Choosing(choose); was.own == nil {
		return nil, fmt.Errorf("the old revision was not worked out for the choices %v", choose)
	}
	if is.own = new.Work.Choosing(m.chosen(choose)); is.own == nil {
		return nil, fmt.Errorf("the new revision was not worked out for the choices %v", choose)
	}
	w.before, w.after = was.own.Sequence().Graph, is.own.Sequence().Graph
	if err := w.take(done); err != nil {
		return nil, err
	}
	for _, k := range []Kind{OfPart, OfStock, OfPlacement, OfJoint, OfStep} {
		w.changed[k] = map[string]Change{}
		for _, c := range m.changes(k) {
			if c.What != Removed {
				w.changed[k][c.ID] = c
			}
		}
	}
	w.leave()
	w.ahead()
	return w.out, nil
}

// chosen is a selection in the new plan's names, without choices that it no longer has.
func (m *matching) chosen(choose plan.Selection) plan.Selection {
	out := plan.Selection{}
	for choice, option := range choose {
		if name := m.names.id(OfChoice, choice); m.new.plan.Choice(name) != nil {
			out[name] = m.names.option(choice, option)
		}
	}
	return out
}

// A walk goes through the steps of both revisions.
type walk struct {
	m             *matching
	before, after *sequence.Graph
	done          map[int]bool      // of before
	uses, joints  map[string]string // done, by new name: the old one
	changed       map[Kind]map[string]Change
	opened        map[string]bool // joints to be made again, by new name
	last          map[string]int  // the step of out, by index, with which such a joint can be made again
	out           *Halfway
}

// take notes what is done.
func (w *walk) take(named []string) error {
	w.done = map[int]bool{}
	for _, name := range named {
		i := slices.IndexFunc(w.before.Steps, func(s sequence.Step) bool { return s.String() == name })
		if i < 0 {
			return fmt.Errorf("the old revision has no step %q under these choices; its steps are %s", name, stepNames(w.before))
		}
		for j, s := range w.before.Steps {
			if w.before.By(j, i) || s.Assembly == w.before.Steps[i].Assembly && j < i {
				w.done[j] = true
			}
		}
	}
	for i := range w.before.Steps { // what those above lean on is done, too
		for j := range w.before.Steps {
			if w.done[j] && w.before.By(i, j) {
				w.done[i] = true
			}
		}
	}
	w.uses, w.joints = map[string]string{}, map[string]string{}
	for _, i := range working(w.before) {
		if !w.done[i] {
			continue
		}
		s := w.before.Steps[i]
		w.out.Done = append(w.out.Done, s.String())
		for _, x := range w.m.old.addedBy(s) {
			w.uses[w.m.place(x)] = x
		}
		for _, x := range w.m.old.joinedBy(s) {
			w.joints[w.m.joint(x)] = x
		}
	}
	return nil
}

// stepNames lists a graph's steps, as many as fit a message.
func stepNames(g *sequence.Graph) string {
	var list []string
	for _, i := range working(g) {
		list = append(list, g.Steps[i].String())
	}
	text := strings.Join(list, ", ")
	if len(text) > 2000 {
		text = text[:2000] + " ..."
	}
	return text
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

// place is the new name of an old "assembly.use", joint that of an "assembly.joint".
func (m *matching) place(old string) string { return m.local(OfPlacement, old) }
func (m *matching) joint(old string) string { return m.local(OfJoint, old) }

func (m *matching) local(k Kind, old string) string {
	a, id, _ := strings.Cut(old, ".")
	return m.names.id(OfAssembly, a) + "." + m.names.within(k, a, id)
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

// leave undoes what the new revision has no place for, the last done first.
func (w *walk) leave() {
	s := w.m.old
	order := working(w.before)
	slices.Reverse(order)
	for _, i := range order {
		if !w.done[i] {
			continue
		}
		st := w.before.Steps[i]
		for _, x := range s.joinedBy(st) {
			if !w.m.new.makes(w.m.joint(x)) {
				w.out.First = append(w.out.First, "open "+s.describeJoint(x))
			}
		}
		for _, x := range s.addedBy(st) {
			if !w.m.new.holds(w.m.place(x)) {
				w.out.First = append(w.out.First, "take out "+s.describeUse(x))
			}
		}
	}
}

// ahead goes through the new order.
func (w *walk) ahead() {
	order := working(w.after)
	was := map[string]int{} // done or not, by new name
	for i, s := range w.before.Steps {
		was[w.m.local(OfStep, s.String())] = i
	}
	isDone := func(i int) bool {
		j, known := was[w.after.Steps[i].String()]
		return known && w.done[j]
	}
	for at, i := range order {
		s := w.after.Steps[i]
		one := Ahead{Step: s.String(), Title: plainly(s.Step.Title.Value)}
		switch {
		case isDone(i):
			w.again(s, &one)
		case slices.ContainsFunc(order[at+1:], func(j int) bool { return isDone(j) && w.after.Before(i, j) }):
			one.New = true
			w.anew(s, &one)
		default:
			if w.out.Next == "" {
				w.out.Next = one.Step
			}
			continue
		}
		if one.empty() {
			w.out.Stay = append(w.out.Stay, one.Step)
			continue
		}
		w.out.Steps = append(w.out.Steps, one)
	}
	w.rejoin()
}

// anew is a step to do that stands before others that are done already.
func (w *walk) anew(s sequence.Step, one *Ahead) {
	one.Do = append(one.Do, "do the step; what later steps put in its way comes off first")
	for _, x := range w.m.new.addedBy(s) {
		w.get(x, one)
	}
	for _, x := range w.m.new.joinedBy(s) {
		a, id := w.m.new.find(x)
		one.Buy = append(one.Buy, w.m.new.hardware(a, a.Joint(id))...)
	}
}

// get is a part to make or to buy for a use.
func (w *walk) get(use string, one *Ahead) {
	_, p, n := w.m.new.held(use)
	switch {
	case p == nil || n == 0:
	case bill.Bought(p):
		count(&one.Buy, n, bill.Title(p))
	default:
		count(&one.Cut, n, bill.Title(p))
	}
}

// count adds so many of a kind to a list of counted things.
func count(list *[]string, n int, title string) {
	for i, text := range *list {
		if number, same := strings.CutSuffix(text, " × "+title); same {
			if had, err := strconv.Atoi(number); err == nil {
				(*list)[i] = fmt.Sprintf("%d × %s", had+n, title)
				return
			}
		}
	}
	*list = append(*list, fmt.Sprintf("%d × %s", n, title))
}

// again compares a done step with what it is now.
func (w *walk) again(s sequence.Step, one *Ahead) {
	for _, x := range w.m.new.addedBy(s) {
		w.part(x, one)
	}
	for _, x := range w.m.new.joinedBy(s) {
		w.join(x, one)
	}
	c, changed := w.changed[OfStep][s.String()]
	if !changed {
		return
	}
	said := false
	for _, f := range c.Lines {
		switch {
		case strings.HasPrefix(f.What, "measures") && f.New != "":
			one.Do = append(one.Do, "measure again: "+f.New)
		case f.What == "text" || strings.HasPrefix(f.What, "text,"):
			said = true
		}
	}
	if said {
		one.Do = append(one.Do, "read its text again: it says something else now")
	}
}

// part is what becomes of a use that a done step puts in.
func (w *walk) part(use string, one *Ahead) {
	old, there := w.uses[use]
	if !there {
		w.get(use, one)
		one.Do = append(one.Do, "put in "+w.m.new.describeUse(use))
		return
	}
	_, p, n := w.m.new.held(use)
	what := stays
	var how []string
	if p != nil {
		if _, before, had := w.m.old.held(old); before != nil {
			what, how = w.fate(before, p)
			if what == stays && n > had {
				one.Do = append(one.Do, fmt.Sprintf("put in %d more of %s", n-had, bill.Title(p)))
				n -= had
				what = made
			}
		}
	}
	moved := w.moved(use)
	if what == stays && moved == "" {
		return
	}
	one.Undo = append(one.Undo, w.open(old)...)
	switch what {
	case made:
		one.Undo = append(one.Undo, "take out "+w.m.old.describeUse(old))
		if bill.Bought(p) {
			count(&one.Buy, n, bill.Title(p))
		} else {
			count(&one.Cut, n, bill.Title(p))
		}
		one.Do = append(one.Do, "put in "+w.m.new.describeUse(use))
	case drilled:
		one.Drill = append(one.Drill, fmt.Sprintf("%s: %s", w.m.new.describeUse(use), strings.Join(how, ", ")))
	case shortened:
		one.Cut = append(one.Cut, fmt.Sprintf("%s: %s", w.m.new.describeUse(use), strings.Join(how, ", ")))
	}
	if moved != "" {
		one.Do = append(one.Do, "set "+use+" anew: "+moved)
	}
}

// moved says how the plan places a use otherwise, "" where it does not.
func (w *walk) moved(use string) string {
	c, changed := w.changed[OfPlacement][use]
	if !changed || c.Follows {
		return ""
	}
	var says []string
	for _, f := range c.Lines {
		for _, word := range []string{"at", "turn", "seat", "between", "around", "step"} {
			if f.What == word || strings.HasPrefix(f.What, word+",") {
				says = append(says, f.say())
				break
			}
		}
	}
	return strings.Join(says, ", ")
}

// open are the done joints that hold a use, with those that were not opened before.
func (w *walk) open(use string) []string {
	var list []string
	for _, name := range w.holding(use) {
		now := w.m.joint(name)
		if !w.m.new.makes(now) {
			continue
		}
		w.last[now] = len(w.out.Steps)
		if !w.opened[now] {
			w.opened[now] = true
			list = append(list, "open "+w.m.old.describeJoint(name))
		}
	}
	return list
}

// rejoin makes the joints again that were opened after their own step, each once nothing
// more is to be changed behind it.
func (w *walk) rejoin() {
	for _, joint := range slices.Sorted(maps.Keys(w.last)) {
		if at := w.last[joint]; at < len(w.out.Steps) {
			w.out.Steps[at].Do = append(w.out.Steps[at].Do, "join "+w.m.new.describeJoint(joint)+" again")
		}
	}
}

// holding are the done joints that hold an old use, by name.
func (w *walk) holding(use string) []string {
	var list []string
	for _, old := range w.joints {
		a, id := w.m.old.find(old)
		for _, word := range sequence.Features(a.Joint(id)) {
			if slices.Contains(w.m.old.holders(a, word.Path()), use) {
				list = append(list, old)
				break
			}
		}
	}
	slices.Sort(list)
	return list
}

// otherwise reports whether a joint takes other hardware or goes through other layers.
func (w *walk) otherwise(joint string) bool {
	c, changed := w.changed[OfJoint][joint]
	return changed && slices.ContainsFunc(c.Lines, func(f Field) bool {
		switch f.What {
		case Takes, "places", "kind", "through", "into", "also at", "glue", "lock":
			return true
		}
		return false
	})
}

// join is what becomes of a joint that a done step makes.
func (w *walk) join(joint string, one *Ahead) {
	a, id := w.m.new.find(joint)
	old, there := w.joints[joint]
	switch {
	case !there:
		one.Buy = append(one.Buy, w.m.new.hardware(a, a.Joint(id))...)
		one.Do = append(one.Do, "join "+w.m.new.describeJoint(joint))
	case w.otherwise(joint):
		if w.opened[joint] {
			delete(w.opened, joint)
			delete(w.last, joint)
		} else {
			one.Undo = append(one.Undo, "open "+w.m.old.describeJoint(old))
		}
		was, now := w.m.old.hardware(w.m.old.jointOf(old)), w.m.new.hardware(a, a.Joint(id))
		for _, item := range now {
			if !slices.Contains(was, item) {
				one.Buy = append(one.Buy, item)
			}
		}
		one.Do = append(one.Do, "join "+w.m.new.describeJoint(joint))
	case w.opened[joint]:
		one.Do = append(one.Do, "join "+w.m.new.describeJoint(joint)+" again")
		delete(w.opened, joint)
		delete(w.last, joint)
	default:
		for _, f := range w.changed[OfJoint][joint].Lines {
			if strings.HasPrefix(f.What, "torque") && f.New != "" {
				one.Do = append(one.Do, fmt.Sprintf("tighten %s to %s (it was %s)", joint, f.New, orElse(f.Old, "not given")))
				break
			}
		}
	}
}
