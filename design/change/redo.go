package change

import (
	"cmp"
	"maps"
	"reflect"
	"slices"
	"strings"

	"plansheaf/design/bill"
	"plansheaf/design/reckon"
	"plansheaf/design/sequence"
)

// ahead goes through the new order.
func (w *walk) ahead() {
	order := w.is.order
	isDone := func(i int) bool {
		j, known := w.known[w.is.graph.Steps[i].String()]
		return known && w.done[j]
	}
	last := -1 // of order, that is done
	for at, i := range order {
		if isDone(i) {
			last = at
		}
	}
	parts, ties := map[string]bool{}, map[string]bool{} // uses and joints of steps that are still to do
	for at, i := range order {
		s := w.is.graph.Steps[i]
		one := Ahead{Step: s.String(), Title: plainly(s.Step.Title.Value)}
		switch {
		case isDone(i):
			w.again(i, &one)
		case at < last && slices.ContainsFunc(order[at+1:last+1], func(j int) bool { return isDone(j) && w.is.graph.Before(i, j) }):
			one.New = true
			one.Do = append(one.Do, said(Task{Do: DoStep}))
			w.again(i, &one)
		default:
			if w.out.Next == "" {
				w.out.Next = one.Step
			}
			for _, x := range w.is.adds[i] {
				parts[x] = true
			}
			for _, x := range w.is.joins[i] {
				ties[x] = true
			}
			continue
		}
		if one.empty() {
			w.out.Stay = append(w.out.Stay, one.Step)
			continue
		}
		w.out.Steps = append(w.out.Steps, one)
	}
	w.restore(parts, ties)
}

// again compares a step with what is there: what it puts in, what it joins, what it says.
func (w *walk) again(i int, one *Ahead) {
	for _, x := range w.is.adds[i] {
		w.part(x, one)
	}
	for _, x := range w.is.joins[i] {
		w.join(x, one)
	}
	s := w.is.graph.Steps[i]
	c, changed := w.changed[OfStep][s.String()]
	if !changed || one.New {
		return
	}
	said := false
	for _, f := range c.Lines {
		switch {
		case strings.HasPrefix(f.What, "measures") && f.New != "":
			one.Do = append(one.Do, w.measure(s, f))
		case f.What == "text" || strings.HasPrefix(f.What, "text,"):
			said = true
		}
	}
	if said {
		one.Do = append(one.Do, readAgain)
	}
}

var readAgain = said(Task{Do: Read})

// measure is to measure again what a step says otherwise now.
func (w *walk) measure(s sequence.Step, f Field) Task {
	t := &teller{side: w.m.new, names: w.m.same, a: s.Assembly}
	task := Task{Do: Measure, Is: f.New}
	for _, m := range s.Step.Measures {
		if say, _ := t.compact(reflect.ValueOf(m), "Step.Measures"); say != f.New {
			continue
		}
		task.Is = plainly(m.Say.Value)
		if value, _ := t.quantity(m.Of); value != "" {
			task.Is += ": " + value
		}
		task.Within, _ = t.quantity(m.Within)
	}
	return said(task)
}

// got is a part to make or to buy, n of it.
func (w *walk) got(p *reckon.Part, n int, one *Ahead) {
	list, do := &one.Cut, Make
	if bill.Bought(p) {
		list, do = &one.Buy, Buy
	}
	item := Item{p.Part.ID.Text, bill.Title(p), n}
	for i, t := range *list {
		if t.Do == do && len(t.On.Items) == 1 && t.On.Items[0].Part == item.Part {
			item.Count += t.On.Items[0].Count
			(*list)[i] = said(Task{Do: do, On: Subject{Items: []Item{item}}})
			return
		}
	}
	*list = append(*list, said(Task{Do: do, On: Subject{Items: []Item{item}}}))
}

// bought is hardware of joints to buy.
func bought(items []Item, one *Ahead) {
	for _, item := range items {
		one.Buy = append(one.Buy, said(Task{Do: Buy, On: Subject{Items: []Item{item}}}))
	}
}

// comes makes room for a use that is new among what is there: what the new revision puts
// onto it later comes off.
func (w *walk) comes(use string, one *Ahead) {
	var on []string
	for _, joint := range w.is.tied[use] {
		for _, other := range w.is.partners(joint, use) {
			if old, there := w.uses[other]; there && w.is.at[other] > w.is.at[use] && !slices.Contains(on, old) {
				on = append(on, old)
			}
		}
	}
	one.Undo = append(one.Undo, w.lift(on)...)
	if _, p, n := w.m.new.held(use); p != nil && n > 0 {
		w.got(p, n, one)
	}
	if !one.New {
		one.Do = append(one.Do, said(Task{Do: PutIn, On: w.is.use(use)}))
	}
}

