package themes

import _ "embed"

// Words is the table of the publication's own words: English in the first column, a
// further language in each other one. Package wording reads it.
//
//go:embed words.csv
var Words []byte
