package compose

import (
	"slices"
	"strings"
	"sync"

	"plansheaf/design/change"
	"plansheaf/publish/page"
	"plansheaf/publish/wording"
)

// mostAnswers bounds how many answers are worked out for builders half way: two for each
// step of the earlier revision under each combination of choices.
const mostAnswers = 6000

// mostTasks bounds how many tasks all answers together may hold; a plan of 500 parts, each
// of them changed, has 300,000.
const mostTasks = 400_000

// halfway tells builders who are in the middle of an earlier revision what to do: for
// each step of it that may be the last one done, and each combination of choices, what
// package change answers.
func (c *composer) halfway(old change.Revision) []page.Block {
	blocks := []page.Block{page.Heading{Level: 2, ID: "halfway", Words: c.said("Half way through revision %s", old.Work.Plan.Revision.Text)}}
	all := change.NewHalfways(old, change.Revision{Work: c.Work, Findings: c.Findings})
	situations, steps := c.all, len(old.Work.Default().Sequence().Graph.Steps)
	tooMuch := c.paragraph("There are too many steps to tell here what each leaves to do; the command plansheaf compare tells it, with the option --done.")
	switch {
	case 2*steps > mostAnswers:
		return append(blocks, tooMuch)
	case 2*steps*len(situations) > mostAnswers:
		situations = situations[:1]
		blocks = append(blocks, c.paragraph("There are too many ways to build it to tell them all here: this is for the plan's own choices. The command plansheaf compare tells of others, with the options --done and --choose."))
	}
	some := *c
	some.all = situations
	g := gathering{composer: &some, revision: old.Work.Plan.Revision.Text}
	for i, s := range situations {
		course, err := all.Under(s.Case.Options)
		if err != nil { // the earlier revision had too many combinations to be worked out for all
			continue
		}
		g.courses = append(g.courses, course)
		g.of = append(g.of, i)
	}
	told, ok := g.block()
	if !ok {
		return append(blocks, tooMuch)
	}
	told.About = c.said("Whoever has built by that revision up to some step sees here what of it is to be undone and done again, in the order of the new steps, and what may stay. What the done steps put in is taken as made and bought, and nothing of later ones.")
	return append(blocks, told)
}

// A gathering collects answers into one block that holds each task once.
type gathering struct {
	*composer
	revision string
	courses  []*change.Course
	of       []int // which of the composer's combinations each is for
	reached  []page.Reached
	at       map[string]int // of a step among reached

	done, first, stay, next tasks
	steps                   strand[*stepTasks]
	sum                     int // of tasks so far
}

// tasks are words to say in their order, each with when it is said.
type tasks = strand[[]page.Inline]

// stepTasks are the tasks of one new step, by what they are.
type stepTasks struct {
	ahead change.Ahead
	lists [5]tasks
}

// labels are what the lists of a step's tasks are called.
var labels = [5]wording.Phrase{"Undo|a builder half way", "Buy|a builder half way", "Cut|a builder half way", "Drill|a builder half way", "Do|a builder half way"}

// block is all answers as one block; ok is false where they are too many.
func (g *gathering) block() (block page.Halfway, ok bool) {
	g.list()
	for n, course := range g.courses {
		for i, s := range course.Steps() {
			// No error: the steps are the course's own.
			above, _ := course.Done(course.UpTo(i)...)
			at := g.reached[g.at[s.String()]]
			if g.take(above, g.of[n], at.State); g.sum > mostTasks {
				return block, false
			}
		}
	}
	for n, course := range g.courses {
		for _, s := range course.Steps() {
			if at := g.reached[g.at[s.String()]]; at.Alone > 0 {
				alone, _ := course.Done(s.String())
				if g.take(alone, g.of[n], at.Alone); g.sum > mostTasks {
					return block, false
				}
			}
		}
	}
	return page.Halfway{
		ID: "done", Revision: g.revision, Reached: g.reached, Chapters: g.chapters(),
		OnPaper: g.said("What a builder who is half way through revision %s does depends on the last step done: the page of changes of the site tells it for each, and so does the command plansheaf compare with the option --done.", g.revision),
	}, true
}

