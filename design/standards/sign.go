package standards

import "sync"

// A Sign is a registered safety sign.
type Sign struct {
	Code    string // "W024"
	Kind    string // "warning", "mandatory", "prohibition", "safe condition", "fire equipment"
	Name    string // its registered title
	Meaning string // in our own words, "" where the name says it
}

// Signs returns every sign in the order of the table: by kind, then by code.
func Signs() []Sign {
	return append([]Sign(nil), signs()...)
}

// SignByCode finds a sign, false when the table lacks it. Source: ISO 7010.
func SignByCode(code string) (Sign, bool) {
	for _, sign := range signs() {
		if sign.Code == code {
			return sign, true
		}
	}
	return Sign{}, false
}

var signs = sync.OnceValue(func() []Sign {
	var all []Sign
	for _, r := range readTable("safety-signs").rows {
		all = append(all, Sign{Code: r.text("code"), Kind: r.text("kind"), Name: r.text("name"), Meaning: r.text("meaning")})
	}
	return all
})

// A SignalWord heads a caution. Colours are "#RRGGBB", chosen here after the
// safety colours that the standard names.
type SignalWord struct {
	Word     string // "WARNING"
	Meaning  string // when to use it, in our own words
	Panel    string // colour behind the word
	Letters  string // colour of the word
	Triangle bool   // whether the alert triangle stands beside it
}

// SignalWords returns the signal words, gravest first.
// Sources: ANSI Z535.4 and Z535.6, ISO 3864-2.
func SignalWords() []SignalWord {
	return append([]SignalWord(nil), signalWords()...)
}

// SignalWordByName finds a signal word, false when there is none.
func SignalWordByName(word string) (SignalWord, bool) {
	for _, signal := range signalWords() {
		if signal.Word == word {
			return signal, true
		}
	}
	return SignalWord{}, false
}

var signalWords = sync.OnceValue(func() []SignalWord {
	var all []SignalWord
	for _, r := range readTable("signal-words").rows {
		all = append(all, SignalWord{
			Word: r.text("word"), Meaning: r.text("meaning"), Panel: r.text("panel"),
			Letters: r.text("letters"), Triangle: r.text("triangle") == "yes",
		})
	}
	return all
})

// A SafetyColour is a colour of safety signs.
type SafetyColour struct {
	Name   string // "safety yellow"
	RAL    string // "RAL 1003"
	Screen string // "#RRGGBB", as colour charts commonly give the shade
}

// SafetyColours returns the safety and contrast colours. Source: ISO 3864-4.
func SafetyColours() []SafetyColour {
	return append([]SafetyColour(nil), safetyColours()...)
}

var safetyColours = sync.OnceValue(func() []SafetyColour {
	var all []SafetyColour
	for _, r := range readTable("safety-colours").rows {
		all = append(all, SafetyColour{Name: r.text("colour"), RAL: r.text("ral"), Screen: r.text("screen")})
	}
	return all
})

// A LaserClass says how dangerous a laser product is.
type LaserClass struct {
	Class   string // "3B"
	Name    string // "Class 3B"
	Meaning string // in our own words
}

// LaserClasses returns the classes, least dangerous first. Source: IEC 60825-1.
func LaserClasses() []LaserClass {
	return append([]LaserClass(nil), laserClasses()...)
}

// LaserClassByName finds a class such as "3B", false when there is none.
func LaserClassByName(class string) (LaserClass, bool) {
	for _, known := range laserClasses() {
		if known.Class == class {
			return known, true
		}
	}
	return LaserClass{}, false
}

var laserClasses = sync.OnceValue(func() []LaserClass {
	var all []LaserClass
	for _, r := range readTable("laser-classes").rows {
		all = append(all, LaserClass{Class: r.text("class"), Name: r.text("name"), Meaning: r.text("meaning")})
	}
	return all
})
