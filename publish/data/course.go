package data

import (
	"math"

	"plansheaf/design/check"
	"plansheaf/design/layout"
	"plansheaf/design/solid"
)

// The types below are what belts, strands and telescoping parts come to in the
// machine: points in mm in its axes, lengths in mm.

type beltFile struct {
	Path     string       `json:"path" about:"names of the uses from the machine down, numbered where repeated"`
	LengthMM float64      `json:"path_length_mm" about:"along the pitch line"`
	StatedMM float64      `json:"belt_length_mm" about:"the belt's own"`
	SlackMM  float64      `json:"slack_mm" about:"left over once what presses on it is in place"` // once what presses on it is in place
	Plane    planeFile    `json:"plane" about:"that the pitch line lies in"`
	Line     []spanFile   `json:"pitch_line" about:"its lines and arcs, one after the other"`
	Pulleys  []pulleyFile `json:"pulleys" about:"in the order that it meets them"`
}

// A planeFile is where a belt's pitch line lies: its x and y run along X and Y from
// the origin.
type planeFile struct {
	AtMM [3]float64 `json:"at_mm" about:"where the origin of its own axes stands, in the machine's axes; absent where it has no rigid place"`
	X    [3]float64 `json:"x" about:"direction"`
	Y    [3]float64 `json:"y" about:"direction"`
}

// A spanFile is a straight line or an arc of a pitch line, in its plane. An arc runs
// anticlockwise unless it says otherwise.
type spanFile struct {
	From      [2]float64  `json:"from_mm" about:"in the plane"`
	To        [2]float64  `json:"to_mm" about:"in the plane"`
	Centre    *[2]float64 `json:"centre_mm,omitempty" about:"in the plane; of an arc or a pulley"`
	Clockwise bool        `json:"clockwise,omitempty" about:"the arc runs so"`
}

type pulleyFile struct {
	Path     string     `json:"path" about:"names of the uses from the machine down, numbered where repeated"`
	CentreMM [2]float64 `json:"centre_mm" about:"in the plane; of an arc or a pulley"`
	RadiusMM float64    `json:"pitch_radius_mm" about:"of the pitch circle"`
	WrapDeg  float64    `json:"wrap_deg" about:"degrees that the belt lies on it"`
	InMesh   float64    `json:"teeth_in_mesh,omitempty" about:"of a toothed pulley"`
	Back     bool       `json:"on_the_back,omitempty" about:"it stands on the belt's back"`
	OffMM    float64    `json:"off_plane_mm" about:"how far its middle is off the plane"`
}

type strandFile struct {
	Path     string       `json:"path" about:"names of the uses from the machine down, numbered where repeated"`
	Points   [][3]float64 `json:"points_mm" about:"in the machine's axes"`
	LengthMM float64      `json:"straight_length_mm" about:"from point to point"`
	StatedMM float64      `json:"strand_length_mm,omitempty" about:"its own, where it is stated"`
}

type telescopeFile struct {
	Path     string        `json:"path" about:"names of the uses from the machine down, numbered where repeated"`
	Ends     [2][3]float64 `json:"ends_mm" about:"where it is held, in the machine's axes"`
	LengthMM float64       `json:"length_mm" about:"along x"`
	ClosedMM float64       `json:"closed_mm" about:"its shortest length"`
	StrokeMM float64       `json:"stroke_mm" about:"by which it stretches"`
}

func coordinates(v solid.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }

// beltsOf are the belts of a situation with the motions at rest.
func beltsOf(s *check.Situation) []beltFile {
	out := []beltFile{}
	for _, b := range s.Layout.Belts() {
		one := beltFile{
			Path: b.Instance.Path, LengthMM: b.Length, StatedMM: b.Stated, SlackMM: b.Slack,
			Plane: planeFile{coordinates(b.Frame.O), coordinates(b.Frame.X), coordinates(b.Frame.Y)},
		}
		for _, span := range b.Line {
			line := spanFile{From: [2]float64{span.From.X, span.From.Y}, To: [2]float64{span.To.X, span.To.Y}}
			if span.Arc {
				line.Centre, line.Clockwise = &[2]float64{span.Centre.X, span.Centre.Y}, span.Clockwise
			}
			one.Line = append(one.Line, line)
		}
		in := b.Instance.Parent.Path
		if in != "" {
			in += "."
		}
		for _, p := range b.Pulleys {
			one.Pulleys = append(one.Pulleys, pulleyFile{
				Path: in + p.Path, CentreMM: [2]float64{p.Centre.X, p.Centre.Y}, RadiusMM: p.R,
				WrapDeg: p.Wrap * 180 / math.Pi, InMesh: p.InMesh, Back: p.Back, OffMM: p.Off,
			})
		}
		out = append(out, one)
	}
	return out
}

// strandsOf are the cables, hoses and wires of a situation.
func strandsOf(s *check.Situation) []strandFile {
	out := []strandFile{}
	for _, st := range s.Layout.Strands() {
		one := strandFile{Path: st.Instance.Path, LengthMM: st.Path, StatedMM: st.Stated}
		for _, p := range st.Points {
			one.Points = append(one.Points, coordinates(p))
		}
		out = append(out, one)
	}
	return out
}

// telescopesOf are the parts that are stretched between two places.
func telescopesOf(l *layout.Layout) []telescopeFile {
	out := []telescopeFile{}
	for _, t := range l.Telescopes() {
		out = append(out, telescopeFile{
			Path: t.Instance.Path, Ends: [2][3]float64{coordinates(t.Ends[0]), coordinates(t.Ends[1])},
			LengthMM: t.Length, ClosedMM: t.Closed, StrokeMM: t.Stroke,
		})
	}
	return out
}
