package record

import (
	"fmt"
	"slices"
	"strings"

	"plansheaf/design/calc"
	"plansheaf/design/check"
	"plansheaf/design/plan"
	"plansheaf/design/source/rewrite"
)

// A Change is one record that changes.
type Change struct {
	Name    string // "press_force.force", or a joint: "frame.head_to_post"
	Line    int    // in the file as it is
	Was, Is string // as written; equal where only the inputs change; Was is empty for a new record
	Inputs  []string
}

// An Edit is one file with its records up to date.
type Edit struct {
	File          string // below the plan's directory
	Before, After []byte
	Changes       []Change
}

// A Refusal is a record that cannot be brought up to date, and why.
type Refusal struct{ Name, Why string }

// Edits works out what brings records up to date: those named (a calculation, one of its
// results, a joint), or all for no name. A result that is named and has no record yet gets
// one. read gives a file of the plan. The error is a name that stands for nothing.
func Edits(w *check.Work, read func(file string) ([]byte, error), names []string) ([]Edit, []Refusal, error) {
	e := &editor{w: w, read: read, names: names, used: map[string]bool{}, files: map[string]*file{}}
	for _, c := range w.Plan.Calcs {
		e.calculation(c)
	}
	for _, a := range w.Plan.Assemblies {
		for _, j := range a.Joints {
			e.joint(a, j)
		}
	}
	for _, name := range names {
		if !e.used[name] {
			return nil, nil, fmt.Errorf("%q is no calculation, result of one, or joint whose screw a fit chooses", name)
		}
	}
	return e.edits(), e.refused, nil
}

type editor struct {
	w       *check.Work
	read    func(file string) ([]byte, error)
	names   []string
	used    map[string]bool
	files   map[string]*file
	order   []string
	refused []Refusal
}

// A file is one that changes.
type file struct {
	*rewrite.File
	first   *rewrite.File // as it was read
	before  []byte
	changes []Change
}

func (e *editor) edits() []Edit {
	var list []Edit
	for _, name := range e.order {
		if f := e.files[name]; len(f.changes) > 0 {
			list = append(list, Edit{File: name, Before: f.before, After: f.Text(), Changes: f.changes})
		}
	}
	return list
}

// file is the plan's file of that name.
func (e *editor) file(name string) (*file, error) {
	if f, known := e.files[name]; known {
		return f, nil
	}
	data, err := e.read(name)
	if err != nil {
		return nil, err
	}
	text, err := rewrite.Parse(data)
	if err != nil {
		return nil, err
	}
	first := *text
	e.files[name] = &file{File: text, first: &first, before: data}
	e.order = append(e.order, name)
	return e.files[name], nil
}

func (e *editor) refuse(name string, err error) {
	e.refused = append(e.refused, Refusal{Name: name, Why: err.Error()})
}

// asked reports whether any of the names asks for a thing; the first is the one that
// stands for it alone.
func (e *editor) asked(names ...string) (asked, alone bool) {
	for i, name := range names {
		if slices.Contains(e.names, name) {
			e.used[name] = true
			asked, alone = true, alone || i == 0
		}
	}
	return asked || len(e.names) == 0, alone
}

// calculation brings the records of one calculation up to date.
func (e *editor) calculation(c *plan.Calc) {
	report := e.w.Default().Calc(c.ID.Text)
	e.asked(c.ID.Text)
	if report == nil {
		if asked, _ := e.asked("", c.ID.Text); asked && len(e.names) > 0 {
			e.refuse(c.ID.Text, fmt.Errorf("it does not belong to the plan's default choices"))
		}
		return
	}
	for _, f := range c.Finds {
		name := c.ID.Text + "." + f.Name.Text
		i := slices.IndexFunc(report.Records, func(r calc.Record) bool { return r.Name == f.Name.Text })
		asked, alone := e.asked(name, c.ID.Text)
		if !asked || i < 0 && !alone {
			continue
		}
		rec := calc.Record{Name: f.Name.Text}
		if i >= 0 {
			rec = report.Records[i]
		} else {
			rec = calc.Unrecorded(e.w.Default().Reckoning, c, f.Name.Text)
		}
		if !rec.Known {
			e.refuse(name, fmt.Errorf("it cannot be worked out, or its record is of another kind"))
			continue
		}
		if err := e.result(c, rec, i < 0); err != nil {
			e.refuse(name, err)
		}
	}
}

// result brings one record up to date.
func (e *editor) result(c *plan.Calc, rec calc.Record, fresh bool) error {
	f, err := e.file(c.ID.At.File)
	if err != nil {
		return err
	}
	again, err := rewrite.Parse(f.Text())
	if err != nil {
		return err
	}
	change := Change{Name: c.ID.Text + "." + rec.Name, Line: f.first.Line("recorded", rec.Name)}
	r := recorder{File: again, rec: rec, path: []string{"recorded", rec.Name}, options: e.w.Default().Case.Options}
	if fresh {
		err = r.begin(c)
	} else {
		err = r.value(&change)
	}
	if err == nil {
		err = r.inputs(&change)
	}
	if err != nil {
		return err
	}
	if string(again.Text()) == string(f.Text()) {
		return nil
	}
	if fresh {
		change.Line, change.Is = again.Line("recorded", rec.Name), r.now
	}
	f.File = again
	f.changes = append(f.changes, change)
	return nil
}

// joint brings the recorded screw of a fit up to date.
func (e *editor) joint(a *plan.Assembly, j *plan.Joint) {
	name := a.ID.Text + "." + j.ID.Text
	chosen, ok := j.Fastener.Pick(e.w.Default().Case.Options)
	if !ok || !j.Fit.Given() || strings.HasPrefix(chosen.Text, plan.FitPrefix) {
		return
	}
	asked, alone := e.asked(name, a.ID.Text)
	if !asked || !j.Recorded.Given() && !alone || j.Recorded.Text == chosen.Text {
		return
	}
	f, err := e.file(a.ID.At.File)
	if err != nil {
		e.refuse(name, err)
		return
	}
	path := []string{"joints", j.ID.Text, "recorded"}
	change := Change{Name: name, Line: f.first.Line("joints", j.ID.Text), Was: j.Recorded.Text, Is: chosen.Text}
	if line := f.first.Line(path...); line > 0 {
		change.Line = line
	}
	if err := f.Put(path, chosen.Text); err != nil {
		e.refuse(name, err)
		return
	}
	f.changes = append(f.changes, change)
}

// String is a change as one line: "press_force.force: 4.31 kN ± 1 % -> 4.42 kN ± 1 %".
func (c Change) String() string {
	switch {
	case c.Was == "":
		return fmt.Sprintf("%s: recorded as %s", c.Name, c.Is)
	case c.Was == c.Is:
		return fmt.Sprintf("%s: %s stays", c.Name, strings.TrimSpace(c.Was))
	}
	return fmt.Sprintf("%s: %s -> %s", c.Name, strings.TrimSpace(c.Was), strings.TrimSpace(c.Is))
}
