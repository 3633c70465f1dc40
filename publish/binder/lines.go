package binder

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// A piece is a stretch of one of a text's runs: words of its look, or the whole of it where
// it is a symbol or a page number to come.
type piece struct {
	run   int // which of the runs
	words string
	at    int // where the words stand in the run's; negative where they are not found there
}

// A syllable is a stretch of text that is never broken, unless it is longer than
// a line; a line may end after it.
type syllable struct {
	pieces []piece // without the space that follows
	width  float64 // mm, of the pieces
	spaced bool    // a space follows on the same line, absent at a line's end
	space  piece   // that space
	gap    float64 // mm, of the space
	ends   bool    // a forced line end follows
}

// scratch is room for what is not kept: the runs, the syllables and the line of one text at a
// time.
type scratch struct {
	runs      []run
	syllables []syllable
	pieces    []piece
	line      []piece
}

// A textLine is one line of set text.
type textLine struct {
	runs  []run
	width float64
}

// runWidth is a run's length in millimetres.
func (c *composer) runWidth(r *run) float64 {
	switch {
	case r.symbol != 0:
		return symbolWidth(r.symbol, r.style.size)
	case r.page != "":
		return c.fonts.width(c.pagePrefix()+c.digits, r.style.face, r.style.size)
	}
	return c.fonts.width(r.words, r.style.face, r.style.size)
}

// pagePrefix stands before page numbers in text.
func (c *composer) pagePrefix() string { return c.say("p.|before a page number") + string(noBreak) }

// pieceWidth is a piece's length in millimetres.
func (c *composer) pieceWidth(runs []run, p piece) float64 {
	r := &runs[p.run]
	if p.words == "" {
		return c.runWidth(r)
	}
	return c.fonts.width(p.words, r.style.face, r.style.size)
}

// syllables cuts runs where a line may end: at spaces, after hyphens and slashes
// between letters, at invisible breaks. They hold until syllables are asked for again.
func (c *composer) syllables(runs []run) []syllable {
	room := &c.scratch
	room.syllables, room.pieces = room.syllables[:0], room.pieces[:0]
	var now syllable
	from := 0 // in room.pieces
	flush := func() {
		now.pieces = room.pieces[from:len(room.pieces):len(room.pieces)]
		if len(now.pieces) > 0 || now.spaced || now.ends {
			room.syllables = append(room.syllables, now)
		}
		now, from = syllable{}, len(room.pieces)
	}
	put := func(p piece) {
		room.pieces = append(room.pieces, p)
		now.width += c.pieceWidth(runs, p)
	}
	for i := range runs {
		r := &runs[i]
		switch {
		case r.newline:
			now.ends = true
			flush()
		case r.symbol != 0 || r.page != "":
			put(piece{i, "", -1})
		default:
			cut(r.words, func(words string, at int) {
				if strings.Contains(words, string(breakHere)) {
					words, at = strings.ReplaceAll(words, string(breakHere), ""), -1
				}
				if words != "" {
					put(piece{i, words, at})
				}
			}, func(at int) {
				if at >= 0 {
					if r.words[at] != ' ' {
						at = -1 // another kind of space
					}
					now.spaced, now.space = true, piece{i, " ", at}
					now.gap = c.pieceWidth(runs, now.space)
				}
				flush()
			})
		}
	}
	flush()
	return room.syllables
}

// cut hands the unbreakable pieces of words to put, with where they stand, and calls end
// where a line may end, with where a space stands there; negative for none.
func cut(words string, put func(words string, at int), end func(space int)) {
	start := 0
	var before rune
	for at, char := range words {
		if char < utf8.RuneSelf && !mayBreak[char] {
			before = char
			continue
		}
		size := utf8.RuneLen(char)
		switch {
		case spaceLike(char) && !holds(words[:at], words[at+size:]):
			put(words[start:at], start)
			end(at)
			start = at + size
		case char == breakHere || breaksAfter(before, char, words[at+size:]):
			put(words[start:at+size], start)
			end(-1)
			start = at + size
		}
		before = char
	}
	if start < len(words) {
		put(words[start:], start)
	}
}

