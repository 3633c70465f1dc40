package change

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
)

// A walk goes through the steps of both revisions for somebody who has done some of the
// old one.
type walk struct {
	*Course
	done       map[int]bool      // steps of was
	uses, ties map[string]string // uses put in and joints made, by new name: the old one
	put, made  map[string]bool   // the same by old name
	opened     map[string]bool   // joints to be made again, by new name
	shut       map[string]int    // the last step of out that such a joint is open for
	off        map[string]*lifted
	out        *Halfway
}

// A lifted use came off because something below it is changed, with what stays on it;
// by new name.
type lifted struct {
	riders []string // by new name
	step   int      // of out, the last one for which it came off
}

// closure are the steps of the old revision that are done where those named are.
func (c *Course) closure(named []string) (map[int]bool, error) {
	g := c.was.graph
	done := map[int]bool{}
	for _, name := range named {
		at := slices.IndexFunc(c.was.order, func(i int) bool { return g.Steps[i].String() == name })
		if at < 0 {
			return nil, fmt.Errorf("the old revision has no step %q under these choices; its steps are %s", name, c.stepNames())
		}
		i := c.was.order[at]
		for j, s := range g.Steps {
			if g.By(j, i) || s.Assembly == g.Steps[i].Assembly && j < i {
				done[j] = true
			}
		}
	}
	for _, i := range slices.Sorted(maps.Keys(done)) { // what those above lean on is done, too
		for j := range g.Steps {
			if g.Before(j, i) {
				done[j] = true
			}
		}
	}
	return done, nil
}

// Alike reports whether the same steps are done where one is as where those named are.
func (c *Course) Alike(step string, named []string) bool {
	one, err := c.closure([]string{step})
	all, failed := c.closure(named)
	return err == nil && failed == nil && maps.Equal(one, all)
}

// take notes what is done.
func (w *walk) take(named []string) (err error) {
	if w.done, err = w.closure(named); err != nil {
		return err
	}
	g := w.was.graph
	for _, i := range w.was.order {
		if !w.done[i] {
			continue
		}
		w.out.Done = append(w.out.Done, g.Steps[i].String())
		for _, x := range w.was.adds[i] {
			w.uses[w.places[x]], w.put[x] = x, true
		}
		for _, x := range w.was.joins[i] {
			w.ties[w.joints[x]], w.made[x] = x, true
		}
	}
	return nil
}

// leave undoes what the new revision has no place for, the last done first.
func (w *walk) leave() {
	for _, i := range slices.Backward(w.was.order) {
		if !w.done[i] {
			continue
		}
		for _, x := range w.was.joins[i] {
			if !w.m.new.makes(w.joints[x]) {
				w.out.First = append(w.out.First, said(Task{Do: Open, On: w.past(w.was.joint(x))}))
			}
		}
		for _, x := range slices.Backward(w.was.adds[i]) {
			if !w.m.new.holds(w.places[x]) {
				w.out.First = append(w.out.First, w.clear(x)...)
				w.out.First = append(w.out.First, said(Task{Do: TakeOut, On: w.past(w.was.use(x))}))
			}
		}
	}
}

// past is a subject as the old revision has it.
func (w *walk) past(s Subject) Subject {
	s.Old = true
	return s
}

// clear frees an old use, so that it can be taken out or worked on: what was put onto it
// since comes off, the last first, and its joints are opened.
func (w *walk) clear(use string) []Task {
	var on []string
	for _, joint := range w.was.tied[use] {
		if !w.made[joint] {
			continue
		}
		for _, other := range w.was.partners(joint, use) {
			if w.put[other] && w.was.at[other] > w.was.at[use] && !slices.Contains(on, other) {
				on = append(on, other)
			}
		}
	}
	tasks := w.lift(on)
	return append(tasks, w.open(use)...)
}

// lift takes old uses off, the last put in first.
func (w *walk) lift(on []string) []Task {
	slices.SortFunc(on, func(a, b string) int { return cmp.Compare(w.was.at[b], w.was.at[a]) })
	var tasks []Task
	for _, use := range on {
		name := w.places[use]
		if w.off[name] != nil || !w.m.new.holds(name) {
			continue // it is off, or was taken out first
		}
		riders := w.riders(use)
		one := Task{Do: TakeOff, On: w.past(w.was.use(use))}
		w.off[name] = &lifted{step: len(w.out.Steps)}
		for _, rider := range riders {
			w.off[name].riders = append(w.off[name].riders, w.places[rider])
			one.With = append(one.With, w.past(w.was.use(rider)))
		}
		tasks = append(append(tasks, w.loosen(append(riders, use))...), said(one))
	}
	return tasks
}

// riders are what stays on a use that comes off: what was put onto it since, and onto
// nothing else.
func (w *walk) riders(use string) []string {
	var list []string
	carried := map[string]bool{use: true}
	for more := true; more; {
		more = false
		for _, member := range append([]string{use}, list...) {
			for _, joint := range w.was.tied[member] {
				for _, other := range w.was.partners(joint, member) {
					if w.made[joint] && !carried[other] && w.put[other] && w.off[w.places[other]] == nil && w.rides(other, carried) {
						carried[other], more = true, true
						list = append(list, other)
					}
				}
			}
		}
	}
	slices.SortFunc(list, func(a, b string) int { return cmp.Compare(w.was.at[a], w.was.at[b]) })
	return list
}

// rides reports whether all that a use was put onto is carried.
func (w *walk) rides(use string, carried map[string]bool) bool {
	onto := false
	for _, joint := range w.was.tied[use] {
		if !w.made[joint] {
			continue
		}
		for _, other := range w.was.partners(joint, use) {
			if w.was.at[other] < w.was.at[use] {
				if onto = true; !carried[other] {
					return false
				}
			}
		}
	}
	return onto
}

// loosen opens the done joints that hold what comes off together to anything else, the
// last made first.
func (w *walk) loosen(together []string) []Task {
	joints := map[string]bool{}
	for _, use := range together {
		for _, joint := range w.was.tied[use] {
			for _, other := range w.was.partners(joint, use) {
				if w.made[joint] && w.put[other] && !slices.Contains(together, other) {
					joints[joint] = true
				}
			}
		}
	}
	return w.openAll(joints)
}

// open opens the done joints that hold a use.
func (w *walk) open(use string) []Task {
	joints := map[string]bool{}
	for _, joint := range w.was.tied[use] {
		joints[joint] = w.made[joint]
	}
	return w.openAll(joints)
}

// openAll opens joints that the new revision still makes and that were not opened
// before, the last made first.
func (w *walk) openAll(joints map[string]bool) []Task {
	list := slices.SortedFunc(maps.Keys(joints), func(a, b string) int { return cmp.Compare(w.was.since[b], w.was.since[a]) })
	var tasks []Task
	for _, joint := range list {
		name := w.joints[joint]
		if !joints[joint] || !w.m.new.makes(name) {
			continue
		}
		w.shut[name] = len(w.out.Steps)
		if !w.opened[name] {
			w.opened[name] = true
			tasks = append(tasks, said(Task{Do: Open, On: w.past(w.was.joint(joint))}))
		}
	}
	return tasks
}
