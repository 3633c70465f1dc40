package compose

import (
	"slices"
	"strings"

	"plansheaf/design/check"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/publish/page"
)

// A drilled is a hole of one part: parts altered from another have its holes too.
type drilled struct {
	part *plan.Part
	hole *plan.Hole
}

// A jointIn is a joint with the assembly that makes it.
type jointIn struct {
	in *plan.Assembly
	*plan.Joint
}

// A task is a step under one combination of choices.
type task struct {
	s  *check.Situation
	a  *plan.Assembly
	st *plan.Step
}

// A usage is what holes and parts are used for, by combination. It is found once for all
// parts, as every one of them asks about every joint and every step; the composers for
// some of the combinations share it.
type usage struct {
	joints map[*check.Situation]map[drilled][]jointIn
	tasks  map[*check.Situation]map[string][]int // by part: places of steps among all, rising
	steps  []stepOf
}

// A stepOf is a step with the assembly that has it.
type stepOf struct {
	a  *plan.Assembly
	st *plan.Step
}

func newUsage(order []*plan.Assembly) *usage {
	u := &usage{joints: map[*check.Situation]map[drilled][]jointIn{}, tasks: map[*check.Situation]map[string][]int{}}
	for _, a := range order {
		for _, st := range a.Steps {
			u.steps = append(u.steps, stepOf{a, st})
		}
	}
	return u
}

// holeUses names the joints that use a hole, or says what it is for.
func (c *composer) holeUses(p *plan.Part, h *plan.Hole) []page.Inline {
	var items [][]page.Inline
	seen := map[*plan.Joint]bool{}
	for _, s := range c.all {
		for _, j := range c.drilledFor(s)[drilled{p, h}] {
			if seen[j.Joint] {
				continue
			}
			seen[j.Joint] = true
			items = append(items, []page.Inline{c.linkTo(assemblyTarget(j.in), j.in.Title.Value+", "+strings.ReplaceAll(j.ID.Text, "_", " "))})
		}
	}
	words := joined(items)
	if h.Note.Given() {
		if len(words) > 0 {
			words = append(words, page.Text("; "))
		}
		words = append(words, c.inline(h.Note)...)
	}
	return words
}

// drilledFor lists the joints that use each hole under one combination.
func (c *composer) drilledFor(s *check.Situation) map[drilled][]jointIn {
	if known := c.used.joints[s]; known != nil {
		return known
	}
	out := map[drilled][]jointIn{}
	for _, a := range c.order {
		for _, j := range a.Joints {
			if !j.Only.Fits(s.Case.Options) {
				continue
			}
			seen := map[drilled]bool{}
			for _, spot := range spots(s, a, layersOf(j)) {
				at := drilled{spot.Part, spot.Hole}
				if spot.Hole != nil && !seen[at] {
					seen[at] = true
					out[at] = append(out[at], jointIn{a, j})
				}
			}
		}
	}
	c.used.joints[s] = out
	return out
}

// layersOf is everything that a joint holds together, with the places written out.
func layersOf(j *plan.Joint) []plan.Layer {
	layers := append([]plan.Layer{j.Mine, j.Theirs}, j.Through...)
	for _, place := range j.Also {
		layers = append(layers, plan.Layer{Features: place})
	}
	return layers
}

// spots is all that layers of a joint name.
func spots(s *check.Situation, a *plan.Assembly, layers []plan.Layer) (out []reckon.Spot) {
	for _, layer := range layers {
		for _, w := range layer.Features {
			out = append(out, s.Reckoning.Spots(a, w)...)
		}
	}
	return out
}

// whereUsed links the steps that a part has to do with.
func (c *composer) whereUsed(p *plan.Part) page.List {
	at := make([][]int, len(c.all))
	var some []int
	for i, s := range c.all {
		at[i] = c.handling(s)[p.ID.Text]
		some = append(some, at[i]...)
	}
	slices.Sort(some)
	var list page.List
	for _, n := range slices.Compact(some) {
		only, _ := c.onlyAt(func(i int) bool { _, found := slices.BinarySearch(at[i], n); return found })
		a, st := c.used.steps[n].a, c.used.steps[n].st
		list.Items = append(list.Items, page.Item{Only: only, Blocks: []page.Block{page.Paragraph{Words: []page.Inline{
			c.linkTo(stepTarget(a, st.ID.Text), a.Title.Value+": "+st.Title.Value),
		}}}})
	}
	return list
}

// handling lists for each part the steps that have to do with it under one combination.
func (c *composer) handling(s *check.Situation) map[string][]int {
	if known := c.used.tasks[s]; known != nil {
		return known
	}
	out := map[string][]int{}
	for n, one := range c.used.steps {
		if one.st.Only.Fits(s.Case.Options) && takes(s, one.a) {
			for id := range c.handledParts(task{s, one.a, one.st}) {
				out[id] = append(out[id], n)
			}
		}
	}
	c.used.tasks[s] = out
	return out
}

// handledParts is what parts a step adds, fastens with or uses up, and those in joints
// that it makes, starts, prepares or tightens.
func (c *composer) handledParts(t task) map[string]bool {
	parts := map[string]bool{}
	if card := cardOf(t.s, t.st); card != nil {
		for _, item := range card.Bag {
			parts[item.ID()] = true
		}
	}
	for _, u := range t.st.Uses {
		parts[u.Part.Text] = true
	}
	hold := func(in *plan.Assembly, layers []plan.Layer) {
		for _, spot := range spots(t.s, in, layers) {
			parts[spot.Part.ID.Text] = true
		}
	}
	for _, w := range slices.Concat(t.st.Fastens, t.st.Loose, t.st.Tightens) {
		in, j := c.jointOf(t.s, t.a, w)
		if j == nil {
			continue
		}
		glue, _ := j.With.Pick(t.s.Case.Options)
		parts[glue.Text] = true
		for _, id := range t.s.Reckoning.JointParts(j) {
			parts[id] = true
		}
		hold(in, layersOf(j))
	}
	// What is put in for a later joint are its nuts, and they go into its last layer.
	for _, w := range t.st.SlidesIn {
		in, j := c.jointOf(t.s, t.a, w)
		if j == nil {
			continue
		}
		nut, _ := j.Into.Pick(t.s.Case.Options)
		parts[nut.Text] = true
		hold(in, j.Through[max(0, len(j.Through)-1):])
	}
	return parts
}

// jointOf is the joint that a step of an assembly names, its own or another's, with
// the assembly that has it; nil for none under these choices.
func (c *composer) jointOf(s *check.Situation, a *plan.Assembly, w plan.Word) (*plan.Assembly, *plan.Joint) {
	in, id := a, w.Text
	if path := w.Path(); len(path) == 2 {
		in, id = c.plan.Assembly(path[0]), path[1]
	}
	if in == nil {
		return nil, nil
	}
	j := in.Joint(id)
	if j == nil || !j.Only.Fits(s.Case.Options) {
		return nil, nil
	}
	return in, j
}
