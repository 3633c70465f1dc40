package notation

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// greek are the letters that a name may spell out.
var greek = map[string]string{
	"alpha": "α", "beta": "β", "gamma": "γ", "delta": "δ", "epsilon": "ε", "zeta": "ζ", "eta": "η", "theta": "θ",
	"iota": "ι", "kappa": "κ", "lambda": "λ", "mu": "μ", "nu": "ν", "xi": "ξ", "rho": "ρ", "sigma": "σ", "tau": "τ",
	"upsilon": "υ", "phi": "φ", "chi": "χ", "psi": "ψ", "omega": "ω",
	"Gamma": "Γ", "Delta": "Δ", "Theta": "Θ", "Lambda": "Λ", "Xi": "Ξ", "Sigma": "Σ", "Phi": "Φ", "Psi": "Ψ", "Omega": "Ω",
}

// qualifiers are last words of a name that tell which of its kind is meant; they
// become an index: force_max.
var qualifiers = map[string]bool{
	"max": true, "min": true, "mean": true, "crit": true, "tot": true, "total": true, "net": true, "nom": true, "ref": true, "eff": true,
	"eq": true, "lim": true, "perm": true, "in": true, "out": true,
}

// Name is a plan's name as a symbol. The owner before the dot becomes an index:
// lead_screw.lead is a lead with the index "lead screw". A letter, or the name of a
// Greek one, takes what follows as index: mu_0, d_root, d2. Other words of a name stay
// beside each other.
func Name(name string) *Node {
	path := strings.Split(name, ".")
	own := path[len(path)-1]
	owner := strings.Join(path[:len(path)-1], " ")
	if len(path) > 1 && digits(own) { // rods.1: the first of the rods
		own, owner = path[len(path)-2], strings.Join(append(path[:len(path)-2:len(path)-2], own), " ")
	}
	base, index := split(own)
	if owner = spaced(owner); owner != "" {
		if index != "" {
			index += ", "
		}
		index += owner
	}
	symbol := &Node{Kind: Symbol, Text: base}
	if index == "" {
		return symbol
	}
	return &Node{Kind: Script, Args: []*Node{symbol}, Sub: upright(index)}
}

// local is a name that stands for one after the other, as in a sum: what it has takes
// it as index, slanted since it varies.
func local(name string) *Node {
	head, rest, dotted := strings.Cut(name, ".")
	if !dotted {
		return Name(head)
	}
	own := Name(rest)
	of := []*Node{Name(head)}
	if own.Kind == Script {
		of = []*Node{own.Sub, operator(",", Comma), of[0]}
		own = own.Args[0]
	}
	return &Node{Kind: Script, Args: []*Node{own}, Sub: Linear(row(looseOr, of...))}
}

// split parts a name without dots into what it is and its index.
func split(name string) (base, index string) {
	words := strings.FieldsFunc(name, func(r rune) bool { return r == '_' })
	if len(words) == 0 {
		return name, ""
	}
	first, rest := words[0], words[1:]
	letters := strings.TrimRight(first, "0123456789")
	number := first[len(letters):]
	letter, isGreek := greek[letters]
	switch {
	case isGreek:
	case utf8.RuneCountInString(letters) == 1:
		letter = letters
	default:
		return phrase(words)
	}
	if number != "" {
		rest = append([]string{number}, rest...)
	}
	return letter, lettered(rest)
}

// phrase is a name of whole words, whose last may be an index.
func phrase(words []string) (base, index string) {
	last := words[len(words)-1]
	if len(words) > 1 && (qualifiers[last] || digits(last)) {
		return lettered(words[:len(words)-1]), last
	}
	if len(words) == 1 {
		if letters := strings.TrimRight(last, "0123456789"); letters != "" && letters != last {
			return letters, last[len(letters):]
		}
	}
	return lettered(words), ""
}

// lettered joins words, those that name Greek letters as letters.
func lettered(words []string) string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = w
		if letter, found := greek[w]; found {
			out[i] = letter
		}
	}
	return strings.Join(out, " ")
}

func spaced(name string) string {
	return strings.Join(strings.FieldsFunc(name, func(r rune) bool { return r == '_' || r == ' ' }), " ")
}

func digits(s string) bool {
	return s != "" && strings.TrimFunc(s, unicode.IsDigit) == ""
}

// short reports whether a node is a symbol of one letter, with or without an index.
func short(n *Node) bool {
	switch n.Kind {
	case Script:
		return short(n.Args[0])
	case Symbol:
		return utf8.RuneCountInString(n.Text) == 1
	}
	return false
}
