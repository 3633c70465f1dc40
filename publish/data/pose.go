package data

import (
	"plansheaf/design/check"
	"plansheaf/design/clash"
	"plansheaf/design/layout"
	"plansheaf/design/quantity"
	"plansheaf/design/reckon"
)

// instanceOf says what an instance is and where a layout places it.
func instanceOf(l *layout.Layout, in *reckon.Instance) instanceFile {
	one := instanceFile{Path: in.Path}
	if in.Part != nil {
		one.Part = in.Part.ID.Text
	} else {
		one.Assembly = in.Assembly.ID.Text
	}
	if p, ok := l.Placement(in); ok {
		at := coordinates(p.Move)
		one.AtMM, one.Axes = &at, &[3][3]float64{}
		for i, axis := range p.Turn {
			one.Axes[i] = coordinates(axis)
		}
	}
	return one
}

// mostPosed bounds how many motions are taken to their ends.
const mostPosed = 32

// posesOf are what each motion moves, at either end of its range that is not where it
// rests.
func posesOf(s *check.Situation, system quantity.System) []poseFile {
	out := []poseFile{}
	motions := s.Reckoning.Plan.Motions
	for _, m := range motions[:min(mostPosed, len(motions))] {
		from, to, err := s.Reckoning.Range(m)
		if err != nil {
			continue // the checks have told why
		}
		for _, end := range []quantity.Value{from, to} {
			l, err := s.Layout.At(map[string]quantity.Value{m.ID.Text: end})
			if err != nil {
				continue
			}
			pose := poseFile{Motion: m.ID.Text, At: valueOf(m.ID.Text, end, system), Moved: []instanceFile{}, Telescopes: telescopesOf(l)}
			for _, in := range s.Reckoning.Tally().Instances {
				now, placed := l.Placement(in)
				if rest, known := s.Layout.Placement(in); placed && (!known || now != rest) {
					pose.Moved = append(pose.Moved, instanceOf(l, in))
				}
			}
			if len(pose.Moved) > 0 {
				out = append(out, pose)
			}
		}
	}
	return out
}

// A clearanceFile is the way of one motion from end to end.
type clearanceFile struct {
	Motion  string        `json:"motion" about:"name of the motion"`
	From    valueFile     `json:"from" about:"one end of its range"`
	To      valueFile     `json:"to" about:"the other end"`
	Clashes int           `json:"clashes" about:"pairs of bodies that run into each other"`
	Looked  float64       `json:"looked_mm" about:"up to what distance the least room is measured"`
	Sampled bool          `json:"sampled" about:"whether some of the way was put together from samples"`
	Places  []stretchFile `json:"places" about:"everywhere on the way where two bodies are as near as any come"`
	Least   *nearFile     `json:"least,omitempty" about:"where two bodies come nearest; absent where none comes as near as is looked"`
}

// A stretchFile is a part of the way on which two bodies are as near as any come.
type stretchFile struct {
	A       string    `json:"a" about:"path of a body"`
	B       string    `json:"b" about:"path of the other body"`
	Gap     float64   `json:"gap_mm" about:"the least between them"`
	AtLeast bool      `json:"at_least" about:"one of them turns, and what it sweeps was measured"`
	From    valueFile `json:"from" about:"where the motion stands when they come so near"`
	To      valueFile `json:"to" about:"where it stands when they part"`
}

type nearFile struct {
	A       string     `json:"a" about:"path of a body"`
	B       string     `json:"b" about:"path of the other body"`
	Gap     float64    `json:"gap_mm" about:"between them"`
	Within  float64    `json:"within_mm" about:"nowhere do they come nearer than the gap less this"`
	AtLeast bool       `json:"at_least" about:"one of them turns, and what it sweeps was measured: they may come no nearer"`
	Stands  valueFile  `json:"stands" about:"where the motion stands then"`
	At      [3]float64 `json:"at_mm" about:"where that is, in the machine's axes"`
}

func clearancesOf(s *check.Situation, system quantity.System) []clearanceFile {
	out := []clearanceFile{}
	for _, t := range s.Clashes().Travels {
		one := clearanceFile{
			Motion: t.Motion.ID.Text, From: valueOf("from", t.From, system), To: valueOf("to", t.To, system), Clashes: len(t.Clashes),
			Looked: clash.Looked, Sampled: t.Sampled, Places: []stretchFile{},
		}
		for _, p := range t.Places {
			one.Places = append(one.Places, stretchFile{p.A.Name(), p.B.Name(), microns(p.Gap), p.AtLeast, valueOf("from", p.From, system), valueOf("to", p.To, system)})
		}
		if n := t.Least; n != nil {
			one.Least = &nearFile{n.A.Name(), n.B.Name(), microns(n.Gap), microns(n.Within), n.AtLeast, valueOf("stands", n.Stands, system), coordinates(n.At)}
		}
		out = append(out, one)
	}
	return out
}
