package check

import (
	"fmt"
	"slices"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/joint"
	"plansheaf/design/plan"
	"plansheaf/design/standards"
)

// worthMerging is by how many the lengths of a screw must become fewer before it is
// worth a word: one more bag is soon packed.
const worthMerging = 2

// ScrewsCouldBeFewer finds screws in more lengths than the joints need.
var ScrewsCouldBeFewer = Rule{
	Rule: finding.Rule{
		Name: "screws-could-be-fewer", Severity: finding.Advice,
		Reason: "Screws that look alike get mixed up, and each length is one more pack to buy.",
		Remedy: "take the lengths that serve several joints",
	},
	Each: func(s *Situation, report func(finding.Finding)) {
		families := map[string]*family{}
		var order []string
		s.eachStack(func(a *plan.Assembly, j *plan.Joint, places []joint.Stack) {
			f := places[0].Screw.Fastener
			serving := joint.Serving(places)
			if f == nil || !slices.ContainsFunc(serving, func(o standards.Fastener) bool { return o.Length == f.Length }) {
				return // told by the rules about its length
			}
			key := f.Standard + " " + f.Thread.Name + " " + f.Class
			if families[key] == nil {
				families[key] = &family{}
				order = append(order, key)
			}
			families[key].add(places[0], serving)
		})
		for _, key := range order {
			one := families[key]
			few := one.cover()
			if len(one.used)-len(few) < worthMerging {
				continue
			}
			p := one.used[0].Screw.Part
			report(finding.Finding{
				At: p.ID.At, Subject: p.ID.Text,
				Message: fmt.Sprintf("%s comes in %s lengths (%s), where %s would do: %s", strings.TrimSpace(key), number(len(one.used)), one.lengths(), number(len(few)), listLengths(few)),
			})
		}
	},
}

// A family is the joints of a case that take one screw in any length.
type family struct {
	used   []joint.Stack // a place for each length in use, shortest first
	joints [][]float64   // the lengths that serve each joint
}

func (f *family) add(p joint.Stack, serving []standards.Fastener) {
	at, known := slices.BinarySearchFunc(f.used, p.Length, func(u joint.Stack, l float64) int {
		switch {
		case u.Length < l:
			return -1
		case u.Length > l:
			return 1
		}
		return 0
	})
	if !known {
		f.used = slices.Insert(f.used, at, p)
	}
	var lengths []float64
	for _, o := range serving {
		lengths = append(lengths, o.Length)
	}
	f.joints = append(f.joints, lengths)
}

func (f *family) lengths() string {
	var all []float64
	for _, u := range f.used {
		all = append(all, u.Length)
	}
	return listLengths(all)
}

func listLengths(all []float64) string {
	var words []string
	for _, l := range all {
		words = append(words, hundredths(l))
	}
	return strings.Join(words, ", ")
}

// cover is the least set of lengths of which every joint has one that serves. The lengths
// that serve a joint follow each other without a gap, so it is enough to take, time and
// again, the shortest length for the joint whose shortest is longest.
func (f *family) cover() []float64 {
	var out []float64
	left := slices.Clone(f.joints)
	for len(left) > 0 {
		best := 0.0
		for _, lengths := range left {
			best = max(best, slices.Min(lengths))
		}
		out = append(out, best)
		left = slices.DeleteFunc(left, func(lengths []float64) bool { return slices.Contains(lengths, best) })
	}
	slices.Sort(out)
	return out
}