// part is what becomes of a use that a done step puts in.
func (w *walk) part(use string, one *Ahead) {
	old, there := w.uses[use]
	if !there {
		w.comes(use, one)
		return
	}
	_, p, n := w.m.new.held(use)
	var what rework
	if p != nil {
		if _, before, had := w.m.old.held(old); before != nil {
			what = w.rework(before, p)
			if what.fate == stays && n > had {
				more := Subject{Items: []Item{{p.Part.ID.Text, bill.Title(p), n - had}}}
				w.got(p, n-had, one)
				one.Do = append(one.Do, said(Task{Do: PutMore, On: more}))
			}
		}
	}
	moved := w.moved(use)
	lifted := w.off[use] != nil
	switch {
	case what.fate != stays:
		one.Undo = append(one.Undo, w.clear(old)...)
	case len(moved) > 0:
		one.Undo = append(one.Undo, w.open(old)...)
	}
	switch what.fate {
	case made:
		if !lifted {
			one.Undo = append(one.Undo, said(Task{Do: TakeOut, On: w.past(w.was.use(old))}))
		}
		w.got(p, n, one)
		one.Do = append(one.Do, said(Task{Do: PutIn, On: w.is.use(use)}))
	case drilled:
		one.Drill = append(one.Drill, said(Task{Do: Drill, On: w.is.use(use), Holes: what.holes}))
	case shortened:
		one.Cut = append(one.Cut, said(Task{Do: Shorten, On: w.is.use(use), Is: what.length}))
	}
	if lifted {
		if what.fate != made {
			one.Do = append(one.Do, w.back(use))
		}
		delete(w.off, use)
	}
	if len(moved) > 0 {
		one.Do = append(one.Do, said(Task{Do: Set, On: Subject{Name: use}, Lines: moved}))
	}
}

// back puts back what came off, with what stayed on it.
func (w *walk) back(use string) Task {
	t := Task{Do: PutBack, On: w.is.use(use)}
	for _, rider := range w.off[use].riders {
		if w.m.new.holds(rider) {
			t.With = append(t.With, w.is.use(rider))
		}
	}
	return said(t)
}

// moved is how the plan places a use otherwise.
func (w *walk) moved(use string) []Field {
	c, changed := w.changed[OfPlacement][use]
	if !changed || c.Follows {
		return nil
	}
	var list []Field
	for _, f := range c.Lines {
		word, _, _ := strings.Cut(f.What, ",")
		if slices.Contains([]string{"at", "turn", "seat", "between", "around", "step"}, word) {
			list = append(list, f)
		}
	}
	return list
}

// restore puts back and joins again what none of the steps gone through did, because they
// come before the one that it came off for; what is still to do is left to its step.
func (w *walk) restore(parts, ties map[string]bool) {
	if len(w.out.Steps) == 0 {
		return
	}
	for _, use := range slices.SortedFunc(maps.Keys(w.off), earlier(w.is.at)) {
		if !parts[use] {
			at := min(w.off[use].step, len(w.out.Steps)-1)
			w.out.Steps[at].Do = append(w.out.Steps[at].Do, w.back(use))
		}
	}
	for _, joint := range slices.SortedFunc(maps.Keys(w.opened), earlier(w.is.since)) {
		if w.opened[joint] && !ties[joint] {
			at := min(w.shut[joint], len(w.out.Steps)-1)
			w.out.Steps[at].Do = append(w.out.Steps[at].Do, said(Task{Do: JoinBack, On: w.is.joint(joint)}))
		}
	}
}

// earlier sorts by what comes earlier, and then by name.
func earlier(at map[string]int) func(a, b string) int {
	return func(a, b string) int { return cmp.Or(cmp.Compare(at[a], at[b]), strings.Compare(a, b)) }
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
	now := w.is.joint(joint)
	old, there := w.ties[joint]
	switch {
	case !there:
		bought(now.Items, one)
		if !one.New {
			one.Do = append(one.Do, said(Task{Do: Join, On: now}))
		}
	case w.otherwise(joint):
		was := w.was.joint(old)
		if !w.opened[joint] {
			one.Undo = append(one.Undo, said(Task{Do: Open, On: w.past(was)}))
		}
		for _, item := range now.Items {
			if !slices.ContainsFunc(was.Items, func(one Item) bool { return one.Title == item.Title && one.Count == item.Count }) {
				bought([]Item{item}, one)
			}
		}
		one.Do = append(one.Do, said(Task{Do: Join, On: now}))
	case w.opened[joint]:
		one.Do = append(one.Do, said(Task{Do: JoinBack, On: now}))
	default:
		w.tighten(joint, one)
		return
	}
	delete(w.opened, joint)
}

// tighten is to tighten a joint by another torque.
func (w *walk) tighten(joint string, one *Ahead) {
	for _, f := range w.changed[OfJoint][joint].Lines {
		if strings.HasPrefix(f.What, "torque") && f.New != "" {
			one.Do = append(one.Do, said(Task{Do: Tighten, On: Subject{Name: joint, Joint: true}, Was: f.Old, Is: f.New}))
			return
		}
	}
}
