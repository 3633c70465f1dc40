package data

import (
	"plansheaf/design/bill"
	"plansheaf/design/calc"
	"plansheaf/design/check"
	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
)

// The types below are the form of the worked-out plan as JSON.

type planFile struct {
	Form     string         `json:"form"` // name and version of this form
	Title    string         `json:"title"`
	Summary  string         `json:"summary"`
	Revision string         `json:"revision"`
	Date     string         `json:"date"`
	License  string         `json:"license"`
	Authors  []string       `json:"authors"`
	Currency string         `json:"currency"`
	Choices  []choiceFile   `json:"choices"`
	Cases    []caseFile     `json:"cases"`
	Hazards  []hazardFile   `json:"hazards"`
	Tally    finding.Counts `json:"findings"`
}

type choiceFile struct {
	ID      string            `json:"id"`
	Title   string            `json:"title"`
	Options map[string]string `json:"options"`
	Default string            `json:"default"`
}

type caseFile struct {
	Options      map[string]string `json:"options"`
	MassKg       float64           `json:"mass_kg"`
	Cost         float64           `json:"cost"`
	Unpriced     []string          `json:"unpriced,omitempty"`
	Unweighed    []string          `json:"unweighed,omitempty"`
	WorkMinutes  float64           `json:"work_minutes"`
	Values       []valueFile       `json:"values"`
	Parts        []partFile        `json:"parts"`
	Instances    []instanceFile    `json:"instances"`
	Belts        []beltFile        `json:"belts"`
	Strands      []strandFile      `json:"strands"`
	Telescopes   []telescopeFile   `json:"telescopes"`
	Joints       []jointFile       `json:"joints"`
	Steps        []stepFile        `json:"steps"`
	Purchases    []purchaseFile    `json:"purchases"`
	CutPlans     []cutFile         `json:"cut_plans"`
	Calculations []calcFile        `json:"calculations"`
}

