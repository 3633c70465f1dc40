package picture

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// pdfNames are what the content of a PDF calls the faces.
var pdfNames = [...]string{
	Sans: "Sans", SansBold: "SansBold", SansOblique: "SansOblique", SansBoldOblique: "SansBoldOblique", Mono: "Mono", MonoBold: "MonoBold",
}

// PDFName is the resource name under which the content of forms and pages calls the face.
func (f Face) PDFName() string { return pdfNames[f] }

// Letters are the characters set in each face, which its font must hold: sorted, each once.
type Letters [MonoBold + 1]string

// Add takes in a character.
func (l *Letters) Add(face Face, r rune) {
	if strings.ContainsRune(l[face], r) {
		return
	}
	at := strings.IndexFunc(l[face], func(have rune) bool { return have > r })
	if at < 0 {
		at = len(l[face])
	}
	l[face] = l[face][:at] + string(r) + l[face][at:]
}

// Join takes in the letters of others.
func (l *Letters) Join(others Letters) {
	for face, letters := range others {
		if l[face] == letters {
			continue
		}
		for _, r := range letters {
			l.Add(Face(face), r)
		}
	}
}

// Show appends what sets words in size points from x, y on, in points from the page's
// lower left corner, and takes in their characters. The font's encoding is two bytes for
// each character, its UTF-16; U+FFFD stands for those that need four.
func (l *Letters) Show(out []byte, face Face, size, x, y float64, words string) []byte {
	out = append(append(append(out, "BT /"...), face.PDFName()...), ' ')
	out = append(AppendPDFNumber(out, size, 2), " Tf "...)
	out = append(AppendPDFNumber(out, x, 2), ' ')
	out = append(AppendPDFNumber(out, y, 2), " Td ("...)
	for _, r := range words {
		if r > math.MaxUint16 {
			r = utf8.RuneError
		}
		l.Add(face, r)
		for _, b := range []byte{byte(r >> 8), byte(r)} {
			switch b {
			case '\\', '(', ')':
				out = append(out, '\\', b)
			case '\r': // a reader would take it for a line's end
				out = append(out, `\r`...)
			default:
				out = append(out, b)
			}
		}
	}
	return append(out, ") Tj ET\n"...)
}

// AppendPDFNumber appends a number as PDF writes it, with at most so many decimals, and
// without zeros at the end.
func AppendPDFNumber(out []byte, v float64, decimals int) []byte {
	power := math.Pow10(decimals)
	scaled := math.Round(v * power)
	if !(math.Abs(scaled) < 1<<53) {
		return strconv.AppendFloat(out, v, 'f', decimals, 64) // too large to have decimals
	}
	if scaled < 0 {
		out, scaled = append(out, '-'), -scaled
	}
	whole, rest := uint64(scaled)/uint64(power), uint64(scaled)%uint64(power)
	out = strconv.AppendUint(out, whole, 10)
	if rest == 0 {
		return out
	}
	out = append(out, '.')
	for rest > 0 {
		rest *= 10
		out = append(out, '0'+byte(rest/uint64(power)))
		rest %= uint64(power)
	}
	return out
}
