package reckon

import (
	"slices"
	"strconv"

	"plansheaf/design/plan"
)

// A Spot is one feature of one part instance, named from an assembly.
type Spot struct {
	Path    string // uses from the assembly, numbered where repeated: "left.posts.1" without the feature
	Part    *plan.Part
	Hole    *plan.Hole // nil for faces, slots, axes
	Number  int        // of a pattern; 0 when the hole is no pattern, or the feature no hole
	Feature string     // as the part names it: "posts.1", "slot_left", "top"
}

const (
	// maxSpots bounds what one reference may stand for.
	maxSpots = 10000
	// maxVisits bounds how many uses are looked at for one reference, so that
	// repeats inside repeats end even where they hold nothing.
	maxVisits = 20 * maxSpots
)

// Spots lists what a reference from assembly a stands for under the case: a use
// without its number stands for all of it, a pattern without a number for all of
// its holes. Uses that the case leaves out give nothing. An unresolvable
// reference gives nothing either; reading has reported it.
func (r *Reckoning) Spots(a *plan.Assembly, ref plan.Word) []Spot {
	key := spotKey{a, ref.Text}
	if r.base == nil {
		if known, asked := r.found[key]; asked {
			return slices.Clone(known)
		}
	}
	visits := maxVisits
	list := r.spots(a, ref.Path(), "", &visits)
	// Not where a count may be wanted that is being worked out, or is supposed.
	if len(r.stack) == 0 && r.base == nil && len(list) <= mostFound {
		r.found[key] = slices.Clone(list)
	}
	return list
}

// mostFound is of how many spots a list is kept.
const mostFound = 100

// A spotKey is a reference from an assembly.
type spotKey struct {
	from *plan.Assembly
	text string
}

func (r *Reckoning) spots(a *plan.Assembly, path []string, prefix string, visits *int) []Spot {
	if len(path) < 2 {
		return nil
	}
	use := a.Use(path[0])
	if use == nil || !use.Only.Fits(r.Case.Options) {
		return nil
	}
	numbers, rest := r.numbers(use, path[1:])
	var found []Spot
	for _, name := range numbers {
		if *visits--; *visits < 0 {
			return found
		}
		at := prefix + name
		if id, ok := use.Assembly.Pick(r.Case.Options); ok {
			if sub := r.Plan.Assembly(id.Text); sub != nil {
				found = append(found, r.spots(sub, rest, at+".", visits)...)
			}
		} else if id, ok := use.Part.Pick(r.Case.Options); ok {
			if part := r.Plan.Part(id.Text); part != nil {
				found = append(found, r.featureSpots(part, at, rest)...)
			}
		}
		if len(found) > maxSpots {
			return found[:maxSpots]
		}
	}
	return found
}

// numbers are the instances of a use that the rest of a path picks, as
// "feet.1", and what of the path is left.
func (r *Reckoning) numbers(use *plan.Use, rest []string) (names, left []string) {
	if !use.Count.Given() {
		return []string{use.ID.Text}, rest
	}
	if len(rest) > 0 {
		if _, err := strconv.Atoi(rest[0]); err == nil {
			return []string{use.ID.Text + "." + rest[0]}, rest[1:]
		}
	}
	first, last := r.Numbers(use)
	for i := first; i <= min(last, maxSpots); i++ {
		names = append(names, use.ID.Text+"."+strconv.Itoa(i))
	}
	return names, rest
}

func (r *Reckoning) featureSpots(part *plan.Part, path string, feature []string) []Spot {
	if len(feature) == 0 {
		return nil
	}
	hole := r.HoleOf(part, feature[0])
	if hole == nil {
		return []Spot{{Path: path, Part: part, Feature: feature[0]}}
	}
	n, numbered := r.PatternCount(hole)
	if len(feature) > 1 {
		number, _ := strconv.Atoi(feature[1])
		return []Spot{{Path: path, Part: part, Hole: hole, Number: number, Feature: feature[0] + "." + feature[1]}}
	}
	if !numbered {
		return []Spot{{Path: path, Part: part, Hole: hole, Feature: feature[0]}}
	}
	var spots []Spot
	for i := 1; i <= min(n, maxSpots); i++ {
		spots = append(spots, Spot{Path: path, Part: part, Hole: hole, Number: i, Feature: feature[0] + "." + strconv.Itoa(i)})
	}
	return spots
}

// HoleOf is the part's hole of that name; an altered part has those of the part
// it is made from, too. It is nil where there is none.
func (r *Reckoning) HoleOf(part *plan.Part, name string) *plan.Hole {
	for depth := 0; part != nil && depth < maxDepth; depth++ {
		if h := part.Hole(name); h != nil {
			return h
		}
		if !part.Of.Given() {
			return nil
		}
		part = r.Plan.Part(part.Of.Text)
	}
	return nil
}

// PatternCount is the number of holes in a hole's pattern; numbered is false for
// a single hole, which features name without a number.
func (r *Reckoning) PatternCount(h *plan.Hole) (n int, numbered bool) {
	if r.base != nil {
		return r.base.PatternCount(h)
	}
	switch h.Pattern.Kind.Text {
	case "grid", "line", "circle":
		if known, counted := r.patterns[h]; counted {
			return known, true
		}
		n = 1
		for _, c := range h.Pattern.Count {
			k, ok := r.Whole(c)
			if !ok {
				return 0, true
			}
			n = min(n*k, maxCount)
		}
		r.patterns[h] = n
		return n, true
	case "points":
		return len(h.Pattern.Points), true
	}
	return 1, false
}