type valueFile struct {
	Name string  `json:"name"`
	SI   float64 `json:"si"`
	Text string  `json:"text"`
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

type partFile struct {
	ID       string      `json:"id"`
	Title    string      `json:"title"`
	Made     string      `json:"made,omitempty"`
	Standard string      `json:"standard,omitempty"`
	Stock    string      `json:"stock,omitempty"`
	Material string      `json:"material,omitempty"`
	Count    int         `json:"count"`
	MassKg   *float64    `json:"mass_kg,omitempty"`
	SizeMM   *[3]float64 `json:"size_mm,omitempty"`
	Volume   *float64    `json:"volume_mm3,omitempty"`
}

// An instanceFile stands where AtMM takes the origin of its part's own axes, and
// Axes the directions of x, y and z; both are left out for what has no rigid place.
type instanceFile struct {
	Path     string         `json:"path"`
	Part     string         `json:"part,omitempty"`
	Assembly string         `json:"assembly,omitempty"`
	AtMM     *[3]float64    `json:"at_mm,omitempty"`
	Axes     *[3][3]float64 `json:"axes,omitempty"`
}

type jointFile struct {
	Path   string   `json:"path"`
	Kind   string   `json:"kind"`
	Places int      `json:"places"`
	Takes  []string `json:"takes,omitempty"`
	Torque string   `json:"torque,omitempty"`
	Limit  string   `json:"torque_limited_by,omitempty"`
}

type stepFile struct {
	ID       string   `json:"id"`
	Title    string   `json:"title"`
	Adds     []string `json:"adds,omitempty"`
	Fastens  []string `json:"fastens,omitempty"`
	Loose    []string `json:"loose,omitempty"`
	Tightens []string `json:"tightens,omitempty"`
	Minutes  float64  `json:"minutes,omitempty"`
}

type purchaseFile struct {
	ID       string  `json:"id"`
	Supplier string  `json:"supplier,omitempty"`
	Need     int     `json:"need"`
	Spare    int     `json:"spare"`
	Pack     int     `json:"pack"`
	Packs    int     `json:"packs"`
	Left     int     `json:"left"`
	Size     string  `json:"size,omitempty"`
	Price    float64 `json:"price"`
	Priced   bool    `json:"priced"`
}

type cutFile struct {
	Stock  string    `json:"stock"`
	Bars   []barFile `json:"bars"`
	AtBest int       `json:"at_least"`
}

type barFile struct {
	Cuts []cutPiece `json:"cuts"`
}

type cutPiece struct {
	Part     string  `json:"part"`
	XMM      float64 `json:"x_mm"`
	YMM      float64 `json:"y_mm"`
	LengthMM float64 `json:"length_mm"`
	WidthMM  float64 `json:"width_mm,omitempty"`
}

type calcFile struct {
	ID       string        `json:"id"`
	Results  []valueFile   `json:"results"`
	Requires []requireFile `json:"requires"`
}

type requireFile struct {
	That  string `json:"that"`
	Known bool   `json:"known"` // false: it could not be worked out
	Holds bool   `json:"holds"`
}

type hazardFile struct {
	ID    string   `json:"id"`
	Kind  string   `json:"kind"`
	Harm  string   `json:"harm"`
	Where []string `json:"where"`
}

// PlanJSON writes everything that was worked out, for every combination of
// choices.
func PlanJSON(w *check.Work, found []finding.Finding) ([]byte, error) {
	p := w.Plan
	out := planFile{
		Form: "plansheaf plan 1", Title: p.Title.Value, Summary: p.Summary.Value, Revision: p.Revision.Text, Date: p.Date.Text,
		License: p.License.Text, Currency: p.Currency.Text, Tally: finding.Count(found), Authors: []string{}, Choices: []choiceFile{}, Hazards: []hazardFile{},
	}
	for _, a := range p.Authors {
		out.Authors = append(out.Authors, a.Value)
	}
	for _, c := range p.Choices {
		one := choiceFile{ID: c.ID.Text, Title: c.Title.Value, Default: c.Default.Text, Options: map[string]string{}}
		for _, o := range c.Options {
			one.Options[o.ID.Text] = o.Title.Value
		}
		out.Choices = append(out.Choices, one)
	}
	for _, h := range p.Hazards {
		one := hazardFile{ID: h.ID.Text, Kind: h.Kind.Text, Harm: h.Harm.Value, Where: texts(h.Where)}
		out.Hazards = append(out.Hazards, one)
	}
	for _, s := range w.Combinations() {
		out.Cases = append(out.Cases, caseOf(p, s))
	}
	return indented(out)
}

func caseOf(p *plan.Plan, s *check.Situation) caseFile {
	system := check.System(p)
	c := caseFile{
		Options: s.Case.Options, MassKg: s.Bill.Mass, Cost: s.Bill.Cost.Amount(), Unpriced: s.Bill.Unpriced,
		Unweighed: s.Bill.Unweighed, WorkMinutes: s.Bill.WorkMinute,
		Values: []valueFile{}, Parts: []partFile{}, Instances: []instanceFile{}, Joints: []jointFile{},
		Purchases: []purchaseFile{}, CutPlans: []cutFile{}, Calculations: []calcFile{},
	}
	for _, v := range p.Values {
		if value, ok := s.Reckoning.Quantity(v.Is); ok {
			c.Values = append(c.Values, valueOf(v.ID.Text, value, system))
		}
	}
	for _, line := range s.Bill.Lines {
		c.Parts = append(c.Parts, partOf(line))
	}
	for _, in := range s.Reckoning.Tally().Instances {
		one := instanceFile{Path: in.Path}
		if in.Part != nil {
			one.Part = in.Part.ID.Text
		} else {
			one.Assembly = in.Assembly.ID.Text
		}
		if p, ok := s.Layout.Placement(in); ok {
			one.AtMM = &[3]float64{p.Move.X, p.Move.Y, p.Move.Z}
			one.Axes = &[3][3]float64{}
			for i, axis := range p.Turn {
				one.Axes[i] = [3]float64{axis.X, axis.Y, axis.Z}
			}
		}
		c.Instances = append(c.Instances, one)
	}
	c.Belts, c.Strands, c.Telescopes = beltsOf(s), strandsOf(s), telescopesOf(s)
	for _, held := range s.Reckoning.Tally().Joints {
		c.Joints = append(c.Joints, jointOf(s, held, system))
	}
	c.Steps = stepsOf(p, s)
	for _, b := range s.Bill.Purchases {
		c.Purchases = append(c.Purchases, purchaseOf(b))
	}
	for i := range s.Bill.Cuts {
		c.CutPlans = append(c.CutPlans, cutsOf(&s.Bill.Cuts[i]))
	}
	for _, report := range s.Calcs {
		c.Calculations = append(c.Calculations, calcOf(report, system))
	}
	return c
}

func valueOf(name string, v quantity.Value, system quantity.System) valueFile {
	return valueFile{Name: name, SI: v.SI, Low: v.Low(), High: v.High(), Text: quantity.Text(v, system)}
}

func partOf(line bill.Line) partFile {
	p := line.Part
	out := partFile{
		ID: p.Part.ID.Text, Title: bill.Title(p), Made: p.Part.Made.Text, Standard: p.Part.Standard.Text,
		Stock: p.Part.Stock.Text, Material: p.Material.ID, Count: line.Count,
	}
	if p.Weighed {
		mass := p.Mass
		out.MassKg = &mass
	}
	if p.Solid != nil {
		size := p.Solid.Box().Max.Sub(p.Solid.Box().Min)
		volume := p.Measures.Volume
		out.SizeMM, out.Volume = &[3]float64{size.X, size.Y, size.Z}, &volume
	}
	return out
}

func jointOf(s *check.Situation, held reckon.Held, system quantity.System) jointFile {
	path := held.Joint.ID.Text
	if held.In.Path != "" {
		path = held.In.Path + "." + path
	}
	out := jointFile{Path: path, Kind: held.Joint.Kind.Text, Places: held.Places, Takes: s.Reckoning.JointParts(held.Joint)}
	if t := joint.Tighten(s.Reckoning, held.Assembly, held.Joint); t.Hand {
		out.Torque = "hand tight"
	} else if t.Known {
		out.Torque, out.Limit = quantity.Text(t.Torque, system), t.Limit
	}
	return out
}

func purchaseOf(b bill.Purchase) purchaseFile {
	out := purchaseFile{
		ID: b.ID, Need: b.Need, Spare: b.Spare, Pack: b.Pack, Packs: b.Packs, Left: b.Left, Size: b.Size,
		Price: b.Price.Amount(), Priced: b.Priced,
	}
	if b.Supplier != nil {
		out.Supplier = b.Supplier.ID.Text
	}
	return out
}

// texts are the words' texts, an empty list for none.
func texts(words []plan.Word) []string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = w.Text
	}
	return out
}

