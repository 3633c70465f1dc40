package binder

import (
	"bytes"
	"crypto/sha256"
	"strings"
)

// postScript are the fonts' own names, by face.
var postScript = [faceCount]string{
	regular: "DejaVuSans", bold: "DejaVuSans-Bold", italic: "DejaVuSans-Oblique", boldItalic: "DejaVuSans-BoldOblique",
	mono: "DejaVuSansMono", monoBold: "DejaVuSansMono-Bold",
}

// subsetNames are the names of the fonts in a file that gofpdf wrote and what they
// are to be called: a subset bears its font's PostScript name behind a tag of six
// capitals and a plus sign (ISO 32000-1, 9.6.4). The tag follows from what the file
// holds, so that two subsets seldom share one.
func subsetNames(raw []byte) map[string]string {
	const letters = 6
	whole := sha256.Sum256(raw)
	names := map[string]string{}
	for i, spec := range faceSpecs {
		sum := sha256.Sum256(append(whole[:], postScript[i]...))
		var tag strings.Builder
		for _, b := range sum[:letters] {
			tag.WriteByte('A' + b%26)
		}
		names["utf8"+spec.family+spec.style] = tag.String() + "+" + postScript[i]
	}
	return names
}

// renamed is a font object, or a font's descriptor, with its font called otherwise.
func renamed(object []byte, names map[string]string) []byte {
	for _, key := range []string{"/BaseFont /", "/FontName /"} {
		before, after, found := bytes.Cut(object, []byte(key))
		if !found {
			continue
		}
		old, rest, _ := bytes.Cut(after, []byte("\n"))
		if name, known := names[string(old)]; known {
			object = bytes.Join([][]byte{before, []byte(key + name + "\n"), rest}, nil)
		}
	}
	return object
}
