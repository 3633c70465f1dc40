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

// A usage is what holes and parts are used for. It is found once for all parts, as
// every one of them asks about every joint and every step.
type usage struct {
	joints map[drilled][]jointIn
	parts  map[task]map[string]bool
}

// holeUses names the joints that use a hole, or says what it is for.
func (c *composer) holeUses(p *plan.Part, h *plan.Hole) []page.Inline {
	if c.used.joints == nil {
		c.used.joints = c.drilledFor()
	}
	var items [][]page.Inline
	for _, j := range c.used.joints[drilled{p, h}] {
		items = append(items, []page.Inline{c.linkTo(assemblyTarget(j.in), j.in.Title.Value+", "+strings.ReplaceAll(j.ID.Text, "_", " "))})
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

// drilledFor lists the joints that use each hole, those of the plan's own choices
// first.
func (c *composer) drilledFor() map[drilled][]jointIn {
	type place struct {
		drilled
		*plan.Joint
	}
	out, seen := map[drilled][]jointIn{}, map[place]bool{}
	for _, s := range c.all {
		for _, a := range c.order {
			for _, j := range a.Joints {
				if !j.Only.Fits(s.Case.Options) {
					continue
				}
				for _, spot := range spots(s, a, layersOf(j)) {
					at := drilled{spot.Part, spot.Hole}
					if spot.Hole != nil && !seen[place{at, j}] {
						seen[place{at, j}] = true
						out[at] = append(out[at], jointIn{a, j})
					}
				}
			}
		}
	}
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
	var list page.List
	for _, a := range c.order {
		for _, st := range a.Steps {
			if !slices.ContainsFunc(c.all, func(s *check.Situation) bool { return c.handled(task{s, a, st})[p.ID.Text] }) {
				continue
			}
			only, _ := c.only(func(s *check.Situation) bool { return c.handled(task{s, a, st})[p.ID.Text] })
			list.Items = append(list.Items, page.Item{Only: only, Blocks: []page.Block{page.Paragraph{Words: []page.Inline{
				c.linkTo(stepTarget(a, st.ID.Text), a.Title.Value+": "+st.Title.Value),
			}}}})
		}
	}
	return list
}

// handled is what parts a step adds, fastens with or uses up, and those in joints
// that it makes, starts, prepares or tightens.
func (c *composer) handled(t task) map[string]bool {
	parts, known := c.used.parts[t]
	if known {
		return parts
	}
	if c.used.parts == nil {
		c.used.parts = map[task]map[string]bool{}
	}
	if t.st.Only.Fits(t.s.Case.Options) && takes(t.s, t.a) {
		parts = c.handledParts(t)
	}
	c.used.parts[t] = parts
	return parts
}

// handledParts is what handled remembers.
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
