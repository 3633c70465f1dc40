package check

import (
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

// A typed quantity is a number with a unit that an author wrote into a text, and
// the value of the plan that it seems to repeat.
type typed struct {
	at      finding.Span
	words   string         // as typed
	is      quantity.Value // what the text says
	name    string         // the plan's value, as a formula names it
	value   quantity.Value
	agrees  bool
	subject string
}

// A known value is one that a text could print instead of typing it.
type known struct {
	name   string
	value  quantity.Value
	tokens []string // words of its name; a sentence that holds all of them speaks of it
	weight int      // how far its number alone points to it: see the weights
}

// The weights of a known value: a plan's values are what authors type most; of
// results only an equal number is telling; sizes of parts are so many that a number
// alone tells nothing.
const (
	needsName = iota
	equalTells
	nearTells
)

const (
	// nearNamed is the share by which a number may differ from a value that its
	// sentence names and still be taken for a stale copy of it.
	nearNamed = 0.25
	// nearAlone is the same where nothing but the number itself points to the value.
	nearAlone = 0.01
	// mostTyped bounds how many numbers of a whole plan are looked at: far more than
	// people write, few enough to stay quick.
	mostTyped = 5000
	// tellingDigits are how many digits make a number telling without a name.
	tellingDigits = 3
)

// typed finds the quantities typed into texts that repeat values of the plan, once.
func (w *Work) typed() []typed {
	if w.typedDone {
		return w.typedFound
	}
	w.typedDone = true
	pool := w.known()
	looked := 0
	for _, p := range w.mentions().passages {
		if p.value != nil {
			continue // a value's own words
		}
		for _, at := range literals(p.plain) {
			if looked++; looked > mostTyped {
				return w.typedFound
			}
			sentence := sentenceTokens(p.text.Value, at.offset)
			best := nearest(at, pool, sentence)
			if best == nil {
				continue
			}
			w.typedFound = append(w.typedFound, typed{
				at: p.text.Place(at.offset, at.length), words: p.text.Value[at.offset : at.offset+at.length],
				is: at.value, name: best.name, value: best.value, agrees: at.agrees(best.value), subject: p.subject(),
			})
		}
	}
	return w.typedFound
}

// known are the plan's values and results under every choice, the default's first.
func (w *Work) known() []known {
	var pool []known
	type entry struct {
		name string
		si   float64
	}
	seen := map[entry]bool{}
	for _, s := range w.Combinations() {
		add := func(weight int, name string, tokens ...string) {
			v, err := s.Reckoning.Scope().Lookup(name)
			if err != nil || v.Is(quantity.Pure) || v.SI == 0 || seen[entry{name, v.SI}] {
				return
			}
			seen[entry{name, v.SI}] = true
			pool = append(pool, known{name, v, idTokens(tokens...), weight})
		}
		for _, v := range w.Plan.Values {
			add(nearTells, v.ID.Text, v.ID.Text)
		}
		for _, c := range s.Calcs {
			for _, f := range c.Calc.Finds {
				add(equalTells, c.Calc.ID.Text+"."+f.Name.Text, f.Name.Text)
			}
		}
		for _, p := range w.Plan.Parts {
			for _, h := range p.Has {
				add(needsName, p.ID.Text+"."+h.Name.Text, p.ID.Text, h.Name.Text)
			}
			if p.Length.Given() {
				add(needsName, p.ID.Text+".length", p.ID.Text, "length")
			}
		}
	}
	return pool
}

// idTokens are the words of ids.
func idTokens(ids ...string) []string {
	return strings.Fields(strings.ReplaceAll(strings.Join(ids, " "), "_", " "))
}

// A literal is a quantity found in a text.
type literal struct {
	offset, length int // bytes
	value          quantity.Value
	half           float64 // half a unit of its last digit, in SI
	digits         int     // significant ones
}

// agrees reports whether a value, printed with as many digits, gives the literal.
func (l literal) agrees(v quantity.Value) bool {
	return math.Abs(l.value.SI-v.SI) <= l.half*(1+1e-9)
}

// mostLiterals bounds how many numbers of one text are looked at: no page for people
// holds more, and a hostile one could make each of them costly.
const mostLiterals = 300

// literals are the numbers with a unit in a text.
func literals(text string) []literal {
	var list []literal
	last := rune(' ')
	for i := 0; i < len(text) && len(list) < mostLiterals; {
		r, size := utf8.DecodeRuneInString(text[i:])
		if r < '0' || r > '9' || joins(last) {
			last = r
			i += size
			continue
		}
		end := i
		l, length, ok := scanQuantity(text[i:])
		if ok {
			l.offset = i
			list = append(list, l)
			end = i + length
		} else {
			for end < len(text) && (text[end] >= '0' && text[end] <= '9' || text[end] == '.' || text[end] == ',') {
				end++
			}
		}
		last = rune(text[end-1])
		i = end
	}
	return list
}

// joins reports whether a number right behind r is part of something larger: a
// designation, a range, another number.
func joins(r rune) bool {
	return unicode.IsLetter(r) || unicode.IsDigit(r) || strings.ContainsRune(".,×/-–_:#", r)
}

// longestLiteral bounds how far a quantity is looked for.
const longestLiteral = 60

// scanQuantity reads the quantity at the start of text; ok is false where there is
// none with a unit.
func scanQuantity(text string) (l literal, length int, ok bool) {
	runes := []rune(text[:min(len(text), 4*longestLiteral)])
	if len(runes) > longestLiteral {
		runes = runes[:longestLiteral]
	}
	scanned, failed := quantity.Scan(runes)
	if failed != nil || scanned.Length == 0 || scanned.Value.Unit == "" || scanned.Value.Is(quantity.Pure) {
		return l, 0, false
	}
	length = len(string(runes[:scanned.Length]))
	if next, _ := utf8.DecodeRuneInString(text[length:]); unicode.IsLetter(next) || next == '×' {
		return l, 0, false
	}
	number := strings.TrimRight(text[:digitsEnd(text)], ".,")
	unit, err := quantity.ParseUnit(scanned.Value.Unit)
	if err != nil {
		return l, 0, false
	}
	l = literal{length: length, value: scanned.Value.Nominal(), digits: significant(number), half: unit.Factor / 2}
	if point := strings.IndexByte(number, '.'); point >= 0 {
		l.half *= math.Pow(10, -float64(len(number)-point-1))
	}
	if strings.Contains(text[:length], "/") {
		l.half = math.Abs(l.value.SI) * 1e-6 // a fraction of an inch means what it says
	}
	return l, length, true
}

func digitsEnd(text string) int {
	for i := range len(text) {
		if (text[i] < '0' || text[i] > '9') && text[i] != '.' {
			return i
		}
	}
	return len(text)
}

// significant counts the digits of a number that say something: those before
// trailing zeros.
func significant(number string) int {
	digits := strings.TrimLeft(strings.ReplaceAll(number, ".", ""), "0")
	if !strings.Contains(number, ".") {
		digits = strings.TrimRight(digits, "0")
	}
	return len(digits)
}

// nearest is the value that a literal most likely repeats; nil for none.
func nearest(l literal, pool []known, sentence map[string]bool) *known {
	var best *known
	bestOff, bestRank := 0.0, 0
	for i := range pool {
		k := &pool[i]
		if !k.value.Is(l.value.Dim) || k.value.Currency != l.value.Currency {
			continue
		}
		named := true
		for _, t := range k.tokens {
			named = named && sentence[t]
		}
		off := math.Abs(l.value.SI-k.value.SI) / math.Abs(k.value.SI)
		agrees := l.agrees(k.value)
		rank := 0
		switch {
		case named && agrees:
			rank = 4
		case k.weight >= equalTells && agrees && off < 1e-9 && l.digits >= tellingDigits:
			rank = 3
		case named && off <= nearNamed:
			rank = 2
		case k.weight >= nearTells && off <= nearAlone && l.digits >= tellingDigits:
			rank = 1
		}
		if rank > bestRank || rank == bestRank && rank > 0 && off < bestOff {
			best, bestOff, bestRank = k, off, rank
		}
	}
	return best
}

// sentenceTokens are the words, in small letters, of the sentence around a place,
// names in braces taken apart.
func sentenceTokens(text string, offset int) map[string]bool {
	start, end := sentenceAt(text, offset)
	tokens := map[string]bool{}
	for _, t := range strings.FieldsFunc(strings.ToLower(text[start:end]), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }) {
		tokens[t] = true
	}
	return tokens
}

