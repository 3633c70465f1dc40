package themes

import (
	"embed"
	"strings"
)

// licenses are the texts of licences that plans are often under, as the SPDX licence
// list gives them, each in a file named by its identifier.
//
//go:embed licenses/*.txt
var licenses embed.FS

// License is the text of the licence or exception with an SPDX identifier; ok is false
// where none is at hand. What may be used under later versions too has the text of the
// version that it names.
func License(id string) (text []byte, ok bool) {
	id = strings.TrimSuffix(id, "+")
	if stem, later := strings.CutSuffix(id, "-or-later"); later {
		id = stem + "-only"
	}
	text, err := licenses.ReadFile("licenses/" + id + ".txt")
	return text, err == nil
}