// list lists the earlier revision's steps of all combinations in their order of work.
func (g *gathering) list() {
	var order strand[[2]string]
	differs := map[string]bool{}
	for n, course := range g.courses {
		var keys []keyed[[2]string]
		for i, s := range course.Steps() {
			keys = append(keys, keyed[[2]string]{s.String(), [2]string{s.Assembly.Title.Value, s.Step.Title.Value}})
			if !course.Alike(s.String(), course.UpTo(i)) {
				differs[s.String()] = true
			}
		}
		order.add(keys, g.of[n], 1)
	}
	g.at = map[string]int{}
	for _, e := range order.list {
		if _, twice := g.at[e.key]; twice {
			continue
		}
		g.at[e.key] = len(g.reached)
		only, _ := g.onlyAt(func(i int) bool { return e.at[i] != nil })
		g.reached = append(g.reached, page.Reached{ID: e.key, Group: e.value[0], Title: plainTitle(e.value[1]), Only: only, State: len(g.reached) + 1})
	}
	states := len(g.reached)
	for i := range g.reached {
		if differs[g.reached[i].ID] {
			states++
			g.reached[i].Alone = states
		}
	}
}

func plainTitle(text string) string { return strings.Join(strings.Fields(text), " ") }

// take adds an answer for a combination and a state of the work.
func (g *gathering) take(h *change.Halfway, combination, state int) {
	add := func(to *tasks, list []keyed[[]page.Inline]) { to.add(list, combination, state) }
	words := func(list []change.Task) []keyed[[]page.Inline] {
		out := make([]keyed[[]page.Inline], len(list))
		for i, t := range list {
			out[i] = keyed[[]page.Inline]{key: t.Say}
		}
		return out
	}
	names := func(list []string) []keyed[[]page.Inline] {
		out := make([]keyed[[]page.Inline], len(list))
		for i, name := range list {
			out[i] = keyed[[]page.Inline]{key: name}
		}
		return out
	}
	add(&g.done, names(h.Done))
	add(&g.first, words(h.First))
	add(&g.stay, names(h.Stay))
	add(&g.next, names([]string{h.Next}))
	g.fill(&g.first, h.First)
	steps := make([]keyed[*stepTasks], len(h.Steps))
	for i, a := range h.Steps {
		key := a.Step
		if a.New {
			key += " new"
		}
		steps[i] = keyed[*stepTasks]{key, nil}
	}
	for i, e := range g.steps.add(steps, combination, state) {
		a := h.Steps[i]
		if e.value == nil {
			e.value = &stepTasks{ahead: a}
		}
		for n, list := range [][]change.Task{a.Undo, a.Buy, a.Cut, a.Drill, a.Do} {
			g.sum += len(list)
			add(&e.value.lists[n], words(list))
			g.fill(&e.value.lists[n], list)
		}
	}
}

// fill words what was added and has none yet.
func (g *gathering) fill(to *tasks, list []change.Task) {
	for _, t := range list {
		for _, e := range to.of[t.Say] {
			if e.value == nil {
				e.value = g.taskWords(t)
			}
		}
	}
}

// chapters are all that was gathered, in order.
func (g *gathering) chapters() []page.Chapter {
	var out []page.Chapter
	add := func(about page.ChapterKind, title []page.Inline, lists ...page.Doings) {
		one := page.Chapter{About: about, Title: title}
		var states []int
		for _, l := range lists {
			if len(l.Items) == 0 {
				continue
			}
			one.Lists = append(one.Lists, l)
			for _, item := range l.Items {
				for _, span := range item.At {
					for state := span.From; state <= span.To; state++ {
						states = append(states, state)
					}
				}
			}
		}
		if len(one.Lists) == 0 {
			return
		}
		slices.Sort(states)
		for _, state := range states {
			one.At = one.At.And(state)
		}
		out = append(out, one)
	}
	for _, e := range g.done.list {
		e.value = page.Words(g.doneTitle(e.key))
	}
	for _, e := range g.next.list {
		e.value = g.newStep(e.key)
	}
	for _, e := range g.stay.list { // there is nothing to do there: no link
		e.value = page.Words(g.newTitle(e.key))
	}
	add(page.TakenAsDone, g.said("Taken as done"), g.doings(nil, g.done))
	add(page.UndoFirst, g.said("Undo first, in this order"), g.doings(nil, g.first))
	for _, e := range g.steps.list {
		title := g.newStep(e.value.ahead.Step)
		if e.value.ahead.New {
			title = g.told("%s, not done before|a step", title)
		}
		var lists []page.Doings
		for n, list := range e.value.lists {
			lists = append(lists, g.doings(g.labelWords(n), list))
		}
		add(page.OneStep, title, lists...)
	}
	add(page.GoOn, g.said("Go on with|a step"), g.doings(nil, g.next))
	add(page.MayStay, g.said("May stay as it is"), g.doings(nil, g.stay))
	return out
}

