package mesh

import (
	"fmt"
	"slices"
	"strings"

	"plansheaf/design/solid"
)

// A Kind is a sort of fault.
type Kind int

// The kinds of fault.
const (
	Unreadable   Kind = iota // not an STL file, or a broken one
	TooLarge                 // more bytes, triangles or bodies than are read
	NotFinite                // a coordinate is infinite or no number
	Empty                    // encloses nothing
	Open                     // sides of triangles without a partner
	Inverted                 // triangles, or whole bodies, that face inward
	Doubled                  // triangles that lie on each other
	UnitDiffers              // the file names another unit than the plan does
	SizeDoubtful             // no part is so small or so large: the unit may be wrong
	Unsplit                  // sides on which a corner of a neighbour stands: T-junctions
	Branching                // sides in which more than two triangles meet: not a manifold
	Degenerate               // triangles without area whose corners differ
	Crossing                 // triangles that run through others
)

// String returns the kind's name.
func (k Kind) String() string {
	return [...]string{"unreadable", "too large", "not finite", "empty", "open", "inverted", "doubled", "unit differs", "size doubtful", "unsplit", "branching", "degenerate", "crossing"}[k]
}

// A Fault is something wrong with a mesh.
type Fault struct {
	Kind Kind
	// Count is how many sides, triangles or bodies are concerned; 0 where that
	// does not apply.
	Count int
	// At is a place where it shows, mm, in the file's own axes; the origin where
	// there is none.
	At solid.Vec
	// Reason says what is wrong, for the author.
	Reason string
}

// Error returns the reason.
func (f Fault) Error() string { return f.Reason }

func place(p solid.Vec) string { return fmt.Sprintf("%.4g, %.4g, %.4g mm", p.X, p.Y, p.Z) }

// A Unit is the unit of length of a file's numbers.
type Unit struct {
	Name        string
	Millimetres float64
}

// units are those a plan may give, each with the words by which files name it.
var units = []struct {
	Unit
	words []string
}{
	{Unit{"mm", 1}, []string{"mm", "millimetre", "millimetres", "millimeter", "millimeters"}},
	{Unit{"cm", 10}, []string{"cm", "centimetre", "centimetres", "centimeter", "centimeters"}},
	{Unit{"m", 1000}, []string{"m", "metre", "metres", "meter", "meters"}},
	{Unit{"in", 25.4}, []string{"in", "inch", "inches"}},
}

// UnitNamed returns the unit with a plan's name for it: mm, cm, m or in.
func UnitNamed(name string) (Unit, bool) {
	for _, u := range units {
		if u.Name == name {
			return u.Unit, true
		}
	}
	return Unit{}, false
}

// statedUnits are the units that a file's header names after the word unit or units,
// such as "units=mm" or "unit: inches", each once. The format has no field for it; some
// writers put it there.
func statedUnits(header string) (stated []Unit) {
	words := strings.FieldsFunc(strings.ToLower(header), func(r rune) bool {
		return r != '_' && (r < 'a' || r > 'z') && (r < '0' || r > '9')
	})
	for i, w := range words {
		if w != "unit" && w != "units" || i+1 == len(words) {
			continue
		}
		for _, u := range units {
			if slices.Contains(u.words, words[i+1]) && !slices.Contains(stated, u.Unit) {
				stated = append(stated, u.Unit)
			}
		}
	}
	return stated
}
