package way

import (
	"strconv"
	"strings"

	"plansheaf/design/layout"
	"plansheaf/design/plan"
)

// Key names what brings a piece: its use or its joint.
func Key(p layout.Piece) string {
	if p.Joint != "" {
		return "joint " + p.Joint
	}
	return p.Use
}

// News are the keys that a step brings and no earlier one did; there holds those of
// earlier steps, whatever it says of them.
func News[T any](a *plan.Assembly, st *plan.Step, there map[string]T) map[string]bool {
	return newsUpTo(maxNumbered, a, st, there)
}

// newsUpTo is News for uses of no more than most instances.
func newsUpTo[T any](most int, a *plan.Assembly, st *plan.Step, there map[string]T) map[string]bool {
	fresh := map[string]bool{}
	for _, w := range st.Adds {
		use := a.Use(w.Path()[0])
		if use == nil {
			continue
		}
		fresh[w.Text] = true
		if use.Count.Given() && w.Text == use.ID.Text {
			for i := 1; i <= min(most, maxNumbered); i++ {
				fresh[w.Text+"."+strconv.Itoa(i)] = true
			}
		}
	}
	for _, list := range [][]plan.Word{st.Fastens, st.Loose} {
		for _, w := range list {
			fresh["joint "+w.Text] = true
		}
	}
	for k := range fresh {
		if _, known := there[k]; known {
			delete(fresh, k)
		}
	}
	return fresh
}

// maxNumbered bounds the instances of one repeated use that are told apart.
const maxNumbered = 1000

// UseOf is the assembly's own use that brings a piece; nil for what a joint takes.
func UseOf(a *plan.Assembly, p layout.Piece) *plan.Use {
	if p.Use == "" {
		return nil
	}
	id, _, _ := strings.Cut(p.Use, ".")
	return a.Use(id)
}

// Held is the part or the assembly that a use stands for.
func Held(use *plan.Use, sel plan.Selection) (id string, ok bool) {
	if w, ok := use.Part.Pick(sel); ok {
		return w.Text, true
	}
	w, ok := use.Assembly.Pick(sel)
	return w.Text, ok
}
