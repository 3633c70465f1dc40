package cutplan

// Words are what a picture says, in the publication's language. Verbs stand for what
// is put in: numbers by %d, words by %s.
type Words struct {
	Title   string // of one stock's picture
	Another string // of its second picture and those after it: title, number
	Bars    string // what a picture shows: how many bars, of which stock, how many pieces
	Sheets  string // the same of sheets
	Over    string // what is left over
	OnHand  string // a bar or sheet that need not be bought
}

// English are the words in English.
var English = Words{
	Title:   "How %s is cut",
	Another: "%s, picture %d",
	Bars:    "%d bars of %s hold %d pieces; the list of pieces beside the picture gives their sizes.",
	Sheets:  "%d sheets of %s hold %d pieces; the list of pieces beside the picture gives their sizes.",
	Over:    "left over",
	OnHand:  "on hand",
}
