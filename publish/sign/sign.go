package sign

import (
	"sort"
	"strings"
	"sync"

	"plansheaf/publish/picture"
	"plansheaf/themes"
)

// meanings gives the referents of ISO 7010 in short. Codes without a symbol file
// are not listed; a test holds both lists together.
var meanings = map[string]string{
	"W001": "General warning",
	"W004": "Laser beam",
	"W006": "Magnetic field",
	"W007": "Floor-level obstacle",
	"W008": "Drop",
	"W010": "Low temperature",
	"W011": "Slippery surface",
	"W012": "Electricity",
	"W015": "Overhead load",
	"W016": "Toxic material",
	"W017": "Hot surface",
	"W018": "Automatic start-up",
	"W019": "Crushing",
	"W020": "Overhead obstacle",
	"W021": "Flammable material",
	"W022": "Sharp element",
	"W023": "Corrosive substance",
	"W024": "Crushing of hands",
	"W025": "Counterrotating rollers",
	"W027": "Optical radiation",
	"W029": "Pressurized cylinder",
	"W035": "Falling objects",
	"W038": "Sudden loud noise",
	"M001": "General mandatory action",
	"M002": "Refer to instruction manual",
	"M003": "Wear ear protection",
	"M004": "Wear eye protection",
	"M005": "Connect an earth terminal to the ground",
	"M006": "Disconnect mains plug",
	"M008": "Wear safety footwear",
	"M009": "Wear protective gloves",
	"M010": "Wear protective clothing",
	"M014": "Wear head protection",
	"M016": "Wear a mask",
	"M017": "Wear respiratory protection",
	"M021": "Disconnect before maintenance",
	"M026": "Use protective apron",
	"M028": "Keep locked",
	"P001": "General prohibition",
	"P003": "No open flame",
	"P010": "Do not touch",
	"P015": "No reaching in",
	"P028": "Do not wear gloves",
	"E003": "First aid",
	"E020": "Emergency stop",
	"F001": "Fire extinguisher",
}

// Codes lists the signs that can be drawn, sorted.
func Codes() []string {
	codes := make([]string, 0, len(meanings))
	for code := range meanings {
		codes = append(codes, code)
	}
	sort.Strings(codes)
	return codes
}

// Meaning is what the sign says, in short: "Crushing of hands". It is empty for
// a code that cannot be drawn.
func Meaning(code string) string { return meanings[code] }

// Nearest is code itself when it can be drawn, or else the general sign of its
// category: W001, M001 or P001. Anything else, the empty code too, is W001.
func Nearest(code string) string {
	if _, known := meanings[code]; known {
		return code
	}
	switch {
	case strings.HasPrefix(code, "M"):
		return "M001"
	case strings.HasPrefix(code, "P"):
		return "P001"
	}
	return "W001"
}

// Alt says what a sign is for those who cannot see it: "Warning sign: crushing
// of hands".
func Alt(code string) string {
	meaning := Meaning(code)
	if meaning == "" {
		return ""
	}
	return categories[code[0]].name + " sign: " + strings.ToLower(meaning[:1]) + meaning[1:]
}

// Picture is the sign of that code in a square of size millimetres, named
// "signs/W024". It reports false for a code that is not in Codes, and for a size
// that is not positive.
func Picture(code string, size float64) (*picture.Picture, bool) {
	if _, known := meanings[code]; !known || !(size > 0) {
		return nil, false
	}
	symbol, err := symbols()
	if err != nil {
		// The symbols are part of the program: a test reads every one.
		panic(err)
	}
	frame := categories[code[0]]
	marks := append(frame.marks(), paint(symbol[code], frame)...)
	if frame.over != nil {
		marks = append(marks, frame.over()...)
	}
	scale := size / span
	return &picture.Picture{
		Name:        "signs/" + code,
		Title:       Meaning(code),
		Description: Alt(code) + " (ISO 7010 " + code + ")",
		Width:       size,
		Height:      size,
		Group:       wide * scale,
		Marks:       resize(marks, scale),
	}, true
}

// symbols reads all symbol files once: code to strokes.
var symbols = sync.OnceValues(func() (map[string][]stroke, error) {
	read := map[string][]stroke{}
	for _, code := range Codes() {
		data, err := themes.Signs.ReadFile("signs/" + code + ".svg")
		if err != nil {
			return nil, err
		}
		if read[code], err = readSymbol(data); err != nil {
			return nil, err
		}
	}
	return read, nil
})

// paint turns strokes into marks in the colours of a frame.
func paint(strokes []stroke, frame category) []picture.Mark {
	marks := make([]picture.Mark, len(strokes))
	for i, s := range strokes {
		colour := frame.symbol
		if s.ground {
			colour = frame.ground
		}
		if s.line == picture.NoLine {
			marks[i] = picture.Path{Curves: s.curves, Fill: colour}
		} else {
			marks[i] = picture.Path{Curves: s.curves, Line: s.line, Ink: colour}
		}
	}
	return marks
}

// resize scales the marks of a sign, which are all paths.
func resize(marks []picture.Mark, scale float64) []picture.Mark {
	for i, m := range marks {
		path := m.(picture.Path)
		path.Curves = picture.MoveCurves(path.Curves, scale, picture.Point{})
		marks[i] = path
	}
	return marks
}
