package changes

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"plansheaf/design/change"
	"plansheaf/design/plan"
	"plansheaf/publish/compose"
	"plansheaf/publish/page"
)

// told is what the page of changes says in a state of the work under a combination, line
// by line.
func told(h page.Halfway, state int, c page.Combination) []string {
	var out []string
	for _, chapter := range h.Chapters {
		title := string(chapter.About)
		if chapter.About == page.OneStep {
			title = flat(chapter.Title)
		}
		for _, list := range chapter.Lists {
			for _, d := range list.Items {
				if d.At.Holds(state) && d.Only.Fits(c) {
					if !chapter.At.Holds(state) {
						out = append(out, "a chapter that is not there says:")
					}
					out = append(out, strings.TrimSpace(title+" "+flat(list.Label))+": "+flat(d.Words))
				}
			}
		}
	}
	return out
}

// answered is the same as the command answers it.
func answered(p, old *plan.Plan, h *change.Halfway) []string {
	var out []string
	title := func(p *plan.Plan, step string) string {
		a, id, _ := strings.Cut(step, ".")
		return p.Assembly(a).Title.Value + ": " + p.Assembly(a).Step(id).Title.Value
	}
	for _, s := range h.Done {
		out = append(out, "done: "+title(old, s))
	}
	for _, t := range h.First {
		out = append(out, "first: "+t.Say)
	}
	for _, a := range h.Steps {
		name := title(p, a.Step)
		if a.New {
			name += ", not done before"
		}
		for n, list := range [][]change.Task{a.Undo, a.Buy, a.Cut, a.Drill, a.Do} {
			for _, t := range list {
				out = append(out, name+" "+[]string{"Undo", "Buy", "Cut", "Drill", "Do"}[n]+": "+t.Say)
			}
		}
	}
	if h.Next == "" {
		out = append(out, "next: nothing: all is done")
	} else {
		out = append(out, "next: "+title(p, h.Next))
	}
	for _, s := range h.Stay {
		out = append(out, "stay: "+title(p, s))
	}
	return out
}

func flat(words []page.Inline) string {
	var b strings.Builder
	for _, w := range words {
		switch w := w.(type) {
		case page.Text:
			b.WriteString(string(w))
		case page.Link:
			b.WriteString(flat(w.Words))
		default:
			fmt.Fprintf(&b, "%#v", w)
		}
	}
	return b.String()
}

// halfwayOf is the block of the page of changes from one revision to another.
func halfwayOf(t testing.TB, old, new change.Revision) page.Halfway {
	t.Helper()
	doc, err := compose.Document(compose.Input{Work: new.Work, Findings: new.Findings, Old: &old})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range doc.Pages {
		for _, b := range p.Blocks {
			if h, is := b.(page.Halfway); is {
				return h
			}
		}
	}
	t.Fatal("no page tells builders half way anything")
	return page.Halfway{}
}

// For every step of the old revision, every combination of choices, and whether the
// assemblies above are done or not, the site says what the command does.
func TestSiteSaysWhatTheCommandDoes(t *testing.T) {
	_, list := revisions(t)
	type pair struct{ from, to int }
	pairs := []pair{{0, 6}, {6, 0}}
	for i := range len(list) - 1 {
		pairs = append(pairs, pair{i, i + 1})
	}
	answers, tasks := 0, 0
	for _, at := range pairs {
		t.Run(fmt.Sprintf("from %d to %d", at.from, at.to), func(t *testing.T) {
			old, new := list[at.from], list[at.to]
			h := halfwayOf(t, old, new)
			for _, s := range new.Work.Combinations() {
				choose := s.Case.Options
				course, err := change.NewHalfways(old, new).Under(choose)
				if err != nil {
					t.Fatal(err)
				}
				for i, step := range course.Steps() {
					n := slices.IndexFunc(h.Reached, func(r page.Reached) bool { return r.ID == step.String() })
					if n < 0 || !h.Reached[n].Only.Fits(page.Combination(choose)) {
						t.Fatalf("the step %s is not among those to pick from with %v", step, choose)
					}
					r := h.Reached[n]
					for state, done := range map[int][]string{r.State: course.UpTo(i), r.Alone: {step.String()}} {
						if state == 0 {
							continue
						}
						want, err := change.Midway(old, new, done, choose)
						if err != nil {
							t.Fatal(err)
						}
						same(t, fmt.Sprintf("%v done with %v", done, choose), told(h, state, page.Combination(choose)), answered(new.Work.Plan, old.Work.Plan, want))
						answers, tasks = answers+1, tasks+len(want.Steps)
					}
					if r.Alone == 0 { // what it needs is all that stands above it
						all, _ := course.Done(course.UpTo(i)...)
						one, _ := course.Done(step.String())
						if !reflect.DeepEqual(all, one) {
							t.Errorf("%s alone is not as all above it, and there is no state for it", step)
						}
					}
				}
			}
		})
	}
	if answers < 100 || tasks < 100 {
		t.Errorf("only %d answers with %d steps to see to were compared", answers, tasks)
	}
}

func same(t *testing.T, what string, got, want []string) {
	t.Helper()
	for i := range max(len(got), len(want)) {
		if i >= len(got) || i >= len(want) || got[i] != want[i] {
			t.Fatalf("%s: the site says\n%s\nthe command\n%s", what, strings.Join(got, "\n"), strings.Join(want, "\n"))
		}
	}
}

// Each step of the old revision can be picked once, in its order of work.
func TestStepsToPickFrom(t *testing.T) {
	_, list := revisions(t)
	h := halfwayOf(t, list[0], list[6])
	var got []string
	for i, r := range h.Reached {
		if r.State != i+1 {
			t.Errorf("%s is state %d, want %d", r.ID, r.State, i+1)
		}
		got = append(got, r.ID)
	}
	want := "carriage_unit.fit_block carriage_unit.fit_nut slide.lay_frame slide.fit_stop slide.fit_motor slide.fit_coupling slide.lay_carriage slide.run_screw slide.fit_bearing"
	if strings.Join(got, " ") != want {
		t.Errorf("the steps are %v, want %s", got, want)
	}
}
