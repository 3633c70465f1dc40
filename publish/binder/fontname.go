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

// subsetName is what a font of some letters is to be called: its PostScript name behind a
// tag of six capitals and a plus sign (ISO 32000-1, 9.6.4). The tag follows from what the
// font holds, so that two subsets seldom share one.
func subsetName(which face, objects [][]byte) string {
	const letters = 6
	whole := sha256.New()
	for _, o := range objects {
		whole.Write(o)
	}
	var tag strings.Builder
	for _, b := range whole.Sum([]byte(nil))[:letters] {
		tag.WriteByte('A' + b%26)
	}
	return tag.String() + "+" + postScript[which]
}

// renamed is a font object, or a font's descriptor, with its font called otherwise.
func renamed(object []byte, name string) []byte {
	for _, key := range []string{"/BaseFont /", "/FontName /"} {
		before, after, found := bytes.Cut(object, []byte(key))
		if !found {
			continue
		}
		_, rest, _ := bytes.Cut(after, []byte("\n"))
		object = bytes.Join([][]byte{before, []byte(key + name + "\n"), rest}, nil)
	}
	return object
}
