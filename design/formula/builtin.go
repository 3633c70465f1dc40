package formula

import (
	"fmt"
	"sort"

	"github.com/agnivade/levenshtein"
)

// arity is the least and the greatest number of a function's arguments.
type arity struct{ least, most int }

// want says how many arguments there must be.
func (a arity) want() string {
	switch {
	case a.most == 1:
		return "one argument"
	case a.least == a.most:
		return fmt.Sprintf("%d arguments", a.least)
	}
	return fmt.Sprintf("%d to %d arguments", a.least, a.most)
}

// builtins are the functions of the language.
var builtins = map[string]arity{
	"min": {1, maxArguments}, "max": {1, maxArguments},
	"abs": {1, 1}, "sqrt": {1, 1},
	"sin": {1, 1}, "cos": {1, 1}, "tan": {1, 1},
	"asin": {1, 1}, "acos": {1, 1}, "atan": {1, 1}, "atan2": {2, 2},
	"round": {1, 2}, "ceil": {1, 2}, "floor": {1, 2},
	"if":  {3, 3},
	"exp": {1, 1}, "ln": {1, 1}, "log10": {1, 1},
}

func isBuiltin(name string) bool {
	_, found := builtins[name]
	return found
}

// Functions returns the names of the language's functions, sorted.
func Functions() []string {
	names := make([]string, 0, len(builtins))
	for name := range builtins {
		names = append(names, name)
	}
	sort.Strings(names)
	return names
}

// nearestFunction returns the function that an unknown one differs from by a
// letter or two; empty when there is none.
func nearestFunction(name string) string {
	best, least := "", min(2, len(name)/2)
	for _, candidate := range Functions() {
		if distance := levenshtein.ComputeDistance(candidate, name); distance <= least {
			best, least = candidate, distance-1
		}
	}
	return best
}
