package formula

import (
	"slices"
	"sort"

	"github.com/agnivade/levenshtein"
)

// arity is the least and the greatest number of a function's arguments.
type arity struct {
	least, most int
	odd         bool // pairs and one more
}

// builtins are the functions of the language.
var builtins = map[string]arity{
	"min": {least: 1, most: maxArguments}, "max": {least: 1, most: maxArguments},
	"abs": {least: 1, most: 1}, "sqrt": {least: 1, most: 1},
	"sin": {least: 1, most: 1}, "cos": {least: 1, most: 1}, "tan": {least: 1, most: 1},
	"asin": {least: 1, most: 1}, "acos": {least: 1, most: 1}, "atan": {least: 1, most: 1}, "atan2": {least: 2, most: 2},
	"round": {least: 1, most: 2}, "ceil": {least: 1, most: 2}, "floor": {least: 1, most: 2},
	"if":  {least: 3, most: maxArguments, odd: true},
	"has": {least: 1, most: 1},
	"exp": {least: 1, most: 1}, "ln": {least: 1, most: 1}, "log10": {least: 1, most: 1},
	"solve": {}, "sum": {}, // read by themselves
}

func isBuiltin(name string) bool {
	_, found := builtins[name]
	return found
}

// IsWord reports whether a name is a word of the language, a function's or another,
// and so stands for nothing else.
func IsWord(name string) bool {
	return isBuiltin(name) || slices.Contains([]string{"pi", "π", "not", "and", "or"}, name)
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