// mayBreak are the ASCII characters at which a line may end, see spaceLike and breaksAfter.
var mayBreak = [utf8.RuneSelf]bool{' ': true, '-': true, '/': true, '\\': true, '_': true}

// units that stay on the line of their number.
var units = map[string]bool{
	"mm": true, "cm": true, "m": true, "µm": true, "in": true, "ft": true, "kg": true, "g": true, "lb": true, "oz": true,
	"N": true, "kN": true, "lbf": true, "N·m": true, "W": true, "kW": true, "V": true, "A": true, "Ω": true, "Hz": true,
	"°C": true, "°F": true, "K": true, "%": true, "s": true, "min": true, "h": true, "l": true, "ml": true, "MPa": true, "GPa": true,
	"bar": true, "rpm": true, "EUR": true, "USD": true, "GBP": true,
}

// holds reports whether a space belongs to a quantity, within a number (10 000,
// 4 3/4), before its unit or before the sign of multiplication, so that no line
// may end there.
func holds(before, after string) bool {
	if strings.HasPrefix(after, "× ") {
		return true
	}
	last, _ := utf8.DecodeLastRuneInString(before)
	if !unicode.IsDigit(last) {
		return false
	}
	end := strings.IndexFunc(after, func(r rune) bool { return spaceLike(r) || strings.ContainsRune(",;:.)]", r) })
	word := after
	if end >= 0 {
		word = after[:end]
	}
	first, _ := utf8.DecodeRuneInString(word)
	if unicode.IsDigit(first) {
		// A fraction or a group of three digits goes on with the number.
		return strings.Contains(word, "/") || len(word) == 3
	}
	return units[word]
}

// breaksAfter reports whether a line may end after char: a hyphen or dash
// between letters, or a slash, but never before a number's sign or at the end of
// the run, where punctuation of the next run may follow.
func breaksAfter(before, char rune, rest string) bool {
	next, _ := utf8.DecodeRuneInString(rest)
	if rest == "" {
		return false
	}
	word := func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }
	switch char {
	case '-', '\u2010', '\u2013', '\u2014':
		return word(before) && unicode.IsLetter(next)
	case '/', '\\', '_':
		// A fraction such as 3/8 stays whole.
		return word(next) && !(unicode.IsDigit(before) && unicode.IsDigit(next)) && before != 0
	}
	return false
}

// setLines breaks runs into lines no longer than width millimetres.
func (c *composer) setLines(runs []run, width float64) []textLine {
	var lines []textLine
	room := &c.scratch
	now, long := room.line[:0], 0.0
	var space *piece
	gap := 0.0
	flush := func() {
		lines = append(lines, textLine{runsOf(runs, now), long})
		room.line = now[:0]
		now, long, space, gap = room.line, 0, nil, 0
	}
	add := func(s *syllable) {
		if len(now) > 0 && long+gap+s.width > width+tolerance {
			flush()
		}
		if len(now) > 0 && space != nil {
			now, long = append(now, *space), long+gap
		}
		now, long = append(now, s.pieces...), long+s.width
		space, gap = nil, s.gap
		if s.spaced {
			space = &s.space
		}
		if s.ends {
			flush()
		}
	}
	syllables := c.syllables(runs)
	for i := range syllables {
		if s := &syllables[i]; s.width <= width+tolerance {
			add(s)
			continue
		}
		parts := c.fitting(runs, syllables[i], width)
		for n := range parts {
			add(&parts[n])
		}
	}
	if len(now) > 0 {
		flush()
	}
	return lines
}

// runsOf are the runs that pieces of others make, those that go on in the same look as one.
func runsOf(runs []run, pieces []piece) []run {
	goesOn := func(a, b piece) bool {
		return a.words != "" && b.words != "" && (a.run == b.run || sameStyle(&runs[a.run], &runs[b.run]))
	}
	n := 0
	for i := range pieces {
		if i == 0 || !goesOn(pieces[i-1], pieces[i]) {
			n++
		}
	}
	out := make([]run, 0, n)
	for i := 0; i < len(pieces); {
		end := i + 1
		for end < len(pieces) && goesOn(pieces[end-1], pieces[end]) {
			end++
		}
		out = append(out, runs[pieces[i].run])
		out[len(out)-1].words = wordsOfAll(runs, pieces[i:end])
		i = end
	}
	return out
}

