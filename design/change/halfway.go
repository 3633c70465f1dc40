package change

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"plansheaf/design/plan"
	"plansheaf/design/sequence"
)

// A Halfway is what a builder who is in the middle of the old revision does to go on
// with the new one. What the done steps put in is taken as made and bought, and
// nothing of later steps.
type Halfway struct {
	Done  []string `json:"done" about:"steps of the old revision that are taken as done: those named, those above them and all that come before"`
	First []Task   `json:"first" about:"what to undo because the new revision has no place for it, the last done first"`
	Steps []Ahead  `json:"steps" about:"what to do about done steps, and new ones among them, in the order of the new revision"`
	Stay  []string `json:"stay" about:"steps whose work stays as it is"`
	Next  string   `json:"next,omitempty" about:"the step to go on with; none where all is done"`
}

// An Ahead is what one step of the new revision asks of somebody who has done it in the
// old one.
type Ahead struct {
	Step  string `json:"step"`
	Title string `json:"title"`
	New   bool   `json:"new,omitempty" about:"the old revision has no such step, or it came later"`
	Undo  []Task `json:"undo,omitempty" about:"what to take apart; what was put on since comes off first"`
	Buy   []Task `json:"buy,omitempty"`
	Cut   []Task `json:"cut,omitempty" about:"pieces to make anew, or to shorten"`
	Drill []Task `json:"drill,omitempty" about:"holes that pieces get which are there already"`
	Do    []Task `json:"do,omitempty"`
}

func (a *Ahead) empty() bool {
	return len(a.Undo)+len(a.Buy)+len(a.Cut)+len(a.Drill)+len(a.Do) == 0
}

// Midway works out a Halfway: done names the last steps done of the old revision, as
// "frame.square_up", and choose the builder's choices, as for Halfways.Under. Errors say
// that there is no such step or choice.
func Midway(old, new Revision, done []string, choose plan.Selection) (*Halfway, error) {
	c, err := NewHalfways(old, new).Under(choose)
	if err != nil {
		return nil, err
	}
	return c.Done(done...)
}

// Halfways are what builders half way do, whatever they chose and however far they
// came: two revisions matched once for all of them.
type Halfways struct{ m *matching }

// NewHalfways matches two revisions.
func NewHalfways(old, new Revision) *Halfways {
	return &Halfways{match(newSide(old), newSide(new))}
}

// A Course is what builders half way do under the same choices. It may be asked again
// and again, by one at a time.
type Course struct {
	m       *matching
	was, is *works
	changed map[Kind]map[string]Change
	known   map[string]int    // steps of was by their new names
	places  map[string]string // the new names of uses of was
	joints  map[string]string // and of joints
}

// Under is the course for a builder's choices: by their names in the old revision, or, of
// what only the new one offers, in the new one; the plans' own for those not named. The
// error says that neither revision was worked out for them.
func (h *Halfways) Under(choose plan.Selection) (*Course, error) {
	before, after := h.m.sort(choose)
	m := *h.m
	was, is := *m.old, *m.new
	m.old, m.new = &was, &is
	was.placed, is.placed = nil, nil
	if was.own = was.Work.Choosing(before); was.own == nil {
		return nil, fmt.Errorf("the old revision was not worked out for the choices %v", choose)
	}
	if is.own = is.Work.Choosing(after); is.own == nil {
		return nil, fmt.Errorf("the new revision was not worked out for the choices %v", choose)
	}
	c := &Course{m: &m, was: newWorks(&was), is: newWorks(&is), changed: map[Kind]map[string]Change{}, known: map[string]int{}, places: map[string]string{}, joints: map[string]string{}}
	for i, s := range c.was.graph.Steps {
		c.known[m.local(OfStep, s.String())] = i
		for _, use := range c.was.adds[i] {
			c.places[use] = m.local(OfPlacement, use)
		}
		for _, joint := range c.was.joins[i] {
			c.joints[joint] = m.local(OfJoint, joint)
		}
	}
	for _, k := range []Kind{OfPart, OfStock, OfPlacement, OfJoint, OfStep} {
		c.changed[k] = map[string]Change{}
		for _, one := range m.changes(k) {
			if one.What != Removed {
				c.changed[k][one.ID] = one
			}
		}
	}
	return c, nil
}

// sort tells a builder's choices to both plans, each by its own names.
func (m *matching) sort(choose plan.Selection) (before, after plan.Selection) {
	before, after = plan.Selection{}, plan.Selection{}
	for _, choice := range slices.Sorted(maps.Keys(choose)) {
		option := choose[choice]
		if c := m.old.plan.Choice(choice); c != nil && hasOption(c, option) {
			m.choose(choice, option, before, after)
			continue
		}
		other := m.new.plan.Choice(choice)
		if other == nil || !hasOption(other, option) {
			before[choice] = option // which is refused
			continue
		}
		after[choice] = option
		for _, c := range m.old.plan.Choices {
			for _, o := range c.Options {
				if m.names.id(OfChoice, c.ID.Text) == choice && m.names.option(c.ID.Text, o.ID.Text) == option {
					before[c.ID.Text] = o.ID.Text
				}
			}
		}
	}
	return before, after
}

// choose takes an option of the old plan, and what has become of it in the new one.
func (m *matching) choose(choice, option string, before, after plan.Selection) {
	before[choice] = option
	name, as := m.names.id(OfChoice, choice), m.names.option(choice, option)
	if other := m.new.plan.Choice(name); other != nil && hasOption(other, as) {
		after[name] = as
	}
}

// Steps are the steps of the old revision in its order of work.
func (c *Course) Steps() []sequence.Step {
	list := make([]sequence.Step, len(c.was.order))
	for i, at := range c.was.order {
		list[i] = c.was.graph.Steps[at]
	}
	return list
}

// Done is what somebody does who has done the steps named, those above them in their
// assemblies and all that come before.
func (c *Course) Done(named ...string) (*Halfway, error) {
	w := &walk{
		Course: c, uses: map[string]string{}, ties: map[string]string{}, put: map[string]bool{}, made: map[string]bool{}, opened: map[string]bool{}, shut: map[string]int{},
		off: map[string]*lifted{}, out: &Halfway{},
	}
	if err := w.take(named); err != nil {
		return nil, err
	}
	w.leave()
	w.ahead()
	return w.out, nil
}

// stepNames lists a graph's steps, as many as fit a message.
func (c *Course) stepNames() string {
	var list []string
	for _, s := range c.Steps() {
		list = append(list, s.String())
	}
	text := strings.Join(list, ", ")
	if len(text) > 2000 {
		text = text[:2000] + " ..."
	}
	return text
}

// local is the new name of an old "assembly.use", "assembly.joint" or "assembly.step".
func (m *matching) local(k Kind, old string) string {
	a, id, _ := strings.Cut(old, ".")
	return m.names.id(OfAssembly, a) + "." + m.names.within(k, a, id)
}

// UpTo names what to tell Done for somebody who has done the steps of the old revision in
// their order up to the i-th of Steps, whichever assemblies they belong to: the last one
// of each assembly.
func (c *Course) UpTo(i int) []string {
	last := map[string]int{}
	for _, at := range c.was.order[:i+1] {
		a := c.was.graph.Steps[at].Assembly.ID.Text
		last[a] = max(last[a], at)
	}
	var names []string
	for _, at := range slices.Sorted(maps.Values(last)) {
		names = append(names, c.was.graph.Steps[at].String())
	}
	return names
}
