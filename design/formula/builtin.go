package formula

// builtins maps each function of the language to the least and the greatest
// number of its arguments.
var builtins = map[string]struct{ least, most int }{
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