// wordsOfAll are the words of pieces one after the other: those of the run itself where they
// follow each other there.
func wordsOfAll(runs []run, pieces []piece) string {
	first := pieces[0]
	end, follow := first.at, first.at >= 0
	for _, p := range pieces {
		follow = follow && p.run == first.run && p.at == end
		end += len(p.words)
	}
	if follow {
		return runs[first.run].words[first.at:end]
	}
	var words strings.Builder
	for _, p := range pieces {
		words.WriteString(p.words)
	}
	return words.String()
}

// merged are runs with those that go on in the same look as one.
func merged(runs []run) []run {
	pieces := make([]piece, len(runs))
	for i, r := range runs {
		pieces[i] = piece{i, r.words, -1}
	}
	return runsOf(runs, pieces)
}

// tolerance absorbs rounding where lengths are compared, in millimetres.
const tolerance = 1e-6

// fitting cuts a syllable that is longer than a line into ones that are not,
// never before a combining mark.
func (c *composer) fitting(runs []run, s syllable, width float64) []syllable {
	var out []syllable
	var now syllable
	put := func(p piece) {
		w := c.pieceWidth(runs, p)
		if len(now.pieces) > 0 && now.width+w > width+tolerance {
			out, now = append(out, now), syllable{}
		}
		now.pieces, now.width = append(now.pieces, p), now.width+w
	}
	for _, p := range s.pieces {
		if p.words == "" {
			put(p)
			continue
		}
		at := p.at
		for _, cluster := range clusters(p.words) {
			put(piece{p.run, cluster, at})
			if at >= 0 {
				at += len(cluster)
			}
		}
	}
	now.spaced, now.space, now.gap, now.ends = s.spaced, s.space, s.gap, s.ends
	return append(out, now)
}

// clusters cuts words into letters with their combining marks.
func clusters(words string) []string {
	var out []string
	start := 0
	for at, r := range words {
		if at > start && !unicode.Is(unicode.M, r) {
			out, start = append(out, words[start:at]), at
		}
	}
	return append(out, words[start:])
}

// sameLook reports whether b can be printed as the continuation of a.
func sameLook(a, b *run) bool {
	return a.words != "" && b.words != "" && sameStyle(a, b)
}

// sameStyle reports whether two runs differ only in their words.
func sameStyle(a, b *run) bool { return a.style == b.style && a.link == b.link && a.rise == b.rise }

// natural is the length of runs set on one line, and the length of the longest
// part that is never broken, both in millimetres.
func (c *composer) natural(runs []run) (whole, longest float64) {
	lineLength := 0.0
	for _, s := range c.syllables(runs) {
		lineLength += s.width
		longest, whole = max(longest, s.width), max(whole, lineLength)
		lineLength += s.gap
		if s.ends {
			lineLength = 0
		}
	}
	return whole, longest
}

// lineMarks are the marks of a line that starts at x and stands on baseline y.
func (c *composer) lineMarks(l textLine, x, y float64) []mark {
	var marks []mark
	for _, r := range l.runs {
		if r.page != "" {
			return []mark{lateLine{x, y, l}}
		}
	}
	runs := l.runs
	for i := range runs[:max(0, len(runs)-1)] {
		if sameLook(&runs[i], &runs[i+1]) { // of a line that was not broken out of a text
			runs = merged(runs)
			break
		}
	}
	for _, r := range runs {
		if strings.ContainsRune(r.words, noBreak) {
			r.words = strings.ReplaceAll(r.words, string(noBreak), " ")
		}
		w := c.runWidth(&r)
		switch {
		case r.symbol != 0:
			marks = append(marks, symbolMark{x, y - r.rise, r.symbol, r.style})
		case strings.TrimSpace(r.words) != "":
			marks = append(marks, textMark{x, y - r.rise, r.words, r.style})
		}
		if r.leads() {
			em := r.style.size * mmPerPoint
			marks = append(marks, linkMark{rect{x, y - r.rise - ascent*em, w, (ascent + descent) * em}, r.link})
		}
		x += w
	}
	return marks
}