// labelWords are what a step's n-th list is called; what is bought and cut leads to its
// page.
func (g *gathering) labelWords(n int) []page.Inline {
	words := g.said(labels[n])
	switch n {
	case 1:
		return []page.Inline{page.Link{To: page.Target{Page: "shopping"}, Words: words}}
	case 2:
		return []page.Inline{page.Link{To: page.Target{Page: "cutting"}, Words: words}}
	}
	return words
}

// doings are the entries of a list with when they are said.
func (g *gathering) doings(label []page.Inline, from tasks) page.Doings {
	out := page.Doings{Label: label}
	for _, e := range from.list {
		for _, when := range g.when(e.at) {
			out.Items = append(out.Items, page.Doing{Words: e.value, Only: when.only, At: when.at})
		}
	}
	return out
}

// A when is some states of the work under some combinations.
type when struct {
	only page.Only
	at   page.Spans
}

// when tells states by combination as few pages' conditions as serve: one where all
// combinations agree, or those that do are what a condition can say.
func (g *gathering) when(at map[int]page.Spans) []when {
	var out []when
	met := map[int]bool{}
	for i := range g.all {
		if at[i] == nil || met[i] {
			continue
		}
		alike := func(n int) bool { return slices.Equal(at[n], at[i]) }
		only, _ := g.onlyAt(alike)
		exact := true
		for n, s := range g.all {
			exact = exact && only.Fits(page.Combination(s.Case.Options)) == alike(n)
		}
		if !exact {
			out = append(out, when{conditions(g.plan.Choices, g.all[i]), at[i]})
			continue
		}
		for n := range g.all {
			met[n] = met[n] || alike(n)
		}
		out = append(out, when{only, at[i]})
	}
	return out
}

// doneTitle is a step of the earlier revision in words.
func (g *gathering) doneTitle(id string) string {
	r := g.reached[g.at[id]]
	return r.Group + ": " + r.Title
}

// newStep leads to a step of the plan; "" is none.
func (g *gathering) newStep(id string) []page.Inline {
	if id == "" {
		return g.said("nothing: all is done")
	}
	assembly, step, _ := strings.Cut(id, ".")
	return []page.Inline{g.linkTo(stepTarget(g.plan.Assembly(assembly), step), g.newTitle(id))}
}

// newTitle is a step of the plan in words.
func (g *gathering) newTitle(id string) string {
	assembly, step, _ := strings.Cut(id, ".")
	a := g.plan.Assembly(assembly)
	return a.Title.Value + ": " + plainTitle(a.Step(step).Title.Value)
}

// A strand is a list put together of many that mostly agree: each entry once where their
// orders allow, so that each of them is the entries marked with it, in order.
type strand[T any] struct {
	list []*entry[T]
	of   map[string][]*entry[T]
}

// A keyed is a value to add to a strand.
type keyed[T any] struct {
	key   string
	value T
}

// An entry is one of a strand, with the states of the work by combination.
type entry[T any] struct {
	keyed[T]
	at map[int]page.Spans
}

