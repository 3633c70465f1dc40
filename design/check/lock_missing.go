package check

import (
	"fmt"
	"slices"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
)

// LockMissing finds screws in what turns or is driven, a motor with its shaft, that
// nothing keeps from coming loose.
var LockMissing = Rule{
	Rule: finding.Rule{
		Name: "lock-missing", Severity: finding.Advice,
		Reason: "What turns and stops, and what drives it, shakes its screws loose; a set screw most of all.",
		Remedy: "write lock: thread_lock or take a nut with an insert; lock: none says that none is needed",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		turning := s.turning()
		s.eachStack(func(a *plan.Assembly, j *plan.Joint, places []joint.Stack) {
			nut := places[0].Nut
			if j.Lock.Given() || nut != nil && nut.Fastener != nil && nut.Fastener.Locking {
				return
			}
			for _, path := range s.joints().Paths(&places[0]) {
				if by := turnsWith(turning, path); by != "" {
					report(s.aboutScrew(a, j, places[:1], 1, fmt.Sprintf("%q turns in use, and nothing keeps %s from coming loose", by, screwText(&places[0]))))
					return
				}
			}
			for _, c := range places[0].Crossings {
				if drives(c.Part) {
					report(s.aboutScrew(a, j, places[:1], 1, fmt.Sprintf("%q runs and shakes, and nothing keeps %s from coming loose", c.Spot.Path, screwText(&places[0]))))
					return
				}
			}
		})
	},
}

// drives reports whether a part has a shape that turns by itself, as a motor's shaft,
// and a speed or a voltage.
func drives(p *reckon.Part) bool {
	turns := slices.ContainsFunc(p.Part.Shape, func(s plan.Solid) bool { return s.Turns })
	return turns && slices.ContainsFunc(p.Part.Has, func(h plan.Named) bool { return h.Name.Text == "speed" || h.Name.Text == "voltage" })
}

// turning are the paths of the instances that turn when the machine moves.
func (s *Situation) turning() map[string]bool {
	out := map[string]bool{}
	for _, in := range s.Reckoning.Tally().Instances {
		for _, m := range in.Use.Moves {
			out[in.Path] = out[in.Path] || m.About.Given()
		}
	}
	return out
}

// turnsWith is what turns an instance: itself or something that holds it; "" where it
// stays.
func turnsWith(turning map[string]bool, path string) string {
	for path != "" {
		if turning[path] {
			return path
		}
		path = path[:max(strings.LastIndexByte(path, '.'), 0)]
	}
	return ""
}
