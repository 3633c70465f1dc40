package data

import (
	"plansheaf/design/check"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/sequence"
)

// A cardFile is what a step takes and asks for.
type cardFile struct {
	People   int           `json:"people" about:"how many the step takes"`
	Bag      []itemFile    `json:"bag" about:"what is laid out: what the step adds, then what its joints take"`
	Uses     []useFile     `json:"uses,omitempty" about:"consumables that the step uses up"`
	Joints   []workFile    `json:"joints" about:"what is done with each joint"`
	Lift     *liftFile     `json:"lift,omitempty" about:"the heaviest thing that is added"`
	Rest     restFile      `json:"rest" about:"how the work lies"`
	Measures []measureFile `json:"measures,omitempty" about:"what is measured"`
}

type itemFile struct {
	Part     string `json:"part,omitempty" about:"name of the part"`
	Assembly string `json:"assembly,omitempty" about:"name of the assembly"`
	Count    int    `json:"count" about:"how many"`
}

type workFile struct {
	Joint   string       `json:"joint" about:"assembly and name of the joint"`
	Places  int          `json:"places" about:"how often"`
	Screw   string       `json:"screw,omitempty" about:"name of the part"`
	Length  string       `json:"length,omitempty" about:"of the screw, as its standard writes it"`
	Started bool         `json:"started" about:"only started: a later step makes it tight"`
	Torque  string       `json:"torque,omitempty" about:"to tighten with"`
	Tools   []wrenchFile `json:"tools" about:"that turn the screws"`
	Holds   []wrenchFile `json:"holds" about:"that keep the nuts from turning"`
}

type wrenchFile struct {
	Kind string `json:"kind" about:"of tool"`
	Size string `json:"size,omitempty" about:"of tool"`
}

type liftFile struct {
	Path  string  `json:"path" about:"use in the assembly"`
	Mass  float64 `json:"mass_kg" about:"kilograms"`
	Known bool    `json:"known" about:"whether all of it is weighed"`
	Limit float64 `json:"limit_kg" about:"that the step's people may lift together by hand"`
	Hoist bool    `json:"hoist" about:"whether the step names a hoist that lifts it"`
}

type restFile struct {
	On     string   `json:"on" about:"face of the assembly that the work rests on, or hand"`
	Turned bool     `json:"turned" about:"whether it lay otherwise in the step before"`
	Mass   float64  `json:"mass_kg,omitempty" about:"kilograms that are turned over"`
	Falls  []string `json:"falls,omitempty" about:"uses that would fall out: no joint holds them yet"`
}

type measureFile struct {
	Say    string `json:"say" about:"what to measure"`
	Is     string `json:"is,omitempty" about:"what it comes to"`
	Within string `json:"within,omitempty" about:"how far it may lie off"`
}

// A toolFile is a tool that the work calls for.
type toolFile struct {
	wrenchFile
	Owned  bool     `json:"owned" about:"whether the plan takes it that a builder owns it"`
	Turns  int      `json:"turns" about:"at how many places it turns or holds something"`
	Two    bool     `json:"two_at_once" about:"whether one turns what another holds"`
	Once   bool     `json:"once" about:"whether it is needed for one thing alone"`
	Parts  []string `json:"parts" about:"parts that it makes"`
	Joints []string `json:"joints" about:"joints that it turns or holds"`
	Steps  []string `json:"steps" about:"steps that use it"`
}

// cardOf is what a step of an assembly takes under a situation.
func cardOf(s *check.Situation, a *plan.Assembly, st *plan.Step, system quantity.System) cardFile {
	out := cardFile{People: 1, Bag: []itemFile{}, Joints: []workFile{}, Rest: restFile{On: plan.Bottom}}
	rec := s.Sequence()
	step, ok := rec.Graph.Index(st)
	if !ok {
		return out
	}
	card := rec.Card(step)
	out.People = card.People
	out.Uses = usesOf(s, st, system)
	for _, item := range card.Bag {
		one := itemFile{Count: item.Count}
		if item.Part != nil {
			one.Part = item.Part.Part.ID.Text
		} else {
			one.Assembly = item.Assembly.ID.Text
		}
		out.Bag = append(out.Bag, one)
	}
	for _, w := range card.Joints {
		out.Joints = append(out.Joints, workOf(w, system))
	}
	if l := card.Lift; l.Name != "" {
		out.Lift = &liftFile{l.Name, l.Mass, l.Known, l.Limit, l.Hoist}
	}
	out.Rest = restFile{card.Rest.On, card.Rest.Turned(), card.Rest.Mass, card.Rest.Falls}
	for _, m := range st.Measures {
		if !m.Only.Fits(s.Case.Options) {
			continue
		}
		one := measureFile{Say: m.Say.Value}
		if v, ok := s.Measured(a, m); ok {
			one.Is = quantity.Text(v.Nominal(), system)
		}
		if v, ok := s.Reckoning.Quantity(m.Within); ok {
			one.Within = quantity.Text(v, system)
		}
		out.Measures = append(out.Measures, one)
	}
	return out
}

func workOf(w sequence.Work, system quantity.System) workFile {
	out := workFile{
		Joint: w.Owner.ID.Text + "." + w.Joint.ID.Text, Places: w.Places, Length: w.Length, Started: w.Started,
		Tools: wrenchesOf(w.Tools), Holds: wrenchesOf(w.Holds),
	}
	if w.Screw != nil {
		out.Screw = w.Screw.Part.ID.Text
	}
	if w.Tight.Hand {
		out.Torque = "hand tight"
	} else if w.Tight.Known {
		out.Torque = quantity.Text(w.Tight.Torque, system)
	}
	return out
}

func wrenchesOf(list []sequence.Wrench) []wrenchFile {
	out := []wrenchFile{}
	for _, w := range list {
		out = append(out, wrenchFile{w.Kind, w.Size})
	}
	return out
}

func toolsOf(s *check.Situation) []toolFile {
	out := []toolFile{}
	for _, t := range s.Sequence().Tools() {
		one := toolFile{
			wrenchFile: wrenchFile{t.Kind, t.Size}, Owned: t.Own != nil && t.Own.Owned, Turns: t.Turns(), Two: t.Two(), Once: t.Once(),
			Parts: []string{}, Joints: []string{}, Steps: []string{},
		}
		for _, p := range t.Parts {
			one.Parts = append(one.Parts, p.ID.Text)
		}
		seen := map[string]bool{}
		for _, u := range t.Joints {
			if id := u.Owner.ID.Text + "." + u.Joint.ID.Text; !seen[id] {
				seen[id] = true
				one.Joints = append(one.Joints, id)
			}
		}
		for _, st := range t.Steps {
			one.Steps = append(one.Steps, st.String())
		}
		out = append(out, one)
	}
	return out
}