// add adds a list for a combination and a state, and gives its entries. What a state is
// added for rises from call to call.
func (s *strand[T]) add(list []keyed[T], combination, state int) []*entry[T] {
	if s.of == nil {
		s.of = map[string][]*entry[T]{}
	}
	out := make([]*entry[T], len(list))
	from := 0
	for i, one := range list {
		at := -1
		if len(s.of[one.key]) > 0 {
			if n := slices.IndexFunc(s.list[from:], func(e *entry[T]) bool { return e.key == one.key }); n >= 0 {
				at = from + n
			}
		}
		if at < 0 {
			e := &entry[T]{keyed: one, at: map[int]page.Spans{}}
			s.of[one.key] = append(s.of[one.key], e)
			s.list = slices.Insert(s.list, from, e)
			at = from
		}
		out[i] = s.list[at]
		out[i].at[combination] = out[i].at[combination].And(state)
		from = at + 1
	}
	return out
}

// taskWords is a task in the plan's language, with links.
func (c *composer) taskWords(t change.Task) []page.Inline { return c.changeWords(t.Words()) }

// changeWords are words of package change in the plan's language.
func (c *composer) changeWords(w change.Words) []page.Inline {
	parts := make([][]page.Inline, len(w.Pieces))
	for i, pieces := range w.Pieces {
		items := make([][]page.Inline, len(pieces))
		for n, p := range pieces {
			items[n] = c.piece(p)
		}
		parts[i] = joined(items)
	}
	if w.Phrase == "%s" {
		return parts[0]
	}
	return c.told(wording.Phrase(w.Phrase), parts...)
}

func (c *composer) piece(p change.Piece) []page.Inline {
	switch {
	case p.Subject != nil:
		return c.subject(*p.Subject)
	case p.Item != nil:
		return page.Words(p.Item.String())
	case p.Field != nil:
		return c.fieldWords(*p.Field)
	case p.Words != nil:
		return c.changeWords(*p.Words)
	}
	return page.Words(p.Text)
}

// subject is a use or a joint with what it holds or takes. What is to be bought or made
// leads to its part, a joint to what holds it together and why; the rest is undone, or was
// named before.
func (c *composer) subject(s change.Subject) []page.Inline {
	if s.Name == "" {
		items := make([][]page.Inline, len(s.Items))
		for i, one := range s.Items {
			items[i] = page.Words(one.String())
			if p := c.plan.Part(one.Part); p != nil {
				count, _ := strings.CutSuffix(one.String(), one.Title)
				items[i] = append(page.Words(count), c.linkTo(partTarget(p), one.Title))
			}
		}
		return joined(items)
	}
	assembly, id, _ := strings.Cut(s.Name, ".")
	a := c.plan.Assembly(assembly)
	if !s.Joint || s.Old || a == nil || a.Joint(id) == nil || !c.placed(assemblyTarget(a)) {
		return page.Words(s.String())
	}
	after, _ := strings.CutPrefix(s.String(), s.Name)
	return append([]page.Inline{c.linkTo(jointTarget(a, a.Joint(id)), s.Name)}, page.Words(after)...)
}

// fieldWords say a field before and after.
func (c *composer) fieldWords(f change.Field) []page.Inline {
	name := []page.Inline{page.Text(c.fieldName(f.What))}
	old, new := page.Words(f.Said(f.Old)), page.Words(f.Said(f.New))
	switch {
	case f.Old == "":
		return c.told("%s %s is new|a field", name, new)
	case f.New == "":
		return c.told("%s %s is gone|a field", name, old)
	}
	return c.told("%s %s → %s|a field", name, old, new)
}

// fieldName is the name of a field in the plan's language: words that package change
// knows, each with a name of the plan behind it or none.
func (c *composer) fieldName(what string) string {
	chunks := strings.Split(what, ", ")
	for i, chunk := range chunks {
		for end := len(chunk); end > 0; end = strings.LastIndexByte(chunk[:end], ' ') {
			if word := chunk[:end]; fieldWords()[word] {
				chunks[i] = c.say(wording.Phrase(word+"|a field")) + chunk[end:]
				break
			}
		}
	}
	return strings.Join(chunks, ", ")
}

// fieldWords are the words that package change makes names of fields of.
var fieldWords = sync.OnceValue(func() map[string]bool {
	words := map[string]bool{}
	for _, word := range change.FieldWords() {
		words[word] = true
	}
	return words
})
