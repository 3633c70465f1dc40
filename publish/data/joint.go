package data

import (
	"math"

	"plansheaf/design/check"
	"plansheaf/design/joint"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
)

// A placeFile is one place of a joint with a screw, in millimetres along the screw.
type placeFile struct {
	Under   string      `json:"under_head" about:"what the head bears on: path in the assembly and feature"`
	Layers  []layerFile `json:"layers" about:"what the screw goes through, from the head on"`
	Gaps    []float64   `json:"gaps_mm" about:"between each layer and the next; negative where they overlap"`
	Clamped float64     `json:"clamped_mm" about:"between the faces of head and nut, or the first turn of the thread"`
	Catch   string      `json:"into" about:"what the screw's thread turns in"`
	Filled  float64     `json:"filled_mm" about:"thread that the screw fills"`
	Needs   float64     `json:"needs_mm" about:"thread that it must fill"`
	Rule    string      `json:"needs_because,omitempty" about:"why so much"`
	Least   float64     `json:"shortest_mm" about:"length of screw that serves"`
	Most    float64     `json:"longest_mm" about:"length of screw that serves"`
}

type layerFile struct {
	Part    string  `json:"part" about:"name of the part"`
	Feature string  `json:"feature" about:"hole, slot or face"`
	Enter   float64 `json:"enter_mm" about:"where its material begins, from what the head bears on"`
	Leave   float64 `json:"leave_mm" about:"where it ends"`
}

// A fitFile is a shaft in a hole.
type fitFile struct {
	Shaft string  `json:"shaft" about:"as the joint names it"`
	Hole  string  `json:"hole" about:"as the joint names it"`
	Is    string  `json:"shaft_diameter" about:"as written"`
	In    string  `json:"hole_diameter" about:"as written"`
	Least float64 `json:"least_play_mm" about:"by how much the hole is wider at least; negative where it is narrower"`
	Most  float64 `json:"most_play_mm" about:"by how much the hole is wider at most"`
}

// microns are millimetres without what rounding of machine numbers leaves.
func microns(mm float64) float64 { return math.Round(mm*1000)/1000 + 0 }

// placesOf measures the places of a joint, with the lengths of screw that serve at all.
func placesOf(s *check.Situation, held reckon.Held) (places []placeFile, lengths []float64) {
	stacks := s.Stacks(held.Assembly, held.Joint)
	for i := range stacks {
		p := &stacks[i]
		first := p.Crossings[0].Spot
		one := placeFile{
			Under: first.Path + "." + first.Feature, Layers: []layerFile{}, Gaps: []float64{}, Clamped: microns(p.Clamped()), Catch: p.Catch.String(),
			Filled: microns(p.Filled()), Needs: microns(p.Needs), Rule: p.Rule, Least: microns(p.Least()), Most: microns(p.Most()),
		}
		for _, c := range p.Crossings {
			one.Layers = append(one.Layers, layerFile{c.Part.Part.ID.Text, c.Spot.Feature, microns(c.Enter), microns(c.Leave)})
		}
		for _, gap := range p.Gaps {
			one.Gaps = append(one.Gaps, microns(gap))
		}
		places = append(places, one)
	}
	for _, f := range joint.Serving(stacks) {
		lengths = append(lengths, microns(f.Length))
	}
	return places, lengths
}

func fitsOf(s *check.Situation, held reckon.Held) (out []fitFile) {
	at, fits := s.Fits(held.Assembly, held.Joint)
	for i, fit := range fits {
		out = append(out, fitFile{at[i].Mine.Word.Text, at[i].Theirs.Word.Text, fit.Shaft.Text, fit.Hole.Text, microns(fit.Least), microns(fit.Most)})
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
		out.Torque, out.Limit, out.Basis = quantity.Text(t.Torque, system), t.Limit, t.Assumes
		if t.Least > 0 {
			out.Clamps = quantity.Text(newtons(t.Least), system) + " to " + quantity.Text(newtons(t.Most), system)
		}
	}
	out.Stacks, out.Lengths = placesOf(s, held)
	out.Fits = fitsOf(s, held)
	return out
}

// newtons is a force, rounded to two figures: friction decides on the rest.
func newtons(n float64) quantity.Value {
	return quantity.Value{SI: quantity.Figures(n, 2), Dim: quantity.Force, Unit: "kN"}
}
