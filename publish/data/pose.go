package data

import (
	"plansheaf/design/check"
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
			l, err := layout.At(s.Reckoning, map[string]quantity.Value{m.ID.Text: end})
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
