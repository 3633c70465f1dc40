package standards

import (
	"math"
	"strings"

	"github.com/agnivade/levenshtein"
)

// nearest returns the known word that takes the fewest single-character edits
// to reach, the first of equals, or "" when even that one is no likely slip:
// more than half of the word would have to change.
func nearest(word string, known []string) string {
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
