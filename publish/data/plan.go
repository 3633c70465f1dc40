package data

import (
	"plansheaf/design/bill"
	"plansheaf/design/check"
	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// The types below are the form of the worked-out plan as JSON.

type planFile struct {
	Form     string         `json:"form" about:"name and version of this form"` // name and version of this form
	Title    string         `json:"title" about:"for people"`
	Summary  string         `json:"summary" about:"as the author wrote it, names in braces included"`
	Revision string         `json:"revision" about:"of the plan"`
	Date     string         `json:"date" about:"of the revision, YYYY-MM-DD"`
	License  string         `json:"license" about:"SPDX expression"`
	Authors  []string       `json:"authors" about:"as the plan names them"`
	Currency string         `json:"currency" about:"of all prices, ISO 4217"`
	Choices  []choiceFile   `json:"choices" about:"what the builder decides"`
	Cases    []caseFile     `json:"cases" about:"the plan worked out for every combination of options, its own first"`
	Hazards  []hazardFile   `json:"hazards" about:"every hazard of the register"`
	Tally    finding.Counts `json:"findings" about:"how many findings of each severity stand"`
	choicesFile
}

type choiceFile struct {
	ID      string            `json:"id" about:"name in the plan"`
	Title   string            `json:"title" about:"for people"`
	Options map[string]string `json:"options" about:"option by option"`
	Default string            `json:"default" about:"the option of the plan itself"`
}

type caseFile struct {
	Options      map[string]string `json:"options" about:"option by option"`
	MassKg       float64           `json:"mass_kg" about:"kilograms"`
	Cost         float64           `json:"cost" about:"of all orders, in the currency; without what unpriced names"`
	CostBound    float64           `json:"cost_bound" about:"no purchases that the plan knows cost less"`
	Unpriced     []string          `json:"unpriced,omitempty" about:"what is bought without a price"`
	Unweighed    []string          `json:"unweighed,omitempty" about:"parts of unknown mass"`
	WorkMinutes  float64           `json:"work_minutes" about:"of all steps"`
	Values       []valueFile       `json:"values" about:"the named values of the plan"`
	Parts        []partFile        `json:"parts" about:"each part that the machine takes"`
	Instances    []instanceFile    `json:"instances" about:"each use of a part or an assembly, where it stands with the motions at rest"`
	Poses        []poseFile        `json:"poses" about:"what stands elsewhere with one motion at an end of its range"`
	Belts        []beltFile        `json:"belts" about:"each belt, laid around its pulleys"`
	Strands      []strandFile      `json:"strands" about:"each cable, hose and wire"`
	Telescopes   []telescopeFile   `json:"telescopes" about:"each part stretched between two places"`
	Clearances   []clearanceFile   `json:"clearances" about:"where there is least room on the way of each motion"`
	Joints       []jointFile       `json:"joints" about:"each joint of each assembly that the machine holds"`
	Steps        []stepFile        `json:"steps" about:"the steps of these options"`
	Tools        []toolFile        `json:"tools" about:"what the holes, cuts, joints and steps call for"`
	Purchases    []purchaseFile    `json:"purchases" about:"what to buy"`
	Orders       []orderFile       `json:"orders" about:"what each supplier gets"`
	CutPlans     []cutFile         `json:"cut_plans" about:"how stock is cut"`
	Calculations []calcFile        `json:"calculations" about:"what each calculation finds"`
	rollupFile
}

type valueFile struct {
	Name string  `json:"name" about:"in the plan"`
	SI   float64 `json:"si" about:"nominal value in the base units of the SI"`
	Text string  `json:"text" about:"as printed"`
	Low  float64 `json:"low" about:"lowest value, as si"`
	High float64 `json:"high" about:"highest value, as si"`
}

type partFile struct {
	ID       string      `json:"id" about:"name in the plan"`
	Title    string      `json:"title" about:"for people"`
	Made     string      `json:"made,omitempty" about:"how it comes to be"`
	Standard string      `json:"standard,omitempty" about:"designation"`
	Stock    string      `json:"stock,omitempty" about:"what it is cut from"`
	Material string      `json:"material,omitempty" about:"name in the tables"`
	Count    int         `json:"count" about:"in the whole machine"`
	MassKg   *float64    `json:"mass_kg,omitempty" about:"kilograms"`
	SizeMM   *[3]float64 `json:"size_mm,omitempty" about:"its box along x, y and z"`
	Volume   *float64    `json:"volume_mm3,omitempty" about:"of its solid"`
}

// An instanceFile stands where AtMM takes the origin of its part's own axes, and
// Axes the directions of x, y and z; both are left out for what has no rigid place.
type instanceFile struct {
	Path     string         `json:"path" about:"names of the uses from the machine down, numbered where repeated"`
	Part     string         `json:"part,omitempty" about:"name of the part"`
	Assembly string         `json:"assembly,omitempty" about:"name of the assembly"`
	AtMM     *[3]float64    `json:"at_mm,omitempty" about:"where the origin of its own axes stands, in the machine's axes; absent where it has no rigid place"`
	Axes     *[3][3]float64 `json:"axes,omitempty" about:"directions of its x, y and z in the machine's axes; absent where it has no rigid place"`
}

// A poseFile is the machine with one motion at an end of its range and the others at
// rest; what is coupled to the motion has moved with it.
type poseFile struct {
	Motion     string          `json:"motion" about:"name of the motion"`
	At         valueFile       `json:"at" about:"where the motion stands"`
	Moved      []instanceFile  `json:"moved" about:"the instances that stand elsewhere than at rest"`
	Telescopes []telescopeFile `json:"telescopes" about:"each part stretched between two places"`
}

type jointFile struct {
	Path   string   `json:"path" about:"names of the uses from the machine down, numbered where repeated"`
	Kind   string   `json:"kind" about:"of joint or hazard"`
	Places int      `json:"places" about:"how often"`
	Takes  []string `json:"takes,omitempty" about:"parts that one place takes, from the head"`
	Torque string   `json:"torque,omitempty" about:"to tighten with"`
	Limit  string   `json:"torque_limited_by,omitempty" about:"what bears least"`
	Clamps string   `json:"clamps,omitempty" about:"the force that the torque gives, from most to least friction"`
	Basis  string   `json:"torque_basis,omitempty" about:"what the torque and the force assume"`

	Stacks  []placeFile `json:"measured,omitempty" about:"each place of a joint with a screw, measured"`
	Lengths []float64   `json:"lengths_mm,omitempty" about:"stocked lengths of the screw that serve at every place, the best first"`
	Fits    []fitFile   `json:"fits,omitempty" about:"each shaft in a hole, equal ones once"`
}

type stepFile struct {
	ID       string   `json:"id" about:"name in the plan"`
	Title    string   `json:"title" about:"for people"`
	Adds     []string `json:"adds,omitempty" about:"uses"`
	Fastens  []string `json:"fastens,omitempty" about:"joints"`
	Loose    []string `json:"loose,omitempty" about:"joints that are started"`
	Tightens []string `json:"tightens,omitempty" about:"joints"`
	Minutes  float64  `json:"minutes,omitempty" about:"of work"`
	cardFile
}

type cutFile struct {
	Stock  string     `json:"stock" about:"what it is cut from"`
	Bars   []barFile  `json:"bars" about:"bars or sheets, each with its pieces; none when bought cut to length"`
	Proven bool       `json:"proven" about:"no plan is cheaper, or takes fewer where bars are spared"`
	Fewest int        `json:"fewest,omitempty" about:"bars or sheets that any plan takes, where they are spared"`
	Bound  float64    `json:"bound,omitempty" about:"what any plan costs at least, where cost is spared"`
	Order  []stopFile `json:"order" about:"the cuts in the order to make them, by settings of the stop; none where a router or laser cuts"`
}

type stopFile struct {
	StopMM float64   `json:"stop_mm" about:"from the blade to the stop"`
	Mitres []float64 `json:"mitres_deg,omitempty" about:"angles of the saw from a square cut for a piece's two ends; absent where both are square"`
	Cuts   []sawFile `json:"cuts" about:"what is cut before the stop is moved"`
}

type sawFile struct {
	Number  int          `json:"number,omitempty" about:"the cut's number in the picture; absent for bars"`
	Bar     int          `json:"bar" about:"the first bar or sheet that is cut so, counted from 1"`
	Alike   int          `json:"alike" about:"how many from it on are cut so"`
	Each    int          `json:"each" about:"how often on each of them"`
	From    string       `json:"from,omitempty" about:"the part of a sheet that is cut; absent for a whole sheet or bar"`
	Along   string       `json:"along" about:"along which side the stop measures: x or y"`
	Off     *outcomeFile `json:"off" about:"what falls off, between stop and blade"`
	Remains *outcomeFile `json:"remains,omitempty" about:"what remains, where it was the last cut of what is cut"`
}

type outcomeFile struct {
	Part     string  `json:"part,omitempty" about:"name of the finished part"`
	Panel    string  `json:"panel,omitempty" about:"name of the part of a sheet that is cut on; without either it is left over"`
	LengthMM float64 `json:"length_mm" about:"along x"`
	WidthMM  float64 `json:"width_mm,omitempty" about:"along y; absent for bars"`
}

type leftFile struct {
	XMM      float64 `json:"x_mm" about:"from the end or the left edge"`
	YMM      float64 `json:"y_mm" about:"from the lower edge"`
	LengthMM float64 `json:"length_mm" about:"along x"`
	WidthMM  float64 `json:"width_mm,omitempty" about:"along y; absent for bars"`
}

type barFile struct {
	LengthMM float64    `json:"length_mm" about:"of the bar or sheet, along x"`
	WidthMM  float64    `json:"width_mm,omitempty" about:"of a sheet, along y"`
	OnHand   bool       `json:"on_hand" about:"an offcut, not to be bought"`
	Cuts     []cutPiece `json:"cuts" about:"pieces, from one end"`
	Rests    []leftFile `json:"rests" about:"what is left over; of a sheet cut by a router or laser the largest rectangle"`
}

type cutPiece struct {
	Part     string  `json:"part" about:"name of the part"`
	XMM      float64 `json:"x_mm" about:"from the end or the left edge"`
	YMM      float64 `json:"y_mm" about:"from the lower edge"`
	LengthMM float64 `json:"length_mm" about:"along x"`
	WidthMM  float64 `json:"width_mm,omitempty" about:"along y; absent for bars"`
	Turned   bool    `json:"turned,omitempty" about:"lies turned by a quarter turn"`
	// Slant is absent where both ends are square.
	Slant []float64 `json:"slant_mm,omitempty" about:"of a mitred piece: how far its left and its right end lie farther along at the bar's upper side than at its lower"`
}

type hazardFile struct {
	ID    string   `json:"id" about:"name in the plan"`
	Kind  string   `json:"kind" about:"of joint or hazard"`
	Harm  string   `json:"harm" about:"what can happen"`
	Where []string `json:"where" about:"parts, assemblies and steps"`
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
	out.choicesFile = choicesOf(w)
	for _, s := range w.Combinations() {
		out.Cases = append(out.Cases, caseOf(p, s))
	}
	return indented(out)
}

func caseOf(p *plan.Plan, s *check.Situation) caseFile {
	system := check.System(p)
	c := caseFile{
		Options: s.Case.Options, MassKg: s.Bill.Mass, Cost: s.Bill.Cost.Amount(), CostBound: s.Bill.CostBound.Amount(), Unpriced: s.Bill.Unpriced,
		Unweighed: s.Bill.Unweighed, WorkMinutes: s.Bill.WorkMinute,
		Values: []valueFile{}, Parts: []partFile{}, Instances: []instanceFile{}, Joints: []jointFile{},
		Purchases: []purchaseFile{}, Orders: []orderFile{}, CutPlans: []cutFile{}, Calculations: []calcFile{},
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
		c.Instances = append(c.Instances, instanceOf(s.Layout, in))
	}
	c.Poses = posesOf(s, system)
	c.Clearances = clearancesOf(s, system)
	c.Belts, c.Strands, c.Telescopes = beltsOf(s), strandsOf(s), telescopesOf(s.Layout)
	for _, held := range s.Reckoning.Tally().Joints {
		c.Joints = append(c.Joints, jointOf(s, held, system))
	}
	c.Steps = stepsOf(p, s)
	c.rollupFile = rollupOf(s)
	c.Tools = toolsOf(s)
	for _, b := range s.Bill.Purchases {
		c.Purchases = append(c.Purchases, purchaseOf(b))
	}
	for _, o := range s.Bill.Orders {
		c.Orders = append(c.Orders, orderOf(o))
	}
	for i := range s.Bill.Cuts {
		c.CutPlans = append(c.CutPlans, cutsOf(&s.Bill.Cuts[i]))
	}
	for _, report := range s.Calcs {
		c.Calculations = append(c.Calculations, calcOf(s, report, system))
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
				cardFile: cardOf(s, a, st, check.System(p)),
				ID:       a.ID.Text + "." + st.ID.Text, Title: st.Title.Value,
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