// stepsOf are the steps of the assemblies that a situation's machine holds.
func stepsOf(p *plan.Plan, s *check.Situation) []stepFile {
	steps := []stepFile{}
	for _, a := range p.Assemblies {
		if s.Reckoning.Tally().Assembled[a.ID.Text] == 0 {
			continue
		}
		for _, st := range a.Steps {
			if !st.Only.Fits(s.Case.Options) {
				continue
			}
			one := stepFile{
				ID: a.ID.Text + "." + st.ID.Text, Title: st.Title.Value,
				Adds: texts(st.Adds), Fastens: texts(st.Fastens), Loose: texts(st.Loose), Tightens: texts(st.Tightens),
			}
			if v, ok := s.Reckoning.Quantity(st.Time); ok {
				one.Minutes = v.SI / 60
			}
			steps = append(steps, one)
		}
	}
	return steps
}

func cutsOf(c *bill.CutPlan) cutFile {
	out := cutFile{Stock: c.Stock.ID.Text, AtBest: c.Bound, Bars: []barFile{}}
	for _, stick := range c.Pieced {
		bar := barFile{Cuts: []cutPiece{}}
		for _, cut := range stick.Cuts {
			bar.Cuts = append(bar.Cuts, cutPiece{Part: cut.Part.Part.ID.Text, XMM: cut.X, YMM: cut.Y, LengthMM: cut.Length, WidthMM: cut.Width})
		}
		out.Bars = append(out.Bars, bar)
	}
	return out
}

func calcOf(report *calc.Report, system quantity.System) calcFile {
	out := calcFile{ID: report.Calc.ID.Text, Results: []valueFile{}, Requires: []requireFile{}}
	for _, f := range report.Finds {
		if f.Known {
			out.Results = append(out.Results, valueOf(f.Name, f.Value, system))
		}
	}
	for _, q := range report.Requires {
		out.Requires = append(out.Requires, requireFile{That: q.Source, Known: q.Known, Holds: q.Holds})
	}
	return out
}
