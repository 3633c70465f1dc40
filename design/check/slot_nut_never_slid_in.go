package check

import (
	"fmt"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
	"plansheaf/design/sequence"
)

// SlotNutNeverSlidIn finds joints into slot nuts that go in at the end of a bar when
// both of its ends are covered, and no step slid the nuts in before. An end counts
// as covered once a joint made in an earlier step uses a hole or face of it.
var SlotNutNeverSlidIn = Rule{
	Rule: finding.Rule{
		Name: "slot-nut-never-slid-in", Severity: finding.Error,
		Reason: "The slot is closed at both ends and the nuts are outside: the machine must come apart again.",
		Remedy: "name the joint under slides_in of a step before the slot closes, or use nuts that go in from the front",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		o := s.order()
		s.eachJoint(func(a *plan.Assembly, j *plan.Joint) {
			nut := joint.NutOf(s.Reckoning, j)
			if nut == nil || nut.Part.Fastener == nil || nut.Part.Fastener.GoesIn.Text != "end" {
				return
			}
			for _, f := range o.Handled(j).Fastens {
				slid := false
				for _, d := range o.Handled(j).Slides {
					slid = slid || o.Before(d.Step, f.Step)
				}
				if slid {
					continue
				}
				if bar, by := o.closed(a, j, f.Step); bar != "" {
					report(finding.Finding{
						At: f.Word.At, Subject: jointSubject(a, j),
						Message: fmt.Sprintf("%q needs slot nuts in %q, whose ends %s have covered, and no step slid them in before", j.ID.Text, bar, by),
						Also:    []finding.Related{{At: j.ID.At, Say: "the joint"}},
					})
				}
			}
		})
	},
}

// An endUse is a joint's use of the end of a bar.
type endUse struct {
	owner *plan.Assembly
	path  string // of the bar, from owner
	face  string
	joint *plan.Joint
}

// endUses are the uses of slotted bars' ends by all joints, in the order of the
// files.
func (o *order) endUses() []endUse {
	if o.ends == nil {
		o.ends = []endUse{}
		o.s.eachJoint(func(a *plan.Assembly, j *plan.Joint) {
			for _, w := range jointFeatures(j) {
				for _, spot := range o.s.Reckoning.Spots(a, w) {
					stock := o.s.Reckoning.Plan.StockOf(spot.Part.Stock.Text)
					if stock == nil || stock.Section == nil || stock.Section.Kind.Text != "slotted" {
						continue
					}
					ends := endFaces(spot.Part)
					if face := faceOf(spot); face == ends[0] || face == ends[1] {
						o.ends = append(o.ends, endUse{a, spot.Path, face, j})
					}
				}
			}
		})
	}
	return o.ends
}

// closed is the first bar of a joint's last layer with both ends covered before a
// step, and the joints that cover them.
func (o *order) closed(a *plan.Assembly, j *plan.Joint, step int) (bar, by string) {
	for _, spot := range joint.Last(o.s.Reckoning, a, j) {
		covers := map[string]string{}
		for _, use := range o.endUses() {
			prefix, within := relative(o.s, a, use.owner)
			if within && use.joint != j && prefix+use.path == spot.Path && covers[use.face] == "" && o.madeBefore(o.Handled(use.joint), step) {
				covers[use.face] = use.joint.ID.Text
			}
		}
		ends := endFaces(spot.Part)
		if covers[ends[0]] != "" && covers[ends[1]] != "" {
			return spot.Path, fmt.Sprintf("%q and %q", covers[ends[0]], covers[ends[1]])
		}
	}
	return "", ""
}

func (o *order) madeBefore(h *sequence.Handling, step int) bool {
	for _, f := range h.Fastens {
		if o.Before(f.Step, step) {
			return true
		}
	}
	return false
}

// relative is how paths of a sub-assembly's joints begin in the assembly a: "" for
// a itself. A sub-assembly that a does not hold, or holds more than once, is not
// within.
func relative(s *Situation, a, sub *plan.Assembly) (prefix string, within bool) {
	if a == sub {
		return "", true
	}
	for _, u := range a.Holds {
		if id, ok := u.Assembly.Pick(s.Case.Options); ok && id.Text == sub.ID.Text && u.Only.Fits(s.Case.Options) && !u.Count.Given() {
			return u.ID.Text + ".", true
		}
	}
	return "", false
}

// endFaces are the faces at the two ends of a bar, by the way it lies.
func endFaces(p *plan.Part) [2]string {
	switch p.Lies.Text {
	case "y":
		return [2]string{"front", "back"}
	case "z":
		return [2]string{"bottom", "top"}
	}
	return [2]string{"left", "right"}
}

// faceOf is the face that a feature stands on or is.
func faceOf(spot reckon.Spot) string {
	if spot.Hole == nil {
		ends := endFaces(spot.Part)
		switch spot.Feature {
		case "start":
			return ends[0]
		case "end":
			return ends[1]
		}
		return spot.Feature
	}
	if spot.Hole.Face.Given() {
		return spot.Hole.Face.Text
	}
	return "top"
}
