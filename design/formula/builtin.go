package formula

import "fmt"

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
