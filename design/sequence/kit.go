package sequence

import (
	"slices"
	"sort"

	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/standards"
)

// A Tool is one tool that the work calls for, and where.
type Tool struct {
	Kind   string // "hex key", "spanner", "socket", "drill", "tap", "saw", or as a step names it
	Size   string // empty where the kind says it all
	Own    *plan.Tool
	Steps  []Step       // steps that use it, each once
	Parts  []*plan.Part // parts that it makes
	Joints []JointUse   // joints that it turns or holds
}

// A JointUse is a joint that a tool turns or holds in a step, at so many places.
type JointUse struct {
	Step   Step
	Owner  *plan.Assembly
	Joint  *plan.Joint
	Places int
	Holds  bool // it holds the nut
}

// Turns is at how many places a tool turns or holds something.
func (t *Tool) Turns() int {
	n := 0
	for _, u := range t.Joints {
		n += u.Places
	}
	return n
}

// Once reports whether a tool is needed for one thing alone: one part, one joint, or one
// step that names it.
func (t *Tool) Once() bool {
	joints := map[*plan.Joint]bool{}
	for _, u := range t.Joints {
		joints[u.Joint] = true
	}
	if len(joints) == 0 {
		return len(t.Parts)+len(t.Steps) == 1
	}
	return len(t.Parts)+len(joints) == 1
}

// Two reports whether the work calls for two of a tool at once: one turns what the other
// holds.
func (t *Tool) Two() bool {
	type work struct {
		step  *plan.Step
		joint *plan.Joint
	}
	turned := map[work]bool{}
	for _, u := range t.Joints {
		if !u.Holds {
			turned[work{u.Step.Step, u.Joint}] = true
		}
	}
	return slices.ContainsFunc(t.Joints, func(u JointUse) bool { return u.Holds && turned[work{u.Step.Step, u.Joint}] })
}

// Tools lists what the holes, cuts, joints and steps of the case call for, by kind,
// then as the work meets them.
func (rec *Record) Tools() []Tool {
	k := &kit{rec: rec, at: map[Wrench]int{}}
	for _, p := range rec.r.Plan.Parts {
		if rec.r.Tally().Parts[p.ID.Text] > 0 {
			k.makes(p)
		}
	}
	for i := range rec.Graph.Steps {
		k.step(i)
	}
	sort.SliceStable(k.tools, func(i, j int) bool { return toolOrder[k.tools[i].Kind] < toolOrder[k.tools[j].Kind] })
	return k.tools
}

// toolOrder is how the kinds stand in the list; others come last.
var toolOrder = map[string]int{"saw": -9, "drill": -8, "tap": -7, "hex key": -6, "hex driver": -5, "hex bit": -4, "spanner": -3, "socket": -2,
	"screwdriver": -1, "bit": -1, "rivet pliers": -1, "retaining ring pliers": -1, "pin punch": -1}

type kit struct {
	rec   *Record
	tools []Tool
	at    map[Wrench]int
}

func (k *kit) tool(w Wrench) *Tool {
	i, known := k.at[w]
	if !known {
		i = len(k.tools)
		k.at[w] = i
		k.tools = append(k.tools, Tool{Kind: w.Kind, Size: w.Size, Own: k.owned(w)})
	}
	return &k.tools[i]
}

// owned is the plan's own tool that spares a builder to get one, nil for none.
func (k *kit) owned(w Wrench) *plan.Tool {
	for _, t := range k.rec.r.Plan.Tools {
		if t.Spares(w.Kind, w.Size) {
			return t
		}
	}
	return nil
}

func (t *Tool) part(p *plan.Part) {
	if n := len(t.Parts); n == 0 || t.Parts[n-1] != p {
		t.Parts = append(t.Parts, p)
	}
}

func (t *Tool) step(s Step) {
	if n := len(t.Steps); n == 0 || t.Steps[n-1] != s {
		t.Steps = append(t.Steps, s)
	}
}

// makes adds what a part's cuts and holes call for.
func (k *kit) makes(p *plan.Part) {
	switch p.Made.Text {
	case plan.Cut, plan.Sheet:
		k.tool(Wrench{Kind: "saw"}).part(p)
	case plan.Bought, plan.Printed, plan.Consumable, "":
		return
	}
	for _, h := range p.Holes {
		k.hole(p, h)
	}
}

func (k *kit) hole(p *plan.Part, h *plan.Hole) {
	drill := func(size string) { k.tool(Wrench{"drill", size}).part(p) }
	mm := func(v float64) string { return quantity.Text(quantity.MM(v), quantity.Metric) }
	switch h.Kind.Text {
	case plan.Tap:
		if t, ok := standards.ThreadByName(h.Thread.Text); ok {
			if t.Inch { // by its letter, number or fraction
				drill(t.TapDrillText)
			} else {
				drill(mm(t.TapDrill))
			}
			k.tool(Wrench{"tap", t.Name}).part(p)
		}
	case plan.For:
		if v, ok := k.rec.r.ClearanceOf(h); ok {
			drill(mm(v))
		}
	case plan.Bore, plan.Forms:
		if v, ok := k.rec.r.QuantityIn(h.Diameter, quantity.Length); ok {
			drill(mm(v.SI * 1000))
		}
	}
}

// step adds what a step's joints and own words call for.
func (k *kit) step(step int) {
	ref := k.rec.Graph.Steps[step]
	for n, list := range [][]plan.Word{ref.Step.Fastens, ref.Step.Tightens} {
		for _, w := range list {
			work, ok := k.rec.handled(step, w, n == 0)
			if !ok {
				continue
			}
			for hold, tools := range [][]Wrench{work.Tools, work.Holds} {
				for _, wrench := range tools {
					t := k.tool(wrench)
					t.step(ref)
					t.Joints = append(t.Joints, JointUse{ref, work.Owner, work.Joint, work.Places, hold == 1})
				}
			}
		}
	}
	for _, w := range ref.Step.Tools {
		own := k.rec.r.Plan.Tool(w.Text)
		kind := w.Text
		if own != nil && own.Title.Given() {
			kind = own.Title.Value
		}
		t := k.tool(Wrench{Kind: kind})
		t.Own = own
		t.step(ref)
	}
}