// longestSentence bounds, in bytes to either side, where a sentence is looked for.
const longestSentence = 500

// sentenceAt is the stretch of the sentence around a place.
func sentenceAt(text string, offset int) (start, end int) {
	start, end = max(0, offset-longestSentence), min(len(text), offset+longestSentence)
	before, after := text[start:offset], text[offset:end]
	from := start
	for _, stop := range []string{". ", ".\n", "? ", "! ", "\n\n", "; "} {
		if i := strings.LastIndex(before, stop); i >= 0 {
			start = max(start, from+i+len(stop))
		}
		if i := strings.Index(after, stop); i >= 0 {
			end = min(end, offset+i)
		}
	}
	return start, end
}

// subject is how a waiver names what a text belongs to.
func (in setting) subject() string {
	switch {
	case in.step != nil:
		return stepSubject(in.assembly, in.step)
	case in.assembly != nil:
		return in.assembly.ID.Text
	case in.part != nil:
		return in.part.ID.Text
	case in.calc != nil:
		return in.calc.ID.Text
	case in.page != nil:
		return in.page.ID.Text
	case in.hazard != nil:
		return in.hazard.ID.Text
	case in.drawing != nil:
		return in.drawing.ID.Text
	}
	return "plan"
}

// fits reports whether what a text belongs to exists in a case.
func (in setting) fits(options plan.Selection) bool {
	return (in.step == nil || in.step.Only.Fits(options)) && (in.page == nil || in.page.Only.Fits(options)) &&
		(in.calc == nil || in.calc.Only.Fits(options)) && (in.hazard == nil || in.hazard.Only.Fits(options))
}
