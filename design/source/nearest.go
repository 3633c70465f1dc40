package source

import (
	"sort"
	"strings"

	"github.com/agnivade/levenshtein"
)

// nearest suggests known names for unknown ones. Its zero value is ready.
type nearest struct{ compared int }

const (
	// comparing is how many comparisons one plan may cost: a plan of nothing but
	// unknown names must not take minutes.
	comparing = 400_000
	// longest is the length in bytes beyond which no name is compared.
	longest = 64
)

// to is the candidate most like word; empty where none is near: at most some third of
// its letters may differ. Of several the first by letters wins.
func (n *nearest) to(word string, candidates []string) string {
	if word == "" || len(word) > longest || n.compared > comparing {
		return ""
	}
	sorted := append([]string(nil), candidates...)
	sort.Strings(sorted)
	best, bestDistance := "", max(1, (len(word)+2)/3)+1
	for _, c := range sorted {
		if len(c) > longest || len(c)-len(word) >= bestDistance || len(word)-len(c) >= bestDistance || c == word {
			continue
		}
		n.compared++
		if d := levenshtein.ComputeDistance(strings.ToLower(word), strings.ToLower(c)); d < bestDistance {
			best, bestDistance = c, d
		}
	}
	if bestDistance >= len(word) {
		return ""
	}
	return best
}

// perhaps is a remedy that names the nearest candidate, or lists the few that there
// are; empty where neither helps.
func (n *nearest) perhaps(word string, candidates []string) string {
	if best := n.to(word, candidates); best != "" {
		return "perhaps " + best + " is meant"
	}
	const few = 12
	candidates = distinct(candidates)
	if len(candidates) == 0 || len(candidates) > few {
		return ""
	}
	return "known here: " + strings.Join(candidates, ", ")
}

// distinct is a list without what it holds a second time, in its order.
func distinct(list []string) []string {
	seen := map[string]bool{}
	var out []string
	for _, s := range list {
		if !seen[s] && s != "" {
			seen[s] = true
			out = append(out, s)
		}
	}
	return out
}
