package standards

import (
	"math"
	"strings"

	"github.com/agnivade/levenshtein"
)

// longestWord bounds in bytes what is compared: no name in the tables has more
// than forty, and the comparison takes time with the product of both lengths.
const longestWord = 80

// nearest returns the known word that takes the fewest single-character edits
// to reach, the first of equals, or "" when even that one is no likely slip:
// more than half of the word would have to change, or the word is longer than
// any known one.
func nearest(word string, known []string) string {
	if len(word) > longestWord {
		return ""
	}
	best, least := "", len(word)/2+2
	for _, candidate := range known {
		if distance := levenshtein.ComputeDistance(strings.ToLower(word), strings.ToLower(candidate)); distance < least {
			best, least = candidate, distance
		}
	}
	return best
}

// nearestLength returns the length of a series that differs least, the shorter
// of equals, 0 for an empty series.
func nearestLength(length float64, series []float64) float64 {
	best := 0.0
	for i, candidate := range series {
		if i == 0 || math.Abs(candidate-length) < math.Abs(best-length) {
			best = candidate
		}
	}
	return best
}
