package bill

import (
	"sort"

	"plansheaf/design/joint"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
	"plansheaf/design/standards"
)

// A Tool is one tool that the work calls for, and where.
type Tool struct {
	Kind  string // "hex key", "spanner", "drill", "tap", "saw", or as a step names it
	Size  string // empty where the kind says it all
	Own   *plan.Tool
	Steps []StepRef    // steps that use it
	Parts []*plan.Part // parts that it makes
}

// A StepRef is one step of one assembly.
type StepRef struct {
	Assembly *plan.Assembly
	Step     *plan.Step
}

// Tools lists what the joints, holes, cuts and steps of a case call for, by kind,
// then as the work meets them.
func Tools(r *reckon.Reckoning) []Tool {
	k := &kit{at: map[string]int{}}
	for _, p := range r.Plan.Parts {
		if r.Tally().Parts[p.ID.Text] > 0 {
			k.makes(r, p)
		}
	}
	for _, a := range r.Plan.Assemblies {
		if r.Tally().Assembled[a.ID.Text] == 0 {
			continue
		}
		for _, s := range a.Steps {
			if s.Only.Fits(r.Case.Options) {
				k.step(r, a, s)
			}
		}
	}
	sort.SliceStable(k.tools, func(i, j int) bool { return order[k.tools[i].Kind] < order[k.tools[j].Kind] })
	return k.tools
}

// order is how the kinds stand in the list; others come last.
var order = map[string]int{"saw": -5, "drill": -4, "tap": -3, "hex key": -2, "spanner": -1}

type kit struct {
	tools []Tool
	at    map[string]int
}

func (k *kit) tool(kind, size string) *Tool {
	i, known := k.at[kind+"|"+size]
	if !known {
		i = len(k.tools)
		k.at[kind+"|"+size] = i
		k.tools = append(k.tools, Tool{Kind: kind, Size: size})
	}
	return &k.tools[i]
}

func (t *Tool) part(p *plan.Part) {
	if n := len(t.Parts); n == 0 || t.Parts[n-1] != p {
		t.Parts = append(t.Parts, p)
	}
}

func (t *Tool) step(a *plan.Assembly, s *plan.Step) {
	if n := len(t.Steps); n == 0 || t.Steps[n-1].Step != s {
		t.Steps = append(t.Steps, StepRef{a, s})
	}
}

// makes adds what a part's cuts and holes call for.
func (k *kit) makes(r *reckon.Reckoning, p *plan.Part) {
	switch p.Made.Text {
	case plan.Cut, plan.Sheet:
		k.tool("saw", "").part(p)
	case plan.Bought, plan.Printed, plan.Consumable, "":
		return
	}
	for _, h := range p.Holes {
		k.hole(r, p, h)
	}
}

func (k *kit) hole(r *reckon.Reckoning, p *plan.Part, h *plan.Hole) {
	drill := func(mm float64) { k.tool("drill", millimetres(mm)).part(p) }
	switch h.Kind.Text {
	case plan.Tap:
		if t, ok := standards.ThreadByName(h.Thread.Text); ok {
			if t.Inch { // by its letter, number or fraction
				k.tool("drill", t.TapDrillText).part(p)
			} else {
				drill(t.TapDrill)
			}
			k.tool("tap", t.Name).part(p)
		}
	case plan.For:
		if mm, ok := r.ClearanceOf(h); ok {
			drill(mm)
		}
	case plan.Bore, plan.Forms:
		if v, ok := r.QuantityIn(h.Diameter, quantity.Length); ok {
			drill(v.SI * 1000)
		}
	}
}

// step adds what a step's joints and own words call for.
func (k *kit) step(r *reckon.Reckoning, a *plan.Assembly, s *plan.Step) {
	for _, list := range [][]plan.Word{s.Fastens, s.Tightens} {
		for _, w := range list {
			j := a.Joint(w.Text)
			if j == nil || !j.Only.Fits(r.Case.Options) {
				continue
			}
			for _, p := range []*reckon.Part{joint.Screw(r, j), joint.NutOf(r, j)} {
				if t, ok := joint.ToolOf(p); ok {
					k.tool(t.Kind, t.Size).step(a, s)
				}
			}
		}
	}
	for _, w := range s.Tools {
		own := r.Plan.Tool(w.Text)
		kind := w.Text
		if own != nil && own.Title.Given() {
			kind = own.Title.Value
		}
		t := k.tool(kind, "")
		t.Own = own
		t.step(a, s)
	}
}
