package calc

import (
	"math"
	"slices"

	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
)

// A Record is a result against what was recorded of it.
type Record struct {
	Name  string
	Said  plan.Record
	Was   quantity.Value // its spread is the tolerance
	Is    quantity.Value
	Known bool
	Holds bool
	// Inputs are what the result is worked out from now, and Changes how they differ from
	// those that the record was made from; none where the record does not keep them.
	Inputs  []Input
	Changes []Change
}

// An Input is a value that a result is worked out from: by its name in the calculation,
// or dotted.
type Input struct {
	Name  string
	Value quantity.Value
}

// A Change is an input that is not what it was when a record was made.
type Change struct {
	Name      string
	Was, Is   quantity.Value
	New, Gone bool       // New was not among the inputs then, Gone is not now
	Said      plan.Input // where the record keeps it; not given for New
}

// Kept reports whether the record keeps the inputs that it was made from.
func (r Record) Kept() bool { return len(r.Said.MadeFrom) > 0 }

// record compares a result with what was recorded; without a tolerance they must
// agree to one part in a thousand, since a recorded value is rounded.
func record(r *reckon.Reckoning, c *plan.Calc, rec plan.Record) Record {
	out := Record{Name: rec.Name.Text, Said: rec}
	f, ok := rec.Is.Pick(r.Case.Options)
	if !ok || !f.Given() {
		return out
	}
	was, err := r.Evaluate(f, r.CalcScope(c))
	if err != nil {
		return out
	}
	is, err := r.Show(c.ID.Text + "." + rec.Name.Text)
	if err != nil || !is.Is(was.Value.Dim) {
		return out
	}
	out.Was, out.Is, out.Known = was.Value, is, true
	out.Inputs = inputs(r, c, rec.Name.Text)
	out.changed(r, c)
	low, high := was.Value.Low(), was.Value.High()
	if !was.Value.HasSpread() {
		slack := math.Abs(was.Value.SI) * recordedWithin
		low, high = low-slack, high+slack
	}
	out.Holds = is.SI >= low && is.SI <= high
	return out
}

// recordedWithin is the share by which a result may leave a record without a
// tolerance of its own.
const recordedWithin = 1e-3

// inputs are what a result is worked out from, with their values.
func inputs(r *reckon.Reckoning, c *plan.Calc, result string) []Input {
	var list []Input
	for _, name := range r.Inputs(c, result) {
		if v, err := r.Named(r.NameIn(c, name)); err == nil {
			list = append(list, Input{Name: name, Value: v})
		}
	}
	return list
}

// Unrecorded is a result that has no record, as one could be made of it.
func Unrecorded(r *reckon.Reckoning, c *plan.Calc, result string) Record {
	out := Record{Name: result}
	is, err := r.Show(c.ID.Text + "." + result)
	if err != nil {
		return out
	}
	out.Is, out.Was, out.Known, out.Holds = is, is.Nominal(), true, true
	out.Inputs = inputs(r, c, result)
	return out
}

// unchangedWithin is the share by which an input may leave what the record keeps of it:
// records keep six digits, of which the last may be off by half.
const unchangedWithin = 5.1e-6

// changed compares the inputs that a record keeps with those of now.
func (r *Record) changed(k *reckon.Reckoning, c *plan.Calc) {
	if !r.Kept() {
		return
	}
	kept := map[string]bool{}
	for _, in := range r.Said.MadeFrom {
		kept[in.Name.Text] = true
		f, ok := in.Is.Pick(k.Case.Options)
		if !ok || !f.Given() {
			continue
		}
		was, err := k.Evaluate(f, k.CalcScope(c))
		if err != nil {
			continue
		}
		one := Change{Name: in.Name.Text, Was: was.Value, Said: in}
		at := slices.IndexFunc(r.Inputs, func(now Input) bool { return now.Name == in.Name.Text })
		if at < 0 {
			one.Gone = true
			r.Changes = append(r.Changes, one)
			continue
		}
		one.Is = r.Inputs[at].Value
		if !one.Is.Is(one.Was.Dim) || math.Abs(one.Is.SI-one.Was.SI) > unchangedWithin*math.Abs(one.Was.SI) {
			r.Changes = append(r.Changes, one)
		}
	}
	for _, now := range r.Inputs {
		if !kept[now.Name] {
			r.Changes = append(r.Changes, Change{Name: now.Name, Is: now.Value, New: true})
		}
	}
}
