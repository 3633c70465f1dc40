package themes

import "embed"

// Signs holds the symbols of the safety signs, one SVG file a sign, named by its
// ISO 7010 code: "signs/W024.svg". A file shows the symbol alone, black on a
// square of 100 units; publish/sign reads it and puts it in its frame.
//
//go:embed signs/*.svg
var Signs embed.FS
