package joint

import (
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/layout"
	"plansheaf/design/memo"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/standards"
)

// FitNotListed finds joints whose screw is to be chosen from the plan's list, when the
// list holds none of its kind.
var FitNotListed = finding.Rule{
	Name: "fit-not-listed", Severity: finding.Error,
	Reason: "A screw is chosen among those that the plan lists, with supplier and price; there is none to choose.",
	Remedy: "list the screw in a file of parts: cap_m8x25: {standard: ISO 4762 M8x25 - 8.8}",
}

// A wish is one fit of a joint: several where it goes by choice.
type wish struct {
	a      *plan.Assembly
	j      *plan.Joint
	word   plan.Word
	from   []*plan.Part // the plan's screws of that kind, shortest first
	sizes  []standards.Fastener
	places []Stack // over all cases
	plain  int     // how many of places are those of the plan's own case
}

// Settle chooses the screw of each joint of p that asks for a fit, among the screws
// that the plan lists: the shortest that serves at every place in every case; else in
// the plan's own case; else the one that comes nearest, which the rules then find. The
// joints' Fastener is set to it. What cannot be settled is found.
func Settle(p *plan.Plan, cases []reckon.Case, shapes *reckon.Shapes) []finding.Finding {
	var wishes []*wish
	var found []finding.Finding
	for _, a := range p.Assemblies {
		for _, j := range a.Joints {
			if !j.Fit.Given() {
				continue
			}
			j.Fastener = j.Fit
			for _, w := range j.Fit.All() {
				if !strings.HasPrefix(w.Text, plan.FitPrefix) {
					continue
				}
				one, fault := wishFor(p, a, j, w)
				if fault != nil {
					found = append(found, FitNotListed.Stamp(*fault))
					j.Fastener = plan.Reference{}
					break
				}
				wishes = append(wishes, one)
			}
		}
	}
	if len(wishes) == 0 {
		return found
	}
	for _, w := range wishes {
		w.set(w.from[0].ID.Text) // any: only its thread counts for what is measured
	}
	for _, c := range cases {
		measureAll(reckon.New(p, c, shapes), wishes, p, shapes.Kept)
	}
	for _, w := range wishes {
		w.set(w.choose().ID.Text)
	}
	return found
}

// wishFor finds the screws that a fit may choose from.
func wishFor(p *plan.Plan, a *plan.Assembly, j *plan.Joint, w plan.Word) (*wish, *finding.Finding) {
	fault := func(message, remedy string) *finding.Finding {
		return &finding.Finding{At: w.At, Subject: a.ID.Text + "." + j.ID.Text, Message: message, Remedy: remedy}
	}
	family, err := standards.ParseFamily(strings.TrimPrefix(w.Text, plan.FitPrefix))
	if err != nil {
		return nil, fault(err.Error(), "")
	}
	one := &wish{a: a, j: j, word: w}
	for _, part := range p.Parts {
		f, err := standards.Parse(part.Standard.Text)
		if !part.Standard.Given() || err != nil || f.Standard != family.Standard || f.Thread.Name != family.Thread.Name || family.Class != "" && f.Class != family.Class {
			continue
		}
		at := len(one.from)
		for at > 0 && one.sizes[at-1].Length > f.Length {
			at--
		}
		one.from = append(one.from[:at], append([]*plan.Part{part}, one.from[at:]...)...)
		one.sizes = append(one.sizes[:at], append([]standards.Fastener{f}, one.sizes[at:]...)...)
	}
	if len(one.from) == 0 {
		return nil, fault("the plan lists no screw of "+strings.TrimPrefix(w.Text, plan.FitPrefix)+" to choose from", "list one among the parts, say "+family.String())
	}
	return one, nil
}

// set names the screw in the place of the fit.
func (w *wish) set(id string) {
	chosen := plan.Word{Text: id, At: w.word.At}
	if !w.j.Fit.By.Given() {
		w.j.Fastener.Plain = chosen
		return
	}
	options := append([]plan.Alternative[plan.Word](nil), w.j.Fastener.Options...)
	for i, alt := range w.j.Fit.Options {
		if alt.Value == w.word {
			options[i].Value = chosen
		}
	}
	w.j.Fastener.Options = options
}

// measureAll measures the joints that ask for a fit in one case.
func measureAll(r *reckon.Reckoning, wishes []*wish, p *plan.Plan, kept *memo.Store) {
	m := Of(r, layout.Of(r))
	m.Kept = kept
	for _, w := range wishes {
		fit, ok := w.j.Fit.Pick(r.Case.Options)
		if !ok || fit != w.word || !w.j.Only.Fits(r.Case.Options) || r.Tally().Assembled[w.a.ID.Text] == 0 {
			continue
		}
		w.places = append(w.places, m.Stacks(w.a, w.j)...)
		if r.Case.IsDefault(p) {
			w.plain = len(w.places)
		}
	}
}

// choose is the shortest screw of the list that serves.
func (w *wish) choose() *plan.Part {
	for _, places := range [][]Stack{w.places, w.places[:w.plain]} {
		for i, f := range w.sizes {
			serves := len(places) > 0
			for k := range places {
				serves = serves && places[k].Judge(f) == Fits
			}
			if serves {
				return w.from[i]
			}
		}
	}
	for i, f := range w.sizes { // none serves: the shortest that is long enough
		enough := true
		for k := range w.places {
			enough = enough && w.places[k].Judge(f) != Short
		}
		if enough {
			return w.from[i]
		}
	}
	return w.from[len(w.from)-1]
}
